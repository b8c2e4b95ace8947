package draft

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/survey"
)

func textOf(t *testing.T, e *etree.Element) string {
	t.Helper()
	doc := etree.NewDocument()
	doc.SetRoot(e)
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return text
}

// Words go with what holds nothing without them (MusicXML 4.0: a direction has one
// direction-type at least, a direction-type one element).
func TestDropWords(t *testing.T) {
	t.Parallel()
	const first = "<direction-type><words>a</words>"
	for _, row := range []struct{ from, want string }{
		{"<m><direction>" + first + "</direction-type></direction><note/></m>", "<m><note/></m>"},
		{"<m><direction>" + first + "</direction-type><offset>1</offset></direction></m>", "<m/>"},
		{"<m><direction>" + first + "<words>b</words></direction-type></direction></m>", "<m><direction><direction-type><words>b</words></direction-type></direction></m>"},
		{"<m><direction>" + first + "</direction-type><direction-type><segno/></direction-type></direction></m>", "<m><direction><direction-type><segno/></direction-type></direction></m>"},
	} {
		m := musicxmltest.Element(t, row.from)
		DropMark(m.FindElement(".//words"))
		assert.Equal(t, row.want, textOf(t, m), row.from)
	}
	assert.Len(t, WordsIn(musicxmltest.Element(t, "<direction>"+first+"<words>b</words></direction-type><direction-type><words>c</words><segno/></direction-type></direction>")), 3)
}

// What an element says, for comparing: names and texts in order, attributes aside.
func TestContent(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "time= beats=3 beat-type=4", musicxml.Content(musicxmltest.Element(t, `<time id="x"><beats>3</beats> <beat-type>4</beat-type></time>`)))
	assert.Equal(t, "a c", JoinedText(musicxmltest.Element(t, "<d><words>a</words><symbol>b</symbol><words>c</words></d>"), "words"))
	assert.Equal(t, "a b c", JoinedText(musicxmltest.Element(t, "<d><words>a</words><symbol>b</symbol><words>c</words></d>"), "words", "symbol"))
	assert.True(t, HasOne(musicxmltest.Element(t, "<b><segno/></b>"), "coda", "segno"))
	assert.False(t, HasOne(musicxmltest.Element(t, "<b><segno/></b>"), "coda", "fine"))
	for text, want := range map[string]bool{"<sound/>": true, `<sound tempo="1"/>`: false, "<sound><swing/></sound>": false} {
		assert.Equal(t, want, SaysNothing(musicxmltest.Element(t, text)), text)
	}
}

// One count of divisions for a whole part: 24 for a quarter note; what is counted in 2 is
// multiplied by 12 from where that is said, in 8 by 3 (MusicXML 4.0, divisions).
func TestUnify(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, want string }{
		{"<part><measure><attributes><divisions>2</divisions></attributes><note><duration>4</duration></note></measure><measure><attributes><divisions>8</divisions></attributes><backup><duration>8</duration></backup></measure></part>",
			"<part><measure><attributes><divisions>24</divisions></attributes><note><duration>48</duration></note></measure><measure><attributes><divisions>24</divisions></attributes><backup><duration>24</duration></backup></measure></part>"},
		{"<part><measure><note><duration>1</duration></note></measure></part>", "<part><measure><attributes><divisions>24</divisions></attributes><note><duration>24</duration></note></measure></part>"},
		{"<part><measure><attributes><key/></attributes></measure></part>", "<part><measure><attributes><divisions>24</divisions><key/></attributes></measure></part>"},
		{"<part><measure><attributes><divisions>24</divisions></attributes><note><duration>5</duration></note></measure></part>", "<part><measure><attributes><divisions>24</divisions></attributes><note><duration>5</duration></note></measure></part>"},
		{"<part/>", "<part/>"}, {"<part><measure><attributes><divisions>12</divisions></attributes><note><duration>5</duration></note></measure></part>", "<part><measure><attributes><divisions>24</divisions></attributes><note><duration>10</duration></note></measure></part>"},
		{"<part><measure><attributes/></measure><measure><attributes><divisions>24</divisions></attributes></measure></part>", "<part><measure><attributes/></measure><measure><attributes><divisions>24</divisions></attributes></measure></part>"},
	} {
		part := musicxmltest.Element(t, row.from)
		Unify(part, 24)
		assert.Equal(t, row.want, textOf(t, part), row.from)
	}
}

// drafted is a draft of a part in shorthand, which has 24 divisions a quarter note.
func drafted(t *testing.T, music string) *Draft {
	t.Helper()
	d := &Draft{Part: shorthand.Part(t, music), Timeline: new(musicxml.Timeline), Slabs: new(musicxml.Slabs), Survey: new(survey.Part)}
	d.Rewritten()
	require.NoError(t, d.Settle())
	return d
}

// childrenOf writes a measure: notes by their divisions, other elements by their names, those that
// were made with what is in them.
func childrenOf(t *testing.T, m *etree.Element) string {
	t.Helper()
	var words []string
	for _, e := range m.ChildElements() {
		switch e.Tag {
		case "note":
			words = append(words, musicxml.ChildText(e, "duration"))
		case "backup", "forward":
			words = append(words, e.Tag+musicxml.ChildText(e, "duration"))
		case "attributes":
			text := "attributes"
			for c := range e.ChildElementsSeq() {
				text += "+" + c.Tag
			}
			words = append(words, text)
		default:
			words = append(words, e.Tag)
		}
	}
	return strings.Join(words, " ")
}

// What is for all players and staves: playback but for dynamics, tempo, letters, the way through
// the piece (MusicXML 4.0, direction, sound).
func TestForAll(t *testing.T) {
	t.Parallel()
	said := func(text string) string { return "<direction-type><words>" + text + "</words></direction-type>" }
	for inner, want := range map[string]bool{
		`<sound tempo="60"/>`: true, `<sound dynamics="60"/>`: false, `<sound dynamics="60" dacapo="yes"/>`: true, `<sound/>`: false,
		"<direction-type><metronome/></direction-type>": true, "<direction-type><rehearsal/></direction-type>": true, "<direction-type><segno/></direction-type>": true, "<direction-type><coda/></direction-type>": true, "<direction-type><dynamics/></direction-type>": false,
		said("Andante"): true, said("rit."): true, said("D.C. al Fine"): true, said("G.P."): true, said("Maestoso"): true, said("Trio"): true, said("pizz."): false, said("molto"): false, said("x"): false,
		said("x") + said("rit."): true, "<direction-type><words>x</words><words>rit.</words></direction-type>": true, said("pizz.") + "<direction-type><coda/></direction-type>": true,
	} {
		assert.Equal(t, want, ForAll(musicxmltest.Element(t, "<direction>"+inner+"</direction>")), inner)
	}
}

// Bars in which the player does nothing, and bars with cue notes.
func TestIdle(t *testing.T) {
	t.Parallel()
	const cued = ` <note><cue/><pitch><step>D</step><octave>5</octave></pitch><duration>24</duration></note> `
	for music, want := range map[string][2]bool{"R": {true, false}, "r r:h r": {true, false}, `"x" R !p`: {true, false}, "r:h C5 r": {false, false}, "g!C5:e R": {false, false},
		`<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> R`: {false, false}, `<figured-bass><figure><figure-number>6</figure-number></figure></figured-bass> R`: {false, false}, "r:hd" + cued: {false, true}} {
		m := &drafted(t, music).Timeline.Measures[0]
		assert.Equal(t, want, [2]bool{Idle(m), HasCue(m)}, music)
	}
	for text, want := range map[string][2]bool{`<note/>`: {true, false}, `<note print-object="no"/>`: {true, true}, `<note print-object="yes"/>`: {true, false}} {
		ev := musicxml.Event{Kind: musicxml.Note, Element: musicxmltest.Element(t, text)}
		assert.Equal(t, want, [2]bool{Plays(&ev), Hidden(&ev)}, text)
	}
	for _, ev := range []musicxml.Event{{Kind: musicxml.Forward}, {Kind: musicxml.Note, Rest: true}, {Kind: musicxml.Note, Cue: true}, {Kind: musicxml.Note, Grace: true}} {
		assert.False(t, Plays(&ev), "%+v", ev)
	}
}

// Bars under a sign for repeating, or slashes: from where it starts to before it stops
// (MusicXML 4.0, measure-repeat, beat-repeat, slash). x is such a bar.
func TestRepeatedBars(t *testing.T) {
	t.Parallel()
	style := func(inner string) string {
		return " <attributes><measure-style>" + inner + "</measure-style></attributes> "
	}
	from := strings.NewReplacer("[", style(`<measure-repeat type="start" slashes="1">1</measure-repeat>`), "]", style(`<measure-repeat type="stop"/>`),
		"(", style(`<slash type="start"/>`), ")", style(`<slash type="stop"/>`), "-", style(`<multiple-rest>2</multiple-rest>`))
	for _, row := range [][2]string{{"R|R", ".."}, {"R|[R|R|]R|R", ".xx.."}, {"-R|R|R", "..."}, {"(C5:h)C5:h|R", "x."}, {"[R|(R|)R|]R", "xxx."}, {"]R|[R|R", ".xx"}, {"R|(R|)[R|]R|R", ".xx.."}, {"-[R|R|]R", "xx."}} {
		d := drafted(t, from.Replace(strings.ReplaceAll(row[0], "|", " | ")))
		got := ""
		for _, repeated := range RepeatedBars(d.Timeline) {
			got += map[bool]string{true: "x", false: "."}[repeated]
		}
		assert.Equal(t, row[1], got, row[0])
	}
}

// Where something belongs that stands at a time: before the child of that number, which begins at
// that beat; behind what goes first at its moment.
func TestSlotAt(t *testing.T) {
	t.Parallel()
	const left, right = `<barline location="left"><bar-style>heavy-light</bar-style></barline>`, `<barline><bar-style>light-heavy</bar-style></barline>`
	for _, row := range []struct {
		music              string
		at, child, reached int64 // child -1 is the end of the measure
	}{
		{"C5 D5 E5 F5", 0, 1, 0}, {"C5 D5 E5 F5", 2, 3, 2}, {"C5 D5 E5 F5", 4, -1, 4}, {"C5 D5 E5 F5", 5, -1, 4}, {"C5:h D5:h", 1, 1, 0}, {"C5:h D5:h", 3, 2, 2},
		{"C5+E5:h D5:h", 2, 3, 2}, {`C5 "x" D5 E5 F5`, 1, 2, 1}, {"C5:h C5:h << E5 F5 G5 A5", 3, 7, 3}, {"C5 D5 E5 F5 << E5:w", 2, 3, 2}, {"C5 D5 " + left + " E5 F5", 2, 4, 2}, {"C5 D5 [key 2] E5 F5", 2, 4, 2},
		{left + " C5:w", 0, 2, 0}, {"C5:w " + right, 4, 2, 4}, {"C5:w " + right, 2, 1, 0}, {"<print/> C5:w", 0, 2, 0}, {"C5 g!D5:e E5 F5 G5", 1, 2, 1}, {"C5:h _:h", 2, 2, 2}, {`"x" [key 2] C5:w`, 0, 3, 0}, {"[key 2]", 0, -1, 0},
	} {
		m := &drafted(t, row.music).Timeline.Measures[0]
		slot := SlotAt(m, musicxml.NewFraction(row.at, 1))
		var before *etree.Element
		if row.child >= 0 {
			before = m.Element.ChildElements()[row.child]
		}
		assert.Same(t, before, slot.Before, "%s at %d", row.music, row.at)
		assert.Equal(t, musicxml.NewFraction(row.reached, 1), slot.Onset, "%s at %d", row.music, row.at)
	}
}

// Where <attributes> come at a beat: those that are there, or new ones before the directions of
// that moment; none inside a note, unless any place will do.
func TestAttributesAt(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		music     string
		at        int64
		just, any string // "" for none
	}{
		{"C5 D5 E5 F5", 0, "attributes+divisions+time+new 24 24 24 24", "attributes+divisions+time+new 24 24 24 24"}, {"C5 D5 E5 F5", 2, "attributes+divisions+time 24 24 attributes+new 24 24", "attributes+divisions+time 24 24 attributes+new 24 24"},
		{"C5 D5 [key 2] E5 F5", 2, "attributes+divisions+time 24 24 attributes+key+new 24 24", "attributes+divisions+time 24 24 attributes+key+new 24 24"}, {"C5:w", 2, "", "attributes+divisions+time 96 attributes+new"},
		{`C5 D5 "x" <tempo 60> E5 F5`, 2, "attributes+divisions+time 24 24 attributes+new direction sound 24 24", "attributes+divisions+time 24 24 direction sound attributes+new 24 24"},
		{`C5 D5 <harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> <figured-bass><figure/></figured-bass> E5 F5`, 2, "attributes+divisions+time 24 24 attributes+new harmony figured-bass 24 24", "attributes+divisions+time 24 24 harmony figured-bass attributes+new 24 24"},
		{`C5:w "x"`, 4, "attributes+divisions+time 96 attributes+new direction", "attributes+divisions+time 96 direction attributes+new"}, {"C5:h D5 E5 << E5 F5 G5 A5", 3, "attributes+divisions+time 48 24 attributes+new 24 backup96 24 24 24 24", "attributes+divisions+time 48 24 attributes+new 24 backup96 24 24 24 24"},
	} {
		for i, want := range []string{row.just, row.any} {
			d := drafted(t, row.music)
			at := musicxml.Position{Onset: musicxml.NewFraction(row.at, 1)}
			find := []func(musicxml.Position) *etree.Element{d.AttributesJustAt, d.AttributesAt}[i]
			attributes := find(at)
			if want == "" {
				assert.Nil(t, attributes, row.music)
				continue
			}
			attributes.AddChild(etree.NewElement("new"))
			assert.Equal(t, want, childrenOf(t, d.Part.ChildElements()[0]), row.music)
			if i == 0 {
				assert.Same(t, attributes, find(at), "found again, before the draft is settled")
			}
			require.NoError(t, d.Settle())
			if row.just != "" {
				assert.Same(t, attributes, find(at), "found again")
			}
		}
	}
}

// Inside a note something stands behind it, the time turned back and forth; but where the measure
// does not end at its end, last.
func TestInsertInside(t *testing.T) {
	t.Parallel()
	const right = " <barline><bar-style>light-heavy</bar-style></barline>"
	for _, row := range []struct {
		music string
		at    int64
		want  string
	}{
		{"C5 D5:h E5", 1, "24 new 48 24"}, {"C5:w", 1, "96 backup72 new forward72"}, {"C5:w" + right, 1, "96 backup72 new forward72 barline"}, {"C5:w", 4, "96 new"}, {"C5:w", 5, "96 new"}, {"C5:w << D5:h", 3, "96 backup96 48 new"}, {"C5:h << D5:w", 3, "48 backup48 96 backup24 new forward24"},
	} {
		d := drafted(t, row.music)
		d.InsertInside(&d.Timeline.Measures[0], musicxml.NewFraction(row.at, 1), etree.NewElement("new"))
		assert.Equal(t, "attributes+divisions+time "+row.want, childrenOf(t, d.Part.ChildElements()[0]), "%s at %d", row.music, row.at)
	}
	m := &drafted(t, `<barline location="left"/> C5:w <barline location="middle"/> <barline/> "x"`).Timeline.Measures[0]
	assert.Same(t, m.Element.ChildElements()[4], LastBarline(m))
	last := &drafted(t, "C5:w | <barline/>").Timeline.Measures[1]
	assert.Same(t, last.Element.ChildElements()[0], LastBarline(last))
	assert.Nil(t, LastBarline(&drafted(t, `<barline location="left"/> C5:w`).Timeline.Measures[0]))
}

// How many divisions a quarter note has: what was said last, before the element or in the bar, or
// in a bar before (MusicXML 4.0, divisions).
func TestDivisionsBefore(t *testing.T) {
	t.Parallel()
	const part = `<part><measure/><measure><note id="a"><duration>1</duration></note><attributes><divisions>8</divisions></attributes><note id="b"><duration>1</duration></note><attributes><divisions>0</divisions></attributes><attributes><key/></attributes></measure><measure/>` +
		`<measure><note id="c"><duration>1</duration></note><attributes><divisions>6</divisions></attributes></measure><measure/></part>`
	d := &Draft{Part: musicxmltest.Element(t, strings.Replace(part, "<measure/>", "<measure><attributes/></measure>", 1)), Timeline: new(musicxml.Timeline)}
	d.Rewritten()
	err := d.Settle()
	require.Error(t, err, "a note before the divisions")
	d.Part = musicxmltest.Element(t, strings.Replace(part, "<measure/>", "<measure><attributes><divisions>2</divisions></attributes></measure>", 1))
	d.Part.FindElement("measure[2]/attributes[2]").Child = nil
	d.Rewritten()
	require.NoError(t, d.Settle())
	whole := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	assert.Equal(t, []musicxml.Fraction{whole(2), whole(8), whole(8), whole(6), whole(6)}, []musicxml.Fraction{d.DivisionsBefore(0, nil), d.DivisionsBefore(1, nil), d.DivisionsBefore(2, nil), d.DivisionsBefore(3, nil), d.DivisionsBefore(4, nil)})
	for id, want := range map[string]int64{"a": 2, "b": 8, "c": 8} {
		e := d.Part.FindElement("//note[@id='" + id + "']")
		assert.Equal(t, whole(want), d.DivisionsBefore(map[string]int{"a": 1, "b": 1, "c": 3}[id], e), id)
	}
	musicxml.SetText(d.Part.FindElement("measure[2]/attributes/divisions"), "4")
	assert.Equal(t, whole(4), d.DivisionsBefore(2, nil), "the place is kept, not the number")
	d.Part.FindElement("measure[2]").RemoveChild(d.Part.FindElement("measure[2]/attributes"))
	d.Rewritten()
	require.NoError(t, d.Settle())
	assert.Equal(t, whole(2), d.DivisionsBefore(2, nil), "found out anew when the part was settled")
	assert.Zero(t, (&Draft{Timeline: &musicxml.Timeline{Measures: make([]musicxml.Measure, 2)}}).DivisionsBefore(1, nil))
}

// A part without divisions gets them once; one with them, or without bars, none.
func TestEnsureDivisions(t *testing.T) {
	t.Parallel()
	for from, want := range map[string]string{
		"<part><measure/></part>": "<part><measure><attributes><divisions>1</divisions></attributes></measure></part>", "<part><measure><attributes><key/></attributes></measure></part>": "<part><measure><attributes><divisions>1</divisions><key/></attributes></measure></part>",
		"<part><measure><attributes><divisions>8</divisions></attributes></measure></part>": "<part><measure><attributes><divisions>8</divisions></attributes></measure></part>", "<part/>": "<part/>",
		"<part><measure><attributes/></measure><measure/></part>": "<part><measure><attributes><divisions>1</divisions></attributes></measure><measure/></part>",
	} {
		d := &Draft{Part: musicxmltest.Element(t, from), Timeline: new(musicxml.Timeline)}
		d.Rewritten()
		require.NoError(t, d.Settle())
		for i := range d.Timeline.Measures {
			d.DivisionsBefore(i, nil) // what was found out before no longer holds
		}
		d.EnsureDivisions()
		if d.Part.FindElement("measure") != nil {
			assert.NotZero(t, d.DivisionsBefore(len(d.Timeline.Measures)-1, nil))
		}
		assert.Equal(t, want, textOf(t, d.Part), from)
	}
}

// A length of time in a part's divisions, which become finer where they are too coarse: of a third
// of a quarter note three times as fine, and with them all that is counted in them.
func TestInDivisions(t *testing.T) {
	t.Parallel()
	part := func(n ...any) string {
		return fmt.Sprintf(`<part><measure number="1"><attributes><divisions>%v</divisions></attributes><direction><offset>%v</offset><sound divisions="%v" tempo="60"/></direction><note><duration>%v</duration></note><barline divisions="%v"/><sound divisions="x"/><figured-bass><duration>x</duration></figured-bass></measure></part>`, n...)
	}
	for _, row := range []struct {
		num, den   int64
		text, want string
	}{{1, 2, "1", part(2, 1, 2, "0.5", 2)}, {3, 1, "6", part(2, 1, 2, "0.5", 2)}, {1, 3, "2", part(6, 3, 6, "1.5", 6)}, {-1, 4, "-1", part(4, 2, 4, 1, 4)}} {
		d := &Draft{Part: musicxmltest.Element(t, part(2, 1, 2, "0.5", 2)), Timeline: new(musicxml.Timeline)}
		d.Rewritten()
		require.NoError(t, d.Settle())
		assert.Equal(t, row.text, d.InDivisions(0, nil, musicxml.NewFraction(row.num, row.den)))
		require.NoError(t, d.Settle())
		assert.Equal(t, row.want, textOf(t, d.Part))
	}
	d := drafted(t, "C5:w | D5:w")
	assert.Equal(t, "24", d.InDivisions(0, nil, musicxml.NewFraction(1, 5)), "five times as fine: 120")
	require.NoError(t, d.Settle())
	d.Insert(&d.Timeline.Measures[1], nil, etree.NewElement("direction"))
	require.NoError(t, d.Settle())
	assert.Equal(t, musicxml.NewFraction(4, 1), d.Timeline.Measures[1].Length, "the timeline counts in them, too")
	d.Part.AddChild(etree.NewElement("measure"))
	require.NoError(t, d.Settle())
	assert.Len(t, d.Timeline.Measures, 2, "a change of which nobody has said anything is not looked for")

	d = &Draft{Part: musicxmltest.Element(t, "<part><measure/></part>"), Timeline: new(musicxml.Timeline)}
	d.Rewritten()
	require.NoError(t, d.Settle())
	assert.Equal(t, "2", d.InDivisions(0, nil, musicxml.NewFraction(2, 1)), "one a quarter note where the part has not said")
	for want, f := range map[string]musicxml.Fraction{"2": musicxml.NewFraction(4, 2), "0.5": musicxml.NewFraction(1, 2), "0.3333333333333333": musicxml.NewFraction(1, 3), "-0.75": musicxml.NewFraction(-3, 4)} {
		assert.Equal(t, want, Decimal(f))
	}
}

// The least number in which several parts can be counted: 4 and 6 need 12; what is no number of
// divisions does not count.
func TestCommonDivisions(t *testing.T) {
	t.Parallel()
	part := func(divisions ...string) *etree.Element {
		text := ""
		for _, d := range divisions {
			text += "<measure><attributes><divisions>" + d + "</divisions></attributes></measure>"
		}
		return musicxmltest.Element(t, "<part>"+text+"</part>")
	}
	for _, row := range []struct {
		want  int64
		parts []*etree.Element
	}{{1, nil}, {4, []*etree.Element{part("4")}}, {12, []*etree.Element{part("4"), part("6")}}, {12, []*etree.Element{part("4", "6")}}, {24, []*etree.Element{part("8", "24"), part("6")}}, {4, []*etree.Element{part("x", "4")}}, {4, []*etree.Element{part("x</divisions></attributes><attributes><divisions>4")}}, {4, []*etree.Element{part("0", "-3", "4")}}, {35, []*etree.Element{part("5"), part("7")}}, {1, []*etree.Element{part("1", "")}}} {
		assert.Equal(t, row.want, CommonDivisions(row.parts...))
	}
}
