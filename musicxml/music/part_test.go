package music_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMeasures(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 8)+note("D4", 8), note("E4", 16, notations("<fermata/>"))+`<barline/>`, "")
	require.Len(t, p.Measures, 3)
	var got []string
	for i := range p.Measures {
		m := &p.Measures[i]
		got = append(got, fmt.Sprintf("%s: %d notes, %d marks, %d changes from %s", m.Number, len(m.Notes), len(m.Marks), len(m.Changes), m.Start))
	}
	assert.Equal(t, []string{"1: 2 notes, 0 marks, 1 changes from 0", "2: 1 notes, 1 marks, 0 changes from 4", "3: 0 notes, 0 marks, 0 changes from 8"}, got)
	assert.Same(t, &p.Notes[2], &p.Measures[1].Notes[0], "they are the part's notes")
	assert.Equal(t, fraction(2, 1), p.Notes[1].Start)
	assert.Equal(t, fraction(4, 1), p.Notes[2].Start)
	assert.Equal(t, []int{0, 0, 1}, []int{p.Notes[0].Measure, p.Notes[1].Measure, p.Notes[2].Measure})
	assert.Equal(t, 1, p.Staves)
}

// Grace notes are counted towards the note that they lead to, voice by voice; the
// notes of a chord count as one.
func TestGraceOrder(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 0)+note("D4", 0)+note("F4", 0, "<chord/>")+note("E4", 8)+note("C4", 0)+note("E4", 8)+
		backup(16)+note("C3", 0, "v2")+note("E3", 16, "v2"),
		note("C4", 0)+note("C3", 0, "v2")+note("C4", 0)+note("E4", 16))
	var got []int
	for i := range p.Notes {
		got = append(got, p.Notes[i].GraceOrder)
	}
	assert.Equal(t, []int{1, 2, 2, 0, 1, 0, 1, 0, 1, 1, 2, 0}, got)
	alone := read(t, note("C4", 0, "<chord/>"))
	assert.Equal(t, 1, alone.Notes[0].GraceOrder, "a chord note of nothing")
	after := read(t, note("E4", 16)+note("C4", 0), note("C4", 0)+note("E4", 16))
	assert.Equal(t, 1, after.Notes[2].GraceOrder, "each bar counts anew")
}

func TestChords(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 8)+note("E4", 8, "<chord/>")+note("G4", 8, "<chord/>")+note("<rest/>", 8)+
		backup(16)+note("C3", 8, "v2", "s2")+note("E4", 8, "v2", "s1"))
	var sizes []int
	for chord := range p.Measures[0].Chords() {
		sizes = append(sizes, len(chord))
		assert.Equal(t, len(chord), cap(chord), "a chord ends where it ends")
	}
	assert.Equal(t, []int{3, 1, 1, 1}, sizes)
	for range p.Measures[0].Chords() {
		break
	}
	loose := read(t, note("C4", 8, "<chord/>")+note("C5", 8, "<chord/>"))
	for chord := range loose.Measures[0].Chords() {
		assert.Len(t, chord, 2, "a chord note of nothing begins one")
	}
}

// The transposition in force, in time and by staff (MusicXML 4.0, transpose).
func TestSounding(t *testing.T) {
	t.Parallel()
	const (
		bFlat = `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`
		f     = `<transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose>`
		low   = `<transpose number="2"><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>`
	)
	attributes := func(inner string) string { return "<attributes>" + inner + "</attributes>" }
	rows := []struct {
		name, why string
		measures  []string
		want      []string
	}{
		{"nothing said", "sounds as written", []string{note("C4", 16)}, []string{"C4"}},
		{"a clarinet", "trade/transpositions.csv", []string{attributes(bFlat) + note("C4", 16), note("F#5", 16)}, []string{"Bb3", "E5"}},
		{"a change in mid-bar", "holds from its place on", []string{attributes(bFlat) + note("C4", 8) + attributes(f) + note("C4", 8), note("C4", 16)}, []string{"Bb3", "F3", "F3"}},
		{"two changes, the later one first in the document", "places are in time", []string{
			attributes(bFlat) + note("C4", 8) + attributes(f) + note("C4", 8) + backup(12) + attributes(bFlat) + note("C4", 12, "v2")}, []string{"Bb3", "F3", "Bb3"}},
		{"a change in mid-bar, for the second voice too", "places are in time, not in the document", []string{
			attributes(bFlat) + note("C4", 8) + attributes(f) + note("C4", 8) + backup(16) + note("C4", 8, "v2") + note("C4", 8, "v2")}, []string{"Bb3", "F3", "Bb3", "F3"}},
		{"a change later in the document, earlier in time", "places are in time", []string{
			attributes(bFlat) + note("C4", 8) + note("C4", 8) + backup(8) + attributes(f) + note("C4", 8, "v2")}, []string{"Bb3", "F3", "F3"}},
		{"two changes at one place", "the last one holds", []string{attributes(bFlat+f) + note("C4", 16)}, []string{"F3"}},
		{"a grace note before a change", "is read before it", []string{attributes(bFlat) + note("C4", 8) + note("C4", 0) + attributes(f) + note("C4", 0) + note("C4", 8)}, []string{"Bb3", "Bb3", "F3", "F3"}},
		{"a note written before its own attributes", "at one moment the change holds", []string{note("C4", 16) + backup(16) + attributes(bFlat)}, []string{"Bb3"}},
		{"by staff", "transpose, number", []string{attributes(`<staves>2</staves>`+low) + note("C4", 16, "s1") + backup(16) + note("C4", 16, "s2")}, []string{"C4", "C3"}},
		{"for all staves", "no number", []string{attributes(`<staves>2</staves>`+bFlat) + note("C4", 16, "s1") + backup(16) + note("C4", 16, "s2")}, []string{"Bb3", "Bb3"}},
		{"the signature settles the steps", "a tritone without steps goes to the nearer signature", []string{
			attributes(`<key><fifths>-3</fifths></key><transpose><chromatic>6</chromatic></transpose>`) + note("C4", 16)}, []string{"F#4"}},
		{"the other way", "of the staff's own signature", []string{
			attributes(`<key number="1"><fifths>3</fifths></key><transpose><chromatic>6</chromatic></transpose>`) + note("C4", 16)}, []string{"Gb4"}},
		{"a key that cannot be read", "settles nothing", []string{
			attributes(`<key><fifths>3</fifths></key>`) + note("C4", 16), attributes(`<key><fifths>x</fifths></key><transpose><chromatic>6</chromatic></transpose>`) + note("C4", 16)}, []string{"C4", "Gb4"}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			p := read(t, row.measures...)
			var got []string
			for i := range p.Notes {
				got = append(got, p.Notes[i].Sounding().String())
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

func TestStaves(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 3, read(t, `<attributes><staves>3</staves></attributes>`).Staves, "as said")
	assert.Equal(t, 2, read(t, note("C4", 4, "s2")).Staves, "as used")
	assert.Equal(t, 2, read(t, direction("<words>a</words>", "<staff>2</staff>")).Staves, "as used by a direction")
	assert.Equal(t, 64, read(t, note("C4", 4, "s999999")).Staves, "not more than any part has")
	assert.Equal(t, 64, read(t, `<attributes><staves>9999</staves></attributes>`).Staves)
	assert.Equal(t, 1, read(t, `<attributes><staves>x</staves></attributes>`).Staves)
}

func TestInTime(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 8)+note("D4", 0)+note("E4", 8)+backup(16)+note("C3", 4, "v2")+note("D3", 0, "v2")+note("E3", 12, "v2")+backup(8)+note("G3", 0, "v3")+note("A3", 8, "v3"))
	var got []string
	for _, n := range p.Measures[0].InTime() {
		got = append(got, n.Pitch.String())
	}
	assert.Equal(t, []string{"C4", "C3", "D3", "E3", "D4", "G3", "E4", "A3"}, got, "grace notes before what they lead to, the rest as written")
}

// Every event comes with what was read of it, and nothing else.
func TestItems(t *testing.T) {
	t.Parallel()
	p := read(t, `<attributes><clef/><key/></attributes>`+note("C4", 8, notations("<fermata/>"))+direction("<words>a</words><words>b</words>")+backup(8)+
		`<print/>`+note("D4", 8)+`<barline><fermata/></barline>`+`<attributes/>`)
	var got []string
	for item := range p.Measures[0].Items() {
		text := item.Element.Tag
		if item.Note != nil {
			text += " " + item.Note.Pitch.String()
		}
		got = append(got, fmt.Sprintf("%s, %d marks, %d changes", text, len(item.Marks), len(item.Changes)))
	}
	assert.Equal(t, []string{
		"attributes, 0 marks, 1 changes", "attributes, 0 marks, 2 changes", "note C4, 1 marks, 0 changes", "direction, 2 marks, 0 changes",
		"backup, 0 marks, 0 changes", "print, 0 marks, 0 changes", "note D4, 0 marks, 0 changes", "barline, 1 marks, 0 changes", "attributes, 0 marks, 0 changes"}, got)
	for range p.Measures[0].Items() {
		break
	}
}
