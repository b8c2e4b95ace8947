package music_test

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

func TestReadTransposition(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name   string
		xml    string
		fifths int
		want   music.Transposition
		why    string
	}{
		{"clarinet in B flat", `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`, 0,
			music.Transposition{Diatonic: -1, Chromatic: -2}, "MusicXML 4.0, transpose"},
		{"bass clarinet", `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose>`, 0,
			music.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: -1}, "MusicXML 4.0, octave-change"},
		{"part-transpose", `<part-transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></part-transpose>`, 0,
			music.Transposition{Diatonic: -4, Chromatic: -7}, "the same group of elements"},
		{"respelled", `<transpose><diatonic>-1</diatonic><chromatic>-3</chromatic></transpose>`, 3,
			music.Transposition{Diatonic: -1, Chromatic: -3}, "the diatonic value says that the twin was taken"},
		{"whole semitones as decimals", `<transpose><chromatic>-2.0</chromatic></transpose>`, 0,
			music.Transposition{Diatonic: -1, Chromatic: -2}, "MusicXML 4.0, semitones: a decimal"},
		{"blank and padded", "<transpose><diatonic>\n -1 </diatonic><chromatic> -2\t</chromatic></transpose>", 0,
			music.Transposition{Diatonic: -1, Chromatic: -2}, "white space is no part of a number (XML Schema, whiteSpace collapse)"},
		{"no diatonic, B flat", `<transpose><chromatic>-2</chromatic></transpose>`, 0,
			music.Transposition{Diatonic: -1, Chromatic: -2}, "trade/transpositions.csv"},
		{"no diatonic, E flat", `<transpose><chromatic>-9</chromatic></transpose>`, 0,
			music.Transposition{Diatonic: -5, Chromatic: -9}, "trade/transpositions.csv"},
		{"no diatonic, octave", `<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>`, 0,
			music.Transposition{OctaveChange: -1}, "trade/transpositions.csv"},
		{"no diatonic, tritone in flats", `<transpose><chromatic>6</chromatic></transpose>`, -3,
			music.Transposition{Diatonic: 3, Chromatic: 6}, "E flat to A (three sharps), rather than to B double flat"},
		{"no diatonic, tritone in sharps", `<transpose><chromatic>6</chromatic></transpose>`, 3,
			music.Transposition{Diatonic: 4, Chromatic: 6}, "A to E flat (three flats), rather than to D sharp"},
		{"diatonic that cannot be meant", `<transpose><diatonic>-1</diatonic><chromatic>-14</chromatic></transpose>`, 0,
			music.Transposition{Diatonic: -8, Chromatic: -14}, "an octave left out of one number alone; semitones are what sounds"},
	}
	for semitones, steps := range []int{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6, 7, 8, 8} { // minor and major intervals, the fourth, its augmented, the fifth (theory)
		got, err := music.ReadTransposition(musicxmltest.Element(t, fmt.Sprintf(`<transpose><chromatic>%d</chromatic></transpose>`, semitones)), 0)
		require.NoError(t, err)
		assert.Equal(t, music.Transposition{Diatonic: steps, Chromatic: semitones}, got)
	}
	for text, ok := range map[string]bool{"120": true, "-120": true, "121": false, "-121": false} {
		_, err := music.ReadTransposition(musicxmltest.Element(t, `<transpose><chromatic>`+text+`</chromatic></transpose>`), 0)
		assert.Equal(t, ok, err == nil, text)
		if !ok {
			assert.EqualError(t, err, `<chromatic> "`+text+`" of a transposition is not a usable whole number`)
		}
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			got, err := music.ReadTransposition(musicxmltest.Element(t, row.xml), row.fifths)
			require.NoError(t, err)
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

func TestReadTranspositionRefuses(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, xml, why string }{
		{"half a semitone", `<transpose><chromatic>-1.5</chromatic></transpose>`, "no letter and sign undo it"},
		{"words", `<transpose><chromatic>minus two</chromatic></transpose>`, "not a number"},
		{"too far", `<transpose><chromatic>2000</chromatic></transpose>`, "past anything that sounds"},
		{"diatonic of words", `<transpose><diatonic>x</diatonic><chromatic>2</chromatic></transpose>`, "not a number"},
		{"octaves of words", `<transpose><chromatic>2</chromatic><octave-change>one</octave-change></transpose>`, "not a number"},
		{"octaves without end", `<transpose><chromatic>2</chromatic><octave-change>99999999999999999999</octave-change></transpose>`, "past anything that sounds"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := music.ReadTransposition(musicxmltest.Element(t, row.xml), 0)
			assert.Error(t, err, row.why)
		})
	}
}

// Where <diatonic> is absent, the semitones of every published transposition
// must give its letter steps again.
func TestStepsOfPublishedTranspositions(t *testing.T) {
	t.Parallel()
	for _, row := range musicxmltest.TradeTable(t, "transpositions.csv") {
		number := func(column string) int {
			n, err := strconv.Atoi(row[column])
			require.NoError(t, err)
			return n
		}
		want := music.Transposition{
			Diatonic: number("diatonic_steps"), Chromatic: number("chromatic_semitones"), OctaveChange: number("octave_change")}
		e := etree.NewElement("transpose")
		want.Write(e)
		require.NotNil(t, e.SelectElement("diatonic"))
		e.RemoveChild(e.SelectElement("diatonic"))
		got, err := music.ReadTransposition(e, 0)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%s [%s]", row["instrument"], row["source"])
	}
}

func TestWriteTransposition(t *testing.T) {
	t.Parallel()
	e := musicxmltest.Element(t, `<transpose><chromatic>2</chromatic><octave-change>1</octave-change><double/></transpose>`)
	music.Transposition{Diatonic: -1, Chromatic: -2}.Write(e)
	assert.Equal(t, `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><double/></transpose>`, xmlOf(t, e),
		"octave-change only from an octave on (MusicXML 4.0, transpose); <double> stays")
	music.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: -1}.Write(e)
	assert.Equal(t, `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change><double/></transpose>`, xmlOf(t, e),
		"the schema's order")
}

func TestConcertTransposition(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name     string
		of, want music.Transposition
		octaves  bool
		why      string
	}{
		{"flute", music.Transposition{}, music.Transposition{}, true, "sounds as written"},
		{"piccolo", music.Transposition{OctaveChange: 1}, music.Transposition{OctaveChange: 1}, true,
			"stays at its written octave (trade/notation-rules.md §12)"},
		{"double bass, octave folded in", music.Transposition{Diatonic: -7, Chromatic: -12}, music.Transposition{Diatonic: -7, Chromatic: -12}, true,
			"the same said another way"},
		{"clarinet in B flat", music.Transposition{Diatonic: -1, Chromatic: -2}, music.Transposition{}, false, "sounding pitch"},
		{"bass clarinet", music.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: -1}, music.Transposition{}, false,
			"sounding pitch, octave included (MusicXML 4.0, concert-score, its example)"},
		{"respelled flute", music.Transposition{Diatonic: 1}, music.Transposition{}, false, "a diminished second is no octave"},
		{"an octave that is not one", music.Transposition{Diatonic: 7, Chromatic: 13}, music.Transposition{}, false, "an augmented octave"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, row.of.InConcert(), row.why)
			assert.Equal(t, row.octaves, row.of.OctaveOnly(), row.why)
		})
	}
}

// What an interval comes to as MusicXML says it: steps and semitones within an octave,
// octaves apart (MusicXML 4.0, transpose).
func TestTranspositionBy(t *testing.T) {
	t.Parallel()
	rows := []struct {
		by   string
		want music.Transposition
	}{
		{"perfect unison", music.Transposition{}},
		{"major second down", music.Transposition{Diatonic: -1, Chromatic: -2}},
		{"major ninth down", music.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: -1}},
		{"octave up", music.Transposition{OctaveChange: 1}},
		{"major seventh up", music.Transposition{Diatonic: 6, Chromatic: 11}},
		{"two octaves and a minor third up", music.Transposition{Diatonic: 2, Chromatic: 3, OctaveChange: 2}},
		{"major thirteenth down", music.Transposition{Diatonic: -5, Chromatic: -9, OctaveChange: -1}},
	}
	for _, row := range rows {
		by, err := pitch.ParseInterval(row.by)
		require.NoError(t, err)
		got := music.TranspositionBy(by)
		assert.Equal(t, row.want, got, row.by)
		assert.Equal(t, by, got.Interval(), row.by)
	}
}

// What some instrument might do, and what none does. An interval in use, or its
// enharmonic twin, moves a key by eighteen fifths at most: a tritone by six, and the
// twin by twelve more (trade/notation-rules.md §6).
func TestInUse(t *testing.T) {
	t.Parallel()
	rows := []struct {
		of   music.Transposition
		want bool
		why  string
	}{
		{music.Transposition{}, true, "a flute"},
		{music.Transposition{Diatonic: -1, Chromatic: -2}, true, "a clarinet in B flat"},
		{music.Transposition{Diatonic: 1}, true, "respelled, twelve fifths"},
		{music.Transposition{Diatonic: 3, Chromatic: 6}, true, "a tritone, six fifths"},
		{music.Transposition{Diatonic: 2, Chromatic: 6}, true, "its twin, eighteen fifths"},
		{music.Transposition{Diatonic: -2, Chromatic: -6}, true, "the other way"},
		{music.Transposition{Diatonic: -1, Chromatic: 1}, false, "nineteen fifths"},
		{music.Transposition{Diatonic: 1, Chromatic: -1}, false, "the other way"},
		{music.Transposition{Diatonic: 70, Chromatic: 120}, true, "ten octaves"},
		{music.Transposition{Diatonic: -71, Chromatic: -121}, false, "past all instruments"},
		{music.Transposition{Diatonic: 120, Chromatic: 108, OctaveChange: 100}, false, "steps and semitones that do not go together"},
		{music.Transposition{OctaveChange: -120}, true, "octaves are believed as far"},
		{music.Transposition{OctaveChange: 121}, false, "and no further"},
		{music.Transposition{Diatonic: 121, Chromatic: 0, OctaveChange: -17}, false, "steps past all bounds"},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, row.of.InUse(), row.why)
	}
}

// Letter steps further from the plain interval than two twins cannot be meant.
func TestStepsThatCannotBeMeant(t *testing.T) {
	t.Parallel()
	rows := []struct{ diatonic, chromatic, want int }{
		{1, 6, 1}, {-1, -6, -1}, // thirty fifths away are believed
		{-2, 1, 1}, {2, -1, -1}, // thirty-one are not
		{120, 120, 70}, {-120, -120, -70},
	}
	for _, row := range rows {
		e := musicxmltest.Element(t, fmt.Sprintf("<transpose><diatonic>%d</diatonic><chromatic>%d</chromatic></transpose>", row.diatonic, row.chromatic))
		got, err := music.ReadTransposition(e, 0)
		require.NoError(t, err)
		assert.Equal(t, music.Transposition{Diatonic: row.want, Chromatic: row.chromatic}, got)
	}
	for _, bad := range []string{"121", "-121", "0.5", "x"} {
		for _, tag := range []string{"diatonic", "chromatic", "octave-change"} {
			_, err := music.ReadTransposition(musicxmltest.Element(t, fmt.Sprintf("<transpose><%s>%s</%s></transpose>", tag, bad, tag)), 0)
			assert.EqualError(t, err, fmt.Sprintf("<%s> %q of a transposition is not a usable whole number", tag, bad))
		}
	}
}
