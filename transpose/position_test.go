package transpose_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// children writes what a measure holds: names, pitches of notes, lengths of moves, and
// which <attributes> say a transposition.
func children(t *testing.T, measure *etree.Element) string {
	t.Helper()
	var words []string
	for _, e := range measure.ChildElements() {
		switch e.Tag {
		case "note":
			words = append(words, strings.TrimSuffix(strings.TrimPrefix(noteShorthand(t, e), "~"), "~"))
		case "backup", "forward":
			words = append(words, e.Tag+" "+musicxml.ChildText(e, "duration"))
		case "attributes":
			word := "attributes"
			for _, c := range e.ChildElements() {
				if c.Tag == "transpose" {
					word = "TRANSPOSE"
				}
			}
			words = append(words, word)
		default:
			words = append(words, e.Tag)
		}
	}
	return strings.Join(words, ", ")
}

// A transposition that begins within a bar is said where its moment begins: before what
// sounds and is read from there on, behind what belongs to what came before. Where no
// note begins or ends, time is turned back to it at the end of the bar. Lengths are in
// divisions of eight to a quarter note.
func TestWhereATranspositionIsSaid(t *testing.T) {
	t.Parallel()
	at := func(n, d int64) []transpose.Stretch {
		return []transpose.Stretch{{}, {Onset: musicxml.NewFraction(n, d), To: transpose.Transposition{Diatonic: -1, Chromatic: -2}}}
	}
	rows := []struct {
		name, bar string
		stretches []transpose.Stretch
		want, why string
	}{
		{"at a note", "C4 D4", at(1, 1), "attributes, C4, TRANSPOSE, E4", "before the note"},
		{"at a chord", "C4 &E4 D4 &F4", at(1, 1), "attributes, C4, E4, TRANSPOSE, E4, G4", "never between the notes of a chord"},
		{"at a direction", "C4 {<direction/>} D4", at(1, 1), "attributes, C4, TRANSPOSE, direction, E4", "before the words of the new moment"},
		{"at a chord symbol", "C4 {<harmony/>} D4", at(1, 1), "attributes, C4, TRANSPOSE, harmony, E4", "a chord symbol is read in it"},
		{"at a sound", "C4 {<sound/>} D4", at(1, 1), "attributes, C4, TRANSPOSE, sound, E4", "before the new moment"},
		{"at a print", "C4 {<print/>} D4", at(1, 1), "attributes, C4, print, TRANSPOSE, E4", "behind a line break"},
		{"at a forward", "C4 fwd:1", at(1, 1), "attributes, C4, TRANSPOSE, forward 8", "before the rest of the bar"},
		{"at a barline in the middle", `C4 {<barline location="middle"/>} D4`, at(1, 1), "attributes, C4, TRANSPOSE, barline, E4", "before the line"},
		{"at a barline at the left", `C4 {<barline location="left"/>} D4`, at(1, 1), "attributes, C4, barline, TRANSPOSE, E4", "behind the line of the bar's beginning"},
		{"at the end of the bar", "C4 D4", at(2, 1), "attributes, C4, D4, TRANSPOSE", "behind the last note"},
		{"before the last barline", "C4 D4 {<barline/>}", at(2, 1), "attributes, C4, D4, TRANSPOSE, barline", "before the line"},
		{"after the end of the bar", "C4", at(3, 1), "attributes, C4, TRANSPOSE", "a place past the bar is its end"},
		{"at attributes", "C4 {<attributes><clef><sign>F</sign></clef></attributes>} D4", at(1, 1), "attributes, C4, TRANSPOSE, E4", "in those that are there"},
		{"at a grace note", "C4 g:D4 D4", at(1, 1), "attributes, C4, TRANSPOSE, E4, E4", "before the grace notes of the moment"},
		{"behind a grace note's own attributes", "C4 g:D4 {<attributes/>} D4", at(1, 1), "attributes, C4, TRANSPOSE, E4, attributes, E4", "those stand too late"},
		{"in the second voice", "C4*2 back:2 v2:C3 v2:D3", at(1, 1), "attributes, C4, backup 16, C3, TRANSPOSE, E3", "where the second voice has a note"},
		{"at no note", "C4*4", at(1, 2), "attributes, C4, backup 28, TRANSPOSE, forward 28", "time is turned back, three quarters and a half"},
		{"at a third", "C4*4", at(1, 3), "attributes, C4, backup 29.333333, TRANSPOSE, forward 29.333333", "a length without end, to the nearest millionth"},
		{"at a third, in divisions of three", "{<attributes><divisions>3</divisions></attributes>} {<note><rest/><duration>12</duration></note>}", at(1, 3),
			"attributes, attributes, R, backup 11, TRANSPOSE, forward 11", "by the divisions in force"},
		{"at a half, in divisions of one and a half", "{<attributes><divisions>1.5</divisions></attributes>} {<note><rest/><duration>6</duration></note>}", at(1, 2),
			"attributes, attributes, R, backup 5.250000, TRANSPOSE, forward 5.250000", "divisions are decimals"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			part := partOf(t, row.bar)
			move(t, part, options(row.stretches))
			assert.Equal(t, row.want, children(t, part.SelectElement("measure")), row.why)
			_, err := musicxml.NewTimeline(part)
			require.NoError(t, err)
		})
	}
}

// The divisions of an earlier bar are in force until others are said.
func TestLengthsInTheDivisionsInForce(t *testing.T) {
	t.Parallel()
	part := partOf(t, "C4 {<attributes><divisions>2</divisions></attributes>} {<attributes><divisions>6</divisions></attributes>} | {<note><rest/><duration>24</duration></note>} | {<attributes><divisions>1</divisions></attributes>}")
	stretches := []transpose.Stretch{{}, {Measure: 1, Onset: musicxml.NewFraction(1, 3), To: transpose.Transposition{Diatonic: -1, Chromatic: -2}}}
	move(t, part, options(stretches))
	assert.Equal(t, "R, backup 22, TRANSPOSE, forward 22", children(t, part.SelectElements("measure")[1]), "eleven thirds of a quarter in divisions of six")
}

func TestPassages(t *testing.T) {
	t.Parallel()
	var (
		c, bFlat, f = transpose.Transposition{}, transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -4, Chromatic: -7}
		octave      = transpose.Transposition{OctaveChange: -1}
	)
	rows := []struct {
		name, part string
		stretches  []transpose.Stretch
		want       []transpose.Passage
		why        string
	}{
		{"one", "C4 | D4", []transpose.Stretch{{To: bFlat}}, []transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat}}, "nothing changes"},
		{"a key changes", "key:0 C4 | key:2 D4", []transpose.Stretch{{To: bFlat}}, []transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat}},
			"a signature alone is no other passage"},
		{"only the source changes", "tr:-1,-2 C4 | tr:-4,-7 C4", []transpose.Stretch{{To: bFlat}},
			[]transpose.Passage{{Staff: 1, Source: bFlat, Written: bFlat},
				{Staff: 1, Measure: 1, Source: f, Moved: f.Interval().Sub(bFlat.Interval()), Written: bFlat}}, "the part says the same all through"},
		{"source and part change together", "tr:-1,-2 C4 | tr:-4,-7 C4", []transpose.Stretch{{To: bFlat, AsIs: true}, {Measure: 1, To: f, AsIs: true}},
			[]transpose.Passage{{Staff: 1, Source: bFlat, Written: bFlat}, {Staff: 1, Measure: 1, Source: f, Written: f}}, "nothing moves, and yet it is said otherwise"},
		{"only the part changes", "C4 C4", []transpose.Stretch{{To: bFlat}, {Onset: musicxml.NewFraction(1, 1), To: f}},
			[]transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat},
				{Staff: 1, Onset: musicxml.NewFraction(1, 1), Moved: f.Interval().Negate(), Written: f}}, "from its place on"},
		{"a key changes, and then the part", "key:0 C4 | key:2 D4 | C4", []transpose.Stretch{{To: bFlat}, {Measure: 2, To: f}},
			[]transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat}, {Staff: 1, Measure: 2, Moved: f.Interval().Negate(), Written: f}}, "the signature between is no passage"},
		{"what sounds shifts", "C4 | C4", []transpose.Stretch{{To: c}, {Measure: 1, To: c, Shift: octave.Interval()}},
			[]transpose.Passage{{Staff: 1}, {Staff: 1, Measure: 1, Moved: octave.Interval()}}, "the same transposition, another octave"},
		{"two staves", "{<attributes><staves>2</staves></attributes>} s1:C4 back:1 s2:C3", []transpose.Stretch{{To: bFlat}, {Staff: 2, To: f}},
			[]transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat}, {Staff: 2, Moved: f.Interval().Negate(), Written: f}}, "staff by staff"},
		{"the second staff changes", "{<attributes><staves>2</staves></attributes>} s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", []transpose.Stretch{{To: bFlat}, {Measure: 1, Staff: 2, To: f}},
			[]transpose.Passage{{Staff: 1, Moved: bFlat.Interval().Negate(), Written: bFlat}, {Staff: 2, Moved: bFlat.Interval().Negate(), Written: bFlat},
				{Staff: 2, Measure: 1, Moved: f.Interval().Negate(), Written: f}}, "the first goes on"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, result := moved(t, row.part, options(row.stretches))
			assert.Equal(t, row.want, result.Passages, row.why)
		})
	}
}

// A signature that changes because the transposition does is said again where it does:
// once for all staves where they are alike throughout, else staff by staff. A clarinet
// in B flat has two sharps more than what sounds.
func TestRestatedKeysOfStaves(t *testing.T) {
	t.Parallel()
	const two = "{<attributes><staves>2</staves></attributes>} "
	bFlat := transpose.Transposition{Diatonic: -1, Chromatic: -2}
	later := func(s ...transpose.Stretch) []transpose.Stretch { return append([]transpose.Stretch{{}}, s...) }
	rows := []struct {
		name, part string
		stretches  []transpose.Stretch
		want, why  string
	}{
		{"alike", two + "key:1 s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", later(transpose.Stretch{Measure: 1, To: bFlat}),
			"key:1 C4 C3 | key:3 tr:-1,-2 D4 D3", "one key for all"},
		{"a key for each, alike", two + "key1:1 key2:1 s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", later(transpose.Stretch{Measure: 1, To: bFlat}),
			"key1:1 key2:1 C4 C3 | key1:3 key2:3 tr:-1,-2 D4 D3", "each has its own element"},
		{"other keys", two + "key1:1 key2:0 s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", later(transpose.Stretch{Measure: 1, To: bFlat}),
			"key1:1 key2:0 C4 C3 | key1:3 key2:2 tr:-1,-2 D4 D3", "each its own"},
		{"only the second staff moves", two + "key:1 s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", later(transpose.Stretch{Measure: 1, Staff: 2, To: bFlat}),
			"key:1 C4 C3 | key2:3 tr2:-1,-2 C4 D3", "the first keeps its key"},
		{"in other places", two + "key:1 s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3 | s1:C4 back:1 s2:C3", later(transpose.Stretch{Measure: 1, Staff: 1, To: bFlat}, transpose.Stretch{Measure: 2, Staff: 2, To: bFlat}),
			"key:1 C4 C3 | key1:3 tr1:-1,-2 D4 C3 | key2:3 tr:-1,-2 D4 D3", "each where it changes"},
		{"one staff", "key:1 C4 | C4", later(transpose.Stretch{Measure: 1, To: bFlat}), "key:1 C4 | key:3 tr:-1,-2 D4", "one key, without a number"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			got, _ := moved(t, row.part, options(row.stretches))
			assert.Equal(t, row.want, got, row.why)
		})
	}
}
