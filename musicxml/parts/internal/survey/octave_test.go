package survey

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose"
)

// Open strings as the score says them: lines are counted from the bottom, strings from the
// highest, a capo raises them (MusicXML 4.0, staff-tuning, capo, string). A guitar's are E4,
// B3, G3, D3, A2, E2 (64 to 40).
func TestTunings(t *testing.T) {
	t.Parallel()
	line := func(n, step, octave, alter string) string {
		if alter != "" {
			alter = "<tuning-alter>" + alter + "</tuning-alter>"
		}
		return `<staff-tuning line="` + n + `"><tuning-step>` + step + `</tuning-step>` + alter + `<tuning-octave>` + octave + `</tuning-octave></staff-tuning>`
	}
	for _, row := range []struct {
		why, details string
		want         map[int]int
	}{
		{"a guitar", `<staff-lines>6</staff-lines>` + line("1", "E", "2", "") + line("2", "A", "2", "") + line("3", "D", "3", "") + line("4", "G", "3", "") + line("5", "B", "3", "") + line("6", "E", "4", ""),
			map[int]int{6: 40, 5: 45, 4: 50, 3: 55, 2: 59, 1: 64}},
		{"a capo on the second fret", `<staff-lines>6</staff-lines>` + line("1", "E", "2", "") + `<capo>2</capo>`, map[int]int{6: 42}},
		{"a flat string", `<staff-lines>4</staff-lines>` + line("4", "E", "2", "-1"), map[int]int{1: 39}},
		{"no lines", line("1", "E", "2", ""), nil},
		{"no line", `<staff-lines>6</staff-lines><staff-tuning><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave></staff-tuning>`, nil},
		{"no step", `<staff-lines>6</staff-lines>` + line("1", "H", "2", ""), nil},
		{"no octave", `<staff-lines>6</staff-lines>` + line("1", "E", "x", ""), nil},
		{"an alteration that is none", `<staff-lines>6</staff-lines>` + line("1", "E", "2", "x"), nil},
	} {
		var f facts
		f.tuning(musicxmltest.Element(t, "<staff-details>"+row.details+"</staff-details>"))
		assert.Equal(t, row.want, f.strings, row.why)
	}
}

// What a note tells of octaves: the clef over it, its syllable, its string and fret.
func TestFactsOfNotes(t *testing.T) {
	t.Parallel()
	clefs := map[int]clef{1: {}, 2: {octave: -1}, 3: {octave: 1}, 4: {tab: true}}
	fretted := func(inner string) string {
		return "<note><notations><technical>" + inner + "</technical></notations></note>"
	}
	for _, row := range []struct {
		xml   string
		staff int
		midi  int
		want  facts // but for clefs and pitches
		known int
	}{
		{"<note/>", 1, 60, facts{}, 1}, {"<note/>", 0, 60, facts{}, 1}, {"<note/>", 2, 60, facts{below: 1}, 1}, {"<note/>", 3, 60, facts{above: 1}, 1}, {"<note/>", 4, 60, facts{tab: 1}, 1},
		{"<note/>", 2, -1, facts{}, 0}, {"<note/>", 2, 128, facts{}, 0}, {"<note/>", 1, 0, facts{}, 1}, {"<note/>", 1, 127, facts{}, 1}, {"<note><lyric/></note>", 1, 60, facts{sung: 1}, 1},
		{fretted("<string>4</string><fret>2</fret>"), 1, 52, facts{opens: map[open]int{{4, 50}: 1}}, 1}, {fretted("<string>4</string>"), 1, 52, facts{}, 1}, {fretted("<fret>2</fret>"), 1, 52, facts{}, 1},
		{fretted("<string>4</string><fret>0</fret>"), 1, 50, facts{opens: map[open]int{{4, 50}: 1}}, 1},
	} {
		f := facts{clefs: clefs}
		f.note(&musicxml.Event{Element: musicxmltest.Element(t, row.xml), Staff: row.staff, Marked: true}, row.midi)
		known := 0
		for _, n := range f.pitches {
			known += n
		}
		assert.Equal(t, row.known, known, "%s, MIDI %d", row.xml, row.midi)
		f.clefs, f.pitches = nil, row.want.pitches
		assert.Equal(t, row.want, f, "%s on staff %d", row.xml, row.staff)
	}
}

// Whether a part for a guitar, which is written an octave higher than it sounds, lies where it
// is read or where it sounds, by what it says.
func TestWhereAnOctaveInstrumentLies(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	guitar, piccolo, flute := catalogue.ByID("guitar"), catalogue.ByID("piccolo"), catalogue.ByID("flute")
	part := func(i *instruments.Instrument, notes, sounding, written int, f facts) *Part {
		p := &Part{Notes: notes, InSounding: sounding, InWritten: written, facts: f}
		p.Match.Instrument = i
		return p
	}
	said := part(guitar, 10, 10, 0, facts{})
	said.Source = []transpose.Stretch{{To: transpose.Transposition{OctaveChange: -1}}}
	for _, row := range []struct {
		why                  string
		part                 *Part
		asSounds, unsaid, is bool // lies as it sounds; lies where it is read, unsaid; is read as it sounds
	}{
		{"all in the sounding range alone", part(guitar, 10, 10, 0, facts{}), true, false, false},
		{"nine of ten", part(guitar, 10, 9, 4, facts{}), true, false, false},
		{"eight of ten", part(guitar, 10, 8, 0, facts{}), false, true, false},
		{"half of them where it is read, too", part(guitar, 10, 10, 5, facts{}), false, true, false},
		{"no notes", part(guitar, 0, 0, 0, facts{}), false, false, false},
		{"the score says it", said, false, false, false},
		{"no octave instrument", part(flute, 10, 10, 0, facts{}), true, false, false},
		{"under a clef with its 8 below", part(guitar, 10, 10, 0, facts{below: 6}), false, false, true},
		{"half of it", part(guitar, 10, 10, 0, facts{below: 5}), true, false, false},
		{"with an 8 above", part(guitar, 10, 10, 0, facts{above: 10}), true, false, false},
		{"in tablature", part(guitar, 10, 10, 0, facts{tab: 6}), false, false, true},
		{"tablature and clef", part(guitar, 10, 10, 0, facts{tab: 3, below: 3}), false, false, true},
		{"a piccolo under an 8 above", part(piccolo, 10, 10, 0, facts{above: 6}), false, false, true},
		{"a piccolo under an 8 below", part(piccolo, 10, 10, 0, facts{below: 10}), true, false, false},
		{"frets as it sounds: string 4 is D3", part(guitar, 10, 0, 10, facts{opens: map[open]int{{4, 50}: 3}}), true, false, false},
		{"frets as it is read", part(guitar, 10, 10, 0, facts{opens: map[open]int{{4, 62}: 3}}), false, true, false},
		{"frets of its own tuning: D2", part(guitar, 10, 10, 0, facts{opens: map[open]int{{4, 50}: 3}, strings: map[int]int{4: 38}}), false, true, false},
		{"frets that say both: the range tells", part(guitar, 10, 10, 0, facts{opens: map[open]int{{4, 50}: 3, {4, 62}: 3}}), true, false, false},
		{"frets of no such string", part(guitar, 10, 10, 0, facts{opens: map[open]int{{9, 62}: 3}}), true, false, false},
	} {
		assert.Equal(t, []bool{row.asSounds, row.unsaid, row.is}, []bool{row.part.LiesAsItSounds(), row.part.UnsaidOctave(), row.part.ReadAsItSounds()}, row.why)
	}
}

// What a part adds to its written pitch at a place: what it says on its first staff last.
func TestWhatIsSaidAt(t *testing.T) {
	t.Parallel()
	flat, a := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	p := &Part{Source: []transpose.Stretch{{Measure: 1, To: flat}, {Measure: 1, Staff: 2, To: a}, {Measure: 3, Staff: 1, Onset: musicxml.NewFraction(2, 1), To: a}}}
	for _, row := range []struct {
		bar  int
		beat int64
		want transpose.Transposition
	}{{0, 0, transpose.Transposition{}}, {1, 0, flat}, {2, 3, flat}, {3, 1, flat}, {3, 2, a}, {9, 0, a}} {
		assert.Equal(t, row.want.Interval(), p.SaidAt(musicxml.Position{Measure: row.bar, Onset: musicxml.NewFraction(row.beat, 1)}), "bar %d, quarter %d", row.bar, row.beat)
	}
	assert.True(t, p.Declared())
	assert.False(t, (&Part{Source: []transpose.Stretch{{To: transpose.Transposition{OctaveChange: 1}}}}).Declared())
	assert.False(t, (&Part{}).Declared())
	assert.Equal(t, 3, commonest([]int{1, 3, 3, 1, 3}))
	assert.Equal(t, 1, commonest([]int{1, 3, 3, 1}), "of several the first")
	assert.Zero(t, commonest[int](nil))
}

// What a part adds to its written pitch at its start: what it says there; where it says
// nothing, what the score's reading takes it for (trade/transpositions.csv).
func TestSourceTransposition(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	flat, octave, a := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{OctaveChange: -1}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	for _, row := range []struct {
		why, instrument string
		notes           int
		said            []transpose.Stretch
		forPart         bool
		silent          Input
		want            transpose.Transposition
	}{
		{"said at the start", "clarinet-bflat", 9, []transpose.Stretch{{To: a}, {Measure: 2, To: flat}}, false, Concert, a},
		{"said later", "clarinet-bflat", 9, []transpose.Stretch{{Measure: 2, To: flat}}, false, Written, transpose.Transposition{}},
		{"said inside the first bar", "clarinet-bflat", 9, []transpose.Stretch{{Onset: musicxml.NewFraction(1, 1), To: flat}}, false, Written, transpose.Transposition{}},
		{"unsaid in a written score", "clarinet-bflat", 9, nil, false, Written, flat},
		{"unsaid in a concert score", "clarinet-bflat", 9, nil, false, Concert, transpose.Transposition{}},
		{"a concert score's for-part", "clarinet-bflat", 9, nil, true, Written, transpose.Transposition{}},
		{"no notes", "clarinet-bflat", 0, nil, false, Written, transpose.Transposition{}},
		{"nobody knows", "", 9, nil, false, Written, transpose.Transposition{}},
		{"an octave instrument, in any score", "guitar", 9, nil, false, Concert, octave},
		{"one that sounds as written", "flute", 9, nil, false, Written, transpose.Transposition{}},
	} {
		p := Part{Notes: row.notes, InWritten: row.notes, Source: row.said}
		p.Match.Instrument = catalogue.ByID(row.instrument)
		if row.forPart {
			p.ForPart = etree.NewElement("for-part")
		}
		c := &Score{Parts: []Part{p}, Reading: Reading{Silent: row.silent}}
		assert.Equal(t, row.want, c.SourceTransposition(0), row.why)
	}
}
