package engraving_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// signsOf lists the printed accidentals of a voice, "-" for none.
func signsOf(m *engraving.Music, bar int) string {
	var list []string
	for _, e := range m.Staves[0].Measures[bar].Voices[0].Events {
		sign := "-"
		if a := e.Notes[0].Accidental; a != nil {
			sign = a.Sign
		}
		list = append(list, sign)
	}
	return strings.Join(list, " ")
}

func TestPrintAccidentals(t *testing.T) {
	t.Parallel()
	q := engraving.Quarter
	for _, row := range []struct {
		name, why string
		fifths    int
		events    []engraving.Event
		want      string
	}{
		{"in the signature", "F sharp in G major needs none", 1, []engraving.Event{event(q, 3, 4, 1)}, "-"},
		{"against it", "F natural in G major needs one", 1, []engraving.Event{event(q, 3, 4, 0)}, "natural"},
		{"held through the bar", "it holds to the end of the measure (notation-rules.md §2)", 0,
			[]engraving.Event{event(q, 0, 5, 1), event(q, 1, 5, 0), event(q, 0, 5, 1)}, "sharp - -"},
		{"taken back", "a natural within the bar", 0, []engraving.Event{event(q, 0, 5, 1), event(q, 0, 5, 0)}, "sharp natural"},
		{"other octave", "it holds only in its own octave (notation-rules.md §2)", 0,
			[]engraving.Event{event(q, 0, 5, 1), event(q, 0, 4, 1)}, "sharp sharp"},
		{"single after double", "the single sign alone restores (notation-rules.md §2)", 0,
			[]engraving.Event{event(q, 3, 4, 2), event(q, 3, 4, 1)}, "double-sharp sharp"},
	} {
		m := engraving.NewMusic("", engraving.Treble(), engraving.Key{Fifths: row.fifths}, treble44)
		m.AddBar(row.events...)
		m.PrintAccidentals()
		assert.Equal(t, row.want, signsOf(m, 0), "%s: %s", row.name, row.why)
	}
}

// A tie carries the accidental over the barline for the tied note alone.
func TestPrintAccidentalsAfterATie(t *testing.T) {
	t.Parallel()
	m := ties()
	assert.Equal(t, "- sharp", signsOf(m, 0))
	end := m.Staves[0].Measures[1].Voices[0].Events
	assert.Nil(t, end[0].Notes[0].Accidental, "the end of the tie")
}

// beamsOf writes the first-level beams: ( begins, - goes on, ) ends, . none.
func beamsOf(events []engraving.Event) string {
	text := ""
	for _, e := range events {
		mark := "."
		if len(e.Beams) > 0 {
			mark = map[engraving.Beam]string{engraving.BeamBegin: "(", engraving.BeamContinue: "-", engraving.BeamEnd: ")"}[e.Beams[0]]
		}
		text += mark
	}
	return text
}

// Beams show the beat; common practice, no source.
func TestBeamByTheTimeSignature(t *testing.T) {
	t.Parallel()
	e, s := engraving.Eighth, engraving.Sixteenth
	for _, row := range []struct {
		name, why, beats, kind string
		values                 []engraving.Value
		want                   string
	}{
		{"4/4 eighths", "half bars stay together, the middle of the bar is seen", "4", "4", []engraving.Value{e, e, e, e, e, e, e, e}, "(--)(--)"},
		{"3/4 eighths", "a bar of plain eighths", "3", "4", []engraving.Value{e, e, e, e, e, e}, "(----)"},
		{"6/8", "two dotted quarters", "6", "8", []engraving.Value{e, e, e, e, e, e}, "(-)(-)"},
		{"sixteenths", "by the beat", "2", "4", []engraving.Value{s, s, s, s, s, s, s, s}, "(--)(--)"},
		{"3+2 over 8", "the groups that the signature names", "3+2", "8", []engraving.Value{e, e, e, e, e}, "(-)()"},
		{"1+1 over 4", "sixteenths by the beat", "1+1", "4", []engraving.Value{e, e, s, s, s, s}, "()(--)"},
		{"mixed", "quarters stand alone", "2", "4", []engraving.Value{e, engraving.Quarter, e}, "..."},
	} {
		m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, engraving.Time{Beats: row.beats, BeatType: row.kind})
		var events []engraving.Event
		for _, v := range row.values {
			events = append(events, event(v, 0, 5, 0))
		}
		m.AddBar(events...)
		m.Beam()
		assert.Equal(t, row.want, beamsOf(m.Staves[0].Measures[0].Voices[0].Events), "%s: %s", row.name, row.why)
	}
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, engraving.Time{Beats: "2", BeatType: "4"})
	m.AddBar(event(e, 0, 5, 0), event(e, 1, 5, 0), event(e, 2, 5, 0), event(e, 3, 5, 0))
	m.Staves[0].Measures[0].Changes = []engraving.Change{{Onset: musicxml.NewFraction(1, 1), Key: &engraving.Key{Fifths: 2}}}
	m.Beam()
	assert.Equal(t, "()()", beamsOf(m.Staves[0].Measures[0].Voices[0].Events), "no beam through a signature")
}

// The text alternative names every note with the standard's words.
func TestDescribe(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "Bar 1: treble clef, 2 sharps, 4/4 time, C sharp 4 quarter, B 4 quarter, A 5 half.",
		engraving.Describe(scale(), 0, 1, 1))
	assert.Equal(t, "Bar 1: treble clef, no sharps or flats, 4/4 time, chord F sharp 4 and G 4 and B flat 4 half, C 5 quarter, D quarter sharp 5 quarter.",
		engraving.Describe(chords(), 0, 1, 1))
	assert.Contains(t, engraving.Describe(voices(), 0, 1, 1), "voice 2: F 5 quarter")
	assert.Contains(t, engraving.Describe(changes(), 0, 2, 3), "Bar 3: rest for 12 bars.")
	assert.Contains(t, engraving.Describe(ties(), 0, 1, 2), "C sharp 4 half tied.")
}

// TestDescribeInLanguages: what a page says of its music to whoever does not see it is in the
// page's language.
func TestDescribeInLanguages(t *testing.T) {
	t.Parallel()
	for language, want := range map[pitch.Language][2]string{
		pitch.German:  {"Notenzeile 1, Takt 1", "Takt 1: Violinschlüssel, keine Vorzeichen, 4/4-Takt, Akkord Fis 4 und G 4 und B 4 halbe Note, C 5 Viertelnote, D Viertelton-Kreuz 5 Viertelnote."},
		pitch.French:  {"Portée 1, mesure 1", "Mesure 1: clé de sol, ni dièse ni bémol, mesure à 4/4, accord fa dièse 4 et sol 4 et si bémol 4 blanche, do 5 noire,"},
		pitch.Italian: {"Pentagramma 1, battuta 1", "Battuta 1: chiave di violino, nessuna alterazione, tempo di 4/4, accordo fa diesis 4 e sol 4 e si bemolle 4 minima, do 5 semiminima,"},
		pitch.Spanish: {"Pentagrama 1, compás 1", "Compás 1: clave de sol, ninguna alteración, compás de 4/4, acorde fa sostenido 4 y sol 4 y si bemol 4 blanca, do 5 negra,"},
	} {
		m := chords()
		d, err := engraving.Draw(m, engraving.Options{Language: language, To: 1})
		require.NoError(t, err)
		staff := d.Systems[0].Staves[0]
		assert.Equal(t, want[0], staff.Title)
		assert.Contains(t, staff.Text, want[1])
		assert.Contains(t, d.Systems[0].Label, want[0][strings.Index(want[0], ", "):])
	}
}

func TestLengthOfPrintedValues(t *testing.T) {
	t.Parallel()
	assert.Equal(t, musicxml.NewFraction(1, 1), engraving.Length(engraving.Quarter, 0, engraving.Ratio{}), "the unit")
	assert.Equal(t, musicxml.NewFraction(3, 1), engraving.Length(engraving.Half, 1, engraving.Ratio{}), "dotted: half as long again")
	assert.Equal(t, musicxml.NewFraction(7, 8), engraving.Length(engraving.Eighth, 2, engraving.Ratio{}), "double-dotted: a half and a quarter again")
	assert.Equal(t, musicxml.NewFraction(1, 3), engraving.Length(engraving.Eighth, 0, engraving.Ratio{Actual: 3, Normal: 2}), "three in the time of two")
	assert.Equal(t, musicxml.NewFraction(8, 1), engraving.Length(engraving.Breve, 0, engraving.Ratio{}), "two whole notes")
}

func TestStackAligns(t *testing.T) {
	t.Parallel()
	written := engraving.NewMusic("written", engraving.Treble(), engraving.Key{Fifths: 1}, treble44)
	written.AddBar(event(engraving.Half, 4, 4, 0), event(engraving.Half, 0, 5, 0))
	sounding := engraving.NewMusic("sounding", engraving.Treble(), engraving.Key{}, treble44)
	sounding.AddBar(event(engraving.Half, 0, 4, 0), event(engraving.Half, 3, 4, 0))
	both, err := engraving.Stack(sounding, written)
	require.NoError(t, err)
	d, err := engraving.Draw(both, engraving.Options{})
	require.NoError(t, err)
	notes := readStaves(t, d)
	require.Len(t, notes, 2)
	for i := range notes[0] {
		assert.InDelta(t, notes[0][i].X, notes[1][i].X, 0, "note under note")
	}
	_, err = engraving.Stack(sounding, &engraving.Music{})
	assert.Error(t, err, "pieces of different length do not align")
}
