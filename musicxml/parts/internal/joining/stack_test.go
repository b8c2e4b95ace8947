package joining

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

func text(t *testing.T, e *etree.Element) string {
	t.Helper()
	s, err := etree.NewDocumentWithRoot(e).WriteToString()
	require.NoError(t, err)
	return s
}

// Below other staves a line has a number of its own, from 1 to 16 (MusicXML 4.0, number-level),
// three for each staff above; ties have none of these.
func TestLinesNumberedAnew(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		above     int
		from, are string
	}{
		{1, ` number="1"`, "4"}, {1, ``, "4"}, {2, ` number="2"`, "8"}, {5, ` number="1"`, "16"}, {5, ` number="2"`, "1"}, {1, ` number="16"`, "3"}, {1, ` number="x"`, "4"},
	} {
		for _, kind := range []string{"wedge", "dashes", "bracket", "pedal", "octave-shift", "slur", "glissando", "slide", "wavy-line"} {
			e := element(t, `<note><notations><ornaments><`+kind+row.from+`/></ornaments><tied number="1"/></notations></note>`)
			(&stacked{above: row.above}).renumber(e)
			assert.Equal(t, row.are, musicxml.Attr(e.FindElement(".//"+kind), "number"), "%s%s below %d", kind, row.from, row.above)
			assert.Equal(t, "1", musicxml.Attr(e.FindElement(".//tied"), "number"))
		}
	}
}

// What is said of a row's staves is said of them in the part; what holds for all is the
// uppermost row's. A clef without a number is the first staff's, anything else every staff's
// (MusicXML 4.0, clef, key).
func TestAttributesOfARow(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		above, height int
		first         bool
		from, want    string
	}{
		{0, 1, true, `<divisions>2</divisions><key/><time/><staves>1</staves><part-symbol/><clef/>`, `<divisions>2</divisions><key number="1"/><time/><clef number="1"/>`},
		{1, 1, false, `<divisions>2</divisions><key/><time/><clef/>`, `<key number="2"/><clef number="2"/>`},
		{1, 2, false, `<key/><clef/>`, `<key number="2"/><key number="3"/><clef number="2"/>`},
		{2, 2, false, `<clef number="1"/><clef number="2"/><staff-details/>`, `<clef number="3"/><clef number="4"/><staff-details number="3"/><staff-details number="4"/>`},
		{1, 1, false, `<transpose/>`, `<transpose number="2"/>`}, {1, 1, false, `<for-part/>`, `<for-part number="2"/>`}, {1, 1, false, `<divisions>2</divisions><time/>`, ``},
	} {
		b := newBar(&musicxml.Measure{Element: etree.NewElement("measure")}, musicxml.NewFraction(1, 1), inForce{})
		s := stacked{barMaker: b, above: row.above, height: row.height, first: row.first}
		s.takeAttributes(element(t, `<attributes>`+row.from+`</attributes>`), musicxml.Fraction{})
		want := `<measure/>`
		if row.want != "" {
			want = `<measure><attributes>` + row.want + `</attributes></measure>`
		}
		assert.Equal(t, want, text(t, b.bar))
	}
	bar := element(t, `<measure><attributes><divisions>2</divisions><part-symbol>brace</part-symbol></attributes></measure>`)
	bracket(bar, 3)
	assert.Equal(t, `<measure><attributes><divisions>2</divisions><staves>3</staves><part-symbol top-staff="1" bottom-staff="3">bracket</part-symbol></attributes></measure>`, text(t, bar))
}

// Voices of a staff are numbered by fours a staff from 1, 5, 9 on, each once a bar.
func TestVoicesOfARow(t *testing.T) {
	t.Parallel()
	s := stacked{above: 1, voices: map[string]string{}, begun: map[int]int{}}
	for _, row := range []struct {
		staff       int
		voice, want string
	}{{1, "1", `<note><voice>5</voice><staff>2</staff></note>`}, {1, "2", `<note><voice>6</voice><staff>2</staff></note>`}, {1, "1", `<note><voice>5</voice><staff>2</staff></note>`}, {2, "7", `<note><voice>9</voice><staff>3</staff></note>`}, {0, "2", `<note><voice>6</voice><staff>2</staff></note>`}} {
		e := element(t, `<note/>`)
		s.move(&musicxml.Event{Kind: musicxml.Note, Element: e, Staff: row.staff, Voice: row.voice})
		assert.Equal(t, row.want, text(t, e))
	}
	mark := element(t, `<direction/>`)
	s.move(&musicxml.Event{Kind: musicxml.Direction, Element: mark})
	assert.Equal(t, `<direction><staff>2</staff></direction>`, text(t, mark), "a mark without a voice gets none")
}

// What holds for all stands once: the uppermost row says it at the same time, on whatever staff.
func TestSaidAbove(t *testing.T) {
	t.Parallel()
	said := func(words, more string, at int64) musicxml.Event {
		return musicxml.Event{Kind: musicxml.Direction, Onset: musicxml.NewFraction(at, 1),
			Element: element(t, `<direction><direction-type><words>`+words+`</words></direction-type>`+more+`</direction>`)}
	}
	upper := []musicxml.Event{said("Lento", `<staff>1</staff>`, 0), {Kind: musicxml.Note, Element: element(t, `<note/>`)}, said("Allegro", `<voice>1</voice><staff>1</staff>`, 2)}
	for _, row := range []struct {
		ev   musicxml.Event
		want bool
	}{
		{said("Allegro", `<staff>2</staff>`, 2), true}, {said("Allegro", ``, 2), true}, {said("Allegro", `<staff>2</staff>`, 0), false}, {said("Vivace", ``, 2), false}, {said("Lento", `<offset>0</offset>`, 0), true}, {said("Lento", ``, 2), false},
	} {
		s := stacked{upper: upper}
		assert.Equal(t, row.want, s.saidAbove(&row.ev))
	}
}

// A staff taken out of a joined part is a score of one part under its own name; the list of a
// percussionist's instruments at the head goes.
func TestTakenOut(t *testing.T) {
	t.Parallel()
	root := element(t, `<score-partwise><defaults/><part-list><score-part id="P1"><identification/><part-name>Anna</part-name><part-name-display/><part-abbreviation>A.</part-abbreviation><part-abbreviation-display/></score-part></part-list><part id="P1"><measure/></part></score-partwise>`)
	o := Origin{Label: "Oboe"}
	assert.Equal(t, `<score-partwise><defaults/><part-list><score-part id="P1"><part-name>Oboe</part-name></score-part></part-list><part id="P1"><note/></part></score-partwise>`, text(t, o.document(root, element(t, `<part><note/></part>`))))
	named := map[string]bool{"Triangle": true, "Side Drum": true}
	for words, goes := range map[string]bool{"Triangle": true, "Triangle, Side Drum": true, "Triangle (with Percussion 2), Side Drum": true, "Triangle, Gong": false, "dolce": false, "Triangle (with Percussion 2, Percussion 3)": true} {
		part := element(t, `<part><measure><direction><direction-type><words>`+words+`</words></direction-type></direction></measure></part>`)
		dropList(part, named)
		assert.Equal(t, goes, part.FindElement(".//direction") == nil, words)
	}
}
