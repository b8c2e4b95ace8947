package joining

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/draft"
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
	for above, numbers := range map[int]map[string]string{
		1: {` number="1"`: "4", ``: "4", ` number="16"`: "3", ` number="x"`: "4"}, 2: {` number="2"`: "8"}, 5: {` number="1"`: "16", ` number="2"`: "1"},
	} {
		for from, are := range numbers {
			for _, kind := range []string{"wedge", "dashes", "bracket", "pedal", "octave-shift", "slur", "glissando", "slide", "wavy-line"} {
				e := musicxmltest.Element(t, `<note><notations><ornaments><`+kind+from+`/></ornaments><tied number="1"/></notations></note>`)
				(&stacked{above: above}).renumber(e)
				assert.Equal(t, are, musicxml.Attr(e.FindElement(".//"+kind), "number"), "%s%s below %d", kind, from, above)
				assert.Equal(t, "1", musicxml.Attr(e.FindElement(".//tied"), "number"))
			}
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
		s.takeAttributes(musicxmltest.Element(t, `<attributes>`+row.from+`</attributes>`), musicxml.Fraction{})
		want := `<measure/>`
		if row.want != "" {
			want = `<measure><attributes>` + row.want + `</attributes></measure>`
		}
		assert.Equal(t, want, text(t, b.bar))
	}
	bar := musicxmltest.Element(t, `<measure><attributes><divisions>2</divisions><part-symbol>brace</part-symbol></attributes></measure>`)
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
		e := musicxmltest.Element(t, `<note/>`)
		s.move(&musicxml.Event{Kind: musicxml.Note, Element: e, Staff: row.staff, Voice: row.voice})
		assert.Equal(t, row.want, text(t, e))
	}
	mark := musicxmltest.Element(t, `<direction/>`)
	s.move(&musicxml.Event{Kind: musicxml.Direction, Element: mark})
	assert.Equal(t, `<direction><staff>2</staff></direction>`, text(t, mark), "a mark without a voice gets none")
}

// Rows one above the other: what closes a bar and holds for all is the uppermost's, each note and
// mark stands on the staff of its row, under the uppermost's numbers of bars.
func TestStack(t *testing.T) {
	t.Parallel()
	row := func(number, more, mark string) *etree.Element {
		return musicxmltest.Element(t, `<part><measure number="`+number+`"><attributes><divisions>1</divisions></attributes><barline location="left"/>`+more+`<note><rest/><duration>4</duration><voice>1</voice></note>`+mark+`<barline location="right"/></measure></part>`)
	}
	const tempo = `<direction><direction-type><words>Allegro</words></direction-type></direction>`
	const voiced = `<direction><direction-type><words>x</words></direction-type><voice>1</voice></direction>`
	part := stack([]*etree.Element{row("7", `<print/>`+tempo+`<sound/>`, voiced), row("8", `<print new-system="yes"/>`+tempo+`<sound/><harmony/>`, voiced)}, []int{1, 1}, musicxml.NewFraction(1, 1))
	onStaff := func(staff, voice string) string {
		return `<direction><direction-type><words>x</words></direction-type><voice>` + voice + `</voice><staff>` + staff + `</staff></direction>`
	}
	assert.Equal(t, `<part><measure number="7"><attributes><divisions>1</divisions><staves>2</staves><part-symbol top-staff="1" bottom-staff="2">bracket</part-symbol></attributes><barline location="left"/><print/>`+
		`<direction><direction-type><words>Allegro</words></direction-type><staff>1</staff></direction><sound/><note><rest/><duration>4</duration><voice>1</voice><staff>1</staff></note>`+onStaff("1", "1")+
		`<backup><duration>4</duration></backup><harmony><staff>2</staff></harmony><note><rest/><duration>4</duration><voice>5</voice><staff>2</staff></note>`+onStaff("2", "5")+`<barline location="right"/></measure></part>`, text(t, part))
}

// A note that says its instrument keeps it; rests have none.
func TestNotesNameTheirInstrument(t *testing.T) {
	t.Parallel()
	part := musicxmltest.Element(t, `<part><measure><note><rest/><duration>1</duration></note><note><pitch><step>A</step><octave>4</octave></pitch><duration>1</duration></note><note><pitch><step>A</step><octave>4</octave></pitch><duration>1</duration><instrument id="own"/></note><note><rest/><duration>1</duration></note></measure></part>`)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	nameInstruments([]Staff{{Draft: &draft.Draft{Timeline: timeline}, Entry: musicxmltest.Element(t, `<score-part><part-name/></score-part>`)}})
	assert.Len(t, part.FindElements(".//instrument"), 1, "an entry that has none names none")
	nameInstruments([]Staff{{Draft: &draft.Draft{Timeline: timeline}, Entry: musicxmltest.Element(t, `<score-part><score-instrument id="I1"/><score-instrument id="I2"/></score-part>`)}})
	var got []string
	for _, e := range part.FindElements("measure/note") {
		for _, id := range e.SelectElements("instrument") {
			got = append(got, musicxml.Attr(id, "id"))
		}
	}
	assert.Equal(t, []string{"I1", "own"}, got)
}

// The music of a staff of a joined part, with rests where the player has the other; on the staff
// that it is on, with the divisions of the part.
func TestApart(t *testing.T) {
	t.Parallel()
	const entry = `<score-part id="P1"><identification><miscellaneous><miscellaneous-field name="music of P1">“Flute” on staff 1 of 1: 0+0 to 1+0</miscellaneous-field><miscellaneous-field name="music of P2">“Piccolo” on staff 1 of 2: 1+0 to 2+0</miscellaneous-field></miscellaneous></identification><part-name>Anna</part-name></score-part>`
	note := func(more string) string {
		return `<note>` + more + `<pitch><step>A</step><octave>4</octave></pitch><duration>8</duration><voice>1</voice><staff>1</staff></note>`
	}
	const rest = `<note><rest measure="yes"/><duration>8</duration><voice>1</voice></note>`
	root := musicxmltest.Element(t, `<score-partwise><part-list>`+entry+`</part-list><part id="P1"><measure number="1"><attributes><divisions>2</divisions></attributes><direction><direction-type><words>Flute, Piccolo</words></direction-type></direction>`+note("")+note("<chord/>")+`</measure><measure number="2"><direction><direction-type><words enclosure="rectangle">Piccolo</words></direction-type></direction>`+note("")+`</measure></part></score-partwise>`)
	before := text(t, root.Copy())
	taken, err := Apart(root)
	require.NoError(t, err)
	assert.Equal(t, before, text(t, root.Copy()), "the document stays as it is")
	require.Len(t, taken, 2)
	own := strings.ReplaceAll(note("")+note("<chord/>"), "<staff>1</staff>", "")
	assert.Equal(t, `<part id="P1"><measure number="1"><attributes><divisions>2</divisions></attributes>`+own+`</measure><measure number="2">`+rest+`</measure></part>`, text(t, musicxml.Child(taken[0].Root, "part")))
	assert.Equal(t, `<part id="P1"><measure number="1"><attributes><divisions>2</divisions><staves>2</staves></attributes>`+rest+`</measure><measure number="2">`+note("")+`</measure></part>`, text(t, musicxml.Child(taken[1].Root, "part")))
	assert.Equal(t, []string{"Flute", "Piccolo"}, []string{taken[0].Label, taken[1].Label})
	for _, xml := range []string{`<score-partwise/>`, `<score-partwise><part/></score-partwise>`, `<score-partwise><part-list>` + entry + `</part-list></score-partwise>`} {
		none, err := Apart(musicxmltest.Element(t, xml))
		assert.NoError(t, err)
		assert.Empty(t, none, xml)
	}
}

// Where the music leads back the player has little time for another instrument: told where the
// score says how little (a bar lasts four seconds at 60 quarter notes a minute).
func TestLedBack(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const note, rest = `<note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration></note>`, `<note><rest/><duration>4</duration></note>`
	const half = `<note><pitch><step>A</step><octave>4</octave></pitch><duration>2</duration></note><note><rest/><duration>2</duration></note>`
	const tempo, back = `<sound tempo="60"/>`, `<barline location="right"><repeat direction="backward"/></barline>`
	said := func(time string) string {
		return "hasty-change 1 1 where the music leads back or on to here the player has " + time + " to change from Piccolo to Flute; under 5 seconds are risky"
	}
	for _, row := range []struct {
		why     string
		bars    []string
		changes []int // bars in which the piccolo, the flute and so on come
		want    string
	}{
		{"at once", []string{tempo + note, rest, rest, note + back}, []int{3}, said("no rest")}, {"with half a bar", []string{tempo + note, rest, rest, half + back}, []int{3}, said("2 seconds")}, {"with a bar", []string{tempo + note, rest, note, rest + back}, []int{2}, said("4 seconds")}, {"with two", []string{tempo + note, rest, note, rest, rest + back}, []int{2}, ""},
		{"no tempo is said", []string{note, rest, rest, half + back}, []int{3}, ""}, {"at once, without a tempo", []string{note, rest, rest, note + back}, []int{3}, said("no rest")}, {"it does not lead back", []string{tempo + note, rest, rest, note}, []int{3}, ""}, {"to the same", []string{tempo + note, rest, note, rest, rest, note + back}, []int{2, 5}, ""}, {"nobody changes", []string{tempo + note, rest, rest, note + back}, nil, ""},
	} {
		text := ""
		for i, bar := range row.bars {
			text += `<measure number="` + strconv.Itoa(i+1) + `">`
			if i == 0 {
				text += `<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`
			}
			text += bar + `</measure>`
		}
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part>`+text+`</part>`))
		require.NoError(t, err)
		d := &draft.Draft{Timeline: timeline}
		d.Assignment.Instrument = catalogue.ByID("flute")
		var lengths []musicxml.Fraction
		for range row.bars {
			lengths = append(lengths, musicxml.NewFraction(4, 1))
		}
		for i, bar := range row.changes {
			d.Changes = append(d.Changes, draft.InstrumentChange{Position: musicxml.Position{Measure: bar}, Instrument: catalogue.ByID([]string{"piccolo", "flute"}[i%2])})
		}
		require.NoError(t, WarnLedBack(d, lengths))
		got := ""
		for _, w := range d.Report.Warnings {
			got += string(w.Code) + " " + w.Measure + " " + w.Beat + " " + w.Text
		}
		assert.Equal(t, row.want, got, row.why)
		d.Assignment.Instrument, d.Report.Warnings = nil, nil
		require.NoError(t, WarnLedBack(d, lengths))
		assert.Empty(t, d.Report.Warnings, "nobody knows with what it begins")
	}
}

// What holds for all stands once: the uppermost row says it at the same time, on whatever staff.
func TestSaidAbove(t *testing.T) {
	t.Parallel()
	said := func(words, more string, at int64) musicxml.Event {
		return musicxml.Event{Kind: musicxml.Direction, Onset: musicxml.NewFraction(at, 1),
			Element: musicxmltest.Element(t, `<direction><direction-type><words>`+words+`</words></direction-type>`+more+`</direction>`)}
	}
	upper := []musicxml.Event{said("Lento", `<staff>1</staff>`, 0), {Kind: musicxml.Note, Element: musicxmltest.Element(t, `<note/>`)}, said("Allegro", `<voice>1</voice><staff>1</staff>`, 2)}
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
	root := musicxmltest.Element(t, `<score-partwise><defaults/><part-list><score-part id="P1"><identification/><part-name>Anna</part-name><part-name-display/><part-abbreviation>A.</part-abbreviation><part-abbreviation-display/></score-part></part-list><part id="P1"><measure/></part></score-partwise>`)
	o := Origin{Label: "Oboe"}
	assert.Equal(t, `<score-partwise><defaults/><part-list><score-part id="P1"><part-name>Oboe</part-name></score-part></part-list><part id="P1"><note/></part></score-partwise>`, text(t, o.document(root, musicxmltest.Element(t, `<part><note/></part>`))))
	named := map[string]bool{"Triangle": true, "Side Drum": true}
	for words, goes := range map[string]bool{"Triangle": true, "Triangle, Side Drum": true, "Triangle (with Percussion 2), Side Drum": true, "Triangle, Gong": false, "dolce": false, "Triangle (with Percussion 2, Percussion 3)": true} {
		part := musicxmltest.Element(t, `<part><measure><direction><direction-type><words>`+words+`</words></direction-type></direction></measure></part>`)
		dropList(part, named)
		assert.Equal(t, goes, part.FindElement(".//direction") == nil, words)
	}
}
