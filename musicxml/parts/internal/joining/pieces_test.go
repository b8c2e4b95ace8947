package joining

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/desks"
)

// barText writes a bar of quarter notes: A:1 a note, +C:1 one above it, r:2 a rest, <2 and >1
// steps, [2] a signature, |left a bar line, "x" words, "x"@2 words that stand two later,
// wedge(crescendo an end of a hairpin, print.
func barText(text string) string {
	var b strings.Builder
	for _, token := range strings.Fields(text) {
		name, length, _ := strings.Cut(token, ":")
		duration := "<duration>" + length + "</duration>"
		words, offset, moved := strings.Cut(token, "@")
		switch {
		case token == "print":
			b.WriteString("<print/>")
		case token[0] == '<':
			b.WriteString("<backup><duration>" + token[1:] + "</duration></backup>")
		case token[0] == '>':
			b.WriteString("<forward><duration>" + token[1:] + "</duration></forward>")
		case token[0] == '[':
			b.WriteString("<attributes><key><fifths>" + strings.Trim(token, "[]") + "</fifths></key></attributes>")
		case token[0] == '|':
			b.WriteString(`<barline location="` + token[1:] + `"/>`)
		case strings.HasPrefix(token, "wedge("):
			b.WriteString(`<direction><direction-type><wedge type="` + token[6:] + `"/></direction-type></direction>`)
		case token[0] == '"':
			b.WriteString("<direction><direction-type><words>" + strings.Trim(words, `"`) + "</words></direction-type>")
			if moved {
				b.WriteString("<offset>" + offset + "</offset>")
			}
			b.WriteString("</direction>")
		case name == "r":
			b.WriteString("<note><rest/>" + duration + "<voice>1</voice></note>")
		case name[0] == '~':
			b.WriteString("<note><cue/><pitch><step>" + name[1:] + "</step><octave>4</octave></pitch>" + duration + "</note>")
		case name[0] == '+':
			b.WriteString("<note><chord/><pitch><step>" + name[1:] + "</step><octave>4</octave></pitch>" + duration + "</note>")
		default:
			b.WriteString("<note><pitch><step>" + name + "</step><octave>4</octave></pitch>" + duration + "</note>")
		}
	}
	return b.String()
}

// textOfBar reads what barText writes.
func textOfBar(bar *etree.Element) string {
	var all []string
	for _, e := range bar.ChildElements() {
		duration := musicxml.ChildText(e, "duration")
		switch e.Tag {
		case "backup":
			all = append(all, "<"+duration)
		case "forward":
			all = append(all, ">"+duration)
		case "attributes":
			all = append(all, "["+musicxml.Text(musicxml.Descend(e, "key", "fifths"))+"]")
		case "barline":
			all = append(all, "|"+musicxml.Attr(e, "location"))
		case "direction":
			if wedge := musicxml.Descend(e, "direction-type", "wedge"); wedge != nil {
				all = append(all, "wedge("+musicxml.Attr(wedge, "type"))
				continue
			}
			text := `"` + musicxml.Text(musicxml.Descend(e, "direction-type", "words")) + `"`
			if offset := musicxml.ChildText(e, "offset"); offset != "" {
				text += "@" + offset
			}
			all = append(all, text)
		case "note":
			name := musicxml.Text(musicxml.Descend(e, "pitch", "step"))
			if name == "" {
				name = "r"
			}
			if musicxml.Child(e, "chord") != nil {
				name = "+" + name
			}
			if musicxml.Child(e, "cue") != nil {
				name = "~" + name
			}
			all = append(all, name+":"+duration)
		default:
			all = append(all, e.Tag)
		}
	}
	return strings.Join(all, " ")
}

// musicOf is a part of bars of four quarter notes.
func musicOf(t *testing.T, bars ...string) *music {
	t.Helper()
	text := `<part>`
	for i, bar := range bars {
		text += `<measure>`
		if i == 0 {
			text += `<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`
		}
		text += barText(bar) + `</measure>`
	}
	part := musicxmltest.Element(t, text+`</part>`)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	return newMusic(timeline, 0, 0)
}

// What a stretch of a bar has, from one quarter to another, by hand: what begins in it, of
// rests what lies in it (no half rest over the middle of four quarters: notation-rules, rests);
// a mark at its end is the next one's, but for the bar's own end; a bar line within the bar
// stands once, where one stretch ends; what begins and closes the bar is the outer ones'.
func TestPiecesOfABar(t *testing.T) {
	t.Parallel()
	f := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	for _, row := range []struct {
		bar      string
		from, to int64
		want     string
	}{
		{`|left print [2] A:1 "x" B:1 r:2 |right`, 0, 4, `|left print [2] A:1 "x" B:1 r:2 |right`},
		{`|left print [2] A:1 "x" B:1 r:2 |right`, 0, 1, `|left print [2] A:1`},
		{`|left print [2] A:1 "x" B:1 r:2 |right`, 1, 4, `>1 "x" B:1 r:2 |right`},
		{`A:1 B:1 +D:1 C:1 E:1`, 1, 3, `>1 B:1 +D:1 C:1`}, {`A:2 +C:2 B:2`, 2, 4, `>2 B:2`}, {`A:2 +C:2 B:2`, 0, 2, `A:2 +C:2`},
		{`r:4`, 0, 4, `r:4`}, {`r:4`, 1, 3, `>1 r:1 r:1`}, {`r:4`, 0, 2, `r:2`}, {`r:3 A:1`, 2, 4, `>2 r:1 A:1`}, {`A:1 r:3`, 0, 2, `A:1 r:1`}, {`r:1 A:3`, 1, 4, `>1 A:3`},
		{`r:2 +A:2 B:2`, 0, 4, `r:2 B:2`},
		{`A:2 |middle B:2`, 0, 2, `A:2 |middle`}, {`A:2 |middle B:2`, 2, 4, `>2 B:2`}, {`A:2 |middle B:2`, 0, 4, `A:2 |middle B:2`}, {`A:2 |middle B:2`, 1, 4, `>2 |middle B:2`}, {`A:3 |middle B:1`, 0, 2, `A:3`},
		{`A:2 "x" B:2`, 0, 2, `A:2`}, {`A:2 "x" B:2`, 2, 4, `>2 "x" B:2`}, {`A:4 "x"`, 0, 4, `A:4 "x"`}, {`r:4 "x"`, 2, 4, `>2 r:2 "x"`},
		{`A:1 "x"@2 B:3`, 0, 4, `A:1 "x"@2 B:3`}, {`A:1 "x"@2 B:3`, 2, 4, `>3 "x"`}, {`A:1 "x"@2 B:3`, 0, 2, `A:1 B:3`}, {`A:1 B:2 "x"@-2 C:1`, 0, 2, `A:1 B:2 <2 "x"`},
		{`A:2 [3] B:2`, 0, 2, `A:2`}, {`A:2 [3] B:2`, 2, 4, `>2 [3] B:2`}, {`A:4 [3]`, 0, 4, `A:4 [3]`},
		{`A:4 <4 C:2 E:2`, 0, 4, `A:4 <4 C:2 E:2`}, {`A:4 <4 C:2 E:2`, 2, 4, `>2 E:2`}, {`A:4 <4 C:2 E:2`, 0, 2, `A:4 <4 C:2`}, {`A:1 >2 C:1`, 3, 4, `>3 C:1`},
	} {
		m := musicOf(t, "", row.bar)
		m.timeline.Measures[1].Length = f(4)
		b := newBar(&m.timeline.Measures[1], f(1), inForce{})
		b.take(piece{m, f(row.from), f(row.to)}, row.from == 0, row.to == 4, m.has)
		assert.Equal(t, row.want, textOfBar(b.bar), "%s from %d to %d", row.bar, row.from, row.to)
	}
}

// A place as a time of bar 3, of four quarters.
func TestWithin(t *testing.T) {
	t.Parallel()
	f := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	m := &musicxml.Measure{Index: 3, Length: f(4)}
	for p, want := range map[musicxml.Position]int64{{Measure: 2, Onset: f(1)}: 0, {Measure: 4}: 4, {Measure: 4, Onset: f(1)}: 4, {Measure: 3, Onset: f(5)}: 4, {Measure: 3, Onset: f(4)}: 4, {Measure: 3, Onset: f(2)}: 2, {Measure: 3}: 0} {
		assert.Equal(t, f(want), within(m, p), "%v", p)
	}
}

// What holds at a place is what was said before it, not at it.
func TestHolds(t *testing.T) {
	t.Parallel()
	m := musicOf(t, "[1] A:1 [2] B:3", "C:4 [3]", "D:4")
	for _, row := range []struct {
		bar  int
		at   int64
		want string
	}{{0, 0, ""}, {0, 1, "1"}, {0, 2, "2"}, {1, 0, "2"}, {1, 4, "2"}, {2, 0, "3"}, {3, 0, ""}} {
		assert.Equal(t, row.want, musicxml.ChildText(m.holds(row.bar, musicxml.NewFraction(row.at, 1))["key"], "fifths"), "bar %d, %d", row.bar, row.at)
	}
}

// Taken out of several staves a note or an attribute has the number of its staff in the new
// part, none where that has one.
func TestStavesTakenOut(t *testing.T) {
	t.Parallel()
	const attributes = `<attributes><staves>4</staves><part-symbol>brace</part-symbol><key/><clef number="1"/><clef number="2"/><clef number="3"/><clef number="4"/></attributes>`
	const note, third, first = `<note/>`, `<note><staff>3</staff></note>`, `<note><staff>1</staff></note>`
	for _, row := range []struct {
		staff, staves                  int
		attributes, note, third, first string
		own                            []int
	}{
		{0, 0, attributes, note, third, first, []int{0, 1, 2, 3, 4}},
		{1, 1, `<attributes><key/><clef/></attributes>`, note, note, note, []int{0, 1}},
		{2, 1, `<attributes><key/><clef/></attributes>`, note, note, note, []int{2}},
		{2, 2, `<attributes><key/><clef number="1"/><clef number="2"/></attributes>`, note, `<note><staff>2</staff></note>`, first, []int{2, 3}},
		{3, 2, `<attributes><key/><clef number="1"/><clef number="2"/></attributes>`, note, first, first, []int{3, 4}},
	} {
		m := music{staff: row.staff, staves: row.staves}
		text := func(e *etree.Element) string {
			s, err := etree.NewDocumentWithRoot(e).WriteToString()
			require.NoError(t, err)
			return s
		}
		assert.Equal(t, row.attributes, text(m.ownAttributes(musicxmltest.Element(t, attributes))), "%d, %d", row.staff, row.staves)
		for in, want := range map[string]string{note: row.note, third: row.third, first: row.first} {
			e := musicxmltest.Element(t, in)
			m.onOwnStaff(e)
			assert.Equal(t, want, text(e), "%d, %d", row.staff, row.staves)
		}
		var own []int
		for staff := range 5 {
			if m.isOwn(&musicxml.Event{Staff: staff}) {
				own = append(own, staff)
			}
		}
		assert.Equal(t, row.own, own, "%d, %d", row.staff, row.staves)
	}
}

// A rest taken out of the lower of two staves, whole or in part, stands on the only one, and so
// does a mark.
func TestRestsTakenOut(t *testing.T) {
	t.Parallel()
	f := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	rest := func(staff string) string {
		return `<note><rest/><duration>4</duration><voice>` + staff + `</voice><staff>` + staff + `</staff></note>`
	}
	for to, want := range map[int64]string{4: `"x" r:4`, 2: `"x" r:2`} {
		part := musicxmltest.Element(t, `<part><measure><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`+rest("1")+`<backup><duration>4</duration></backup><direction><direction-type><words>x</words></direction-type><staff>2</staff></direction>`+rest("2")+`</measure></part>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		m := newMusic(timeline, 2, 1)
		b := newBar(&timeline.Measures[0], f(1), inForce{})
		b.take(piece{m, f(0), f(to)}, true, to == 4, m.has)
		assert.Equal(t, want, strings.TrimPrefix(textOfBar(b.bar), "[] "))
		assert.Empty(t, b.bar.FindElements(".//staff"))
	}
}

// A player who rests has nothing to play: cue notes are another's. Chord symbols and figures
// are played, and so is a bar under a sign for repeating.
func TestSounds(t *testing.T) {
	t.Parallel()
	f := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	for bar, want := range map[string][]desks.Sound{
		barText("r:1 A:2 r:1"): {{From: f(1), To: f(3)}}, barText("A:1 B:1 r:2"): {{To: f(2)}}, barText("r:4"): nil,
		`<note><cue/><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration></note>`:       nil,
		barText("r:1") + `<harmony/>` + barText("r:3"):                                                   {{From: f(1), To: f(1)}},
		barText("r:3") + `<figured-bass/>` + barText("r:1"):                                              {{From: f(3), To: f(3)}},
		`<attributes><measure-style><slash type="start"/></measure-style></attributes>` + barText("r:4"): {{To: f(4)}},
	} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure>`+bar+`</measure></part>`))
		require.NoError(t, err)
		assert.Equal(t, desks.Sounds(want), Sounds(timeline), bar)
	}
}

func TestSecondsOf(t *testing.T) {
	t.Parallel()
	for n, want := range map[float64]string{0: "no rest", 1: "1 second", 0.5: "0.5 seconds", 1.5: "1.5 seconds", 2: "2 seconds", 10: "10 seconds"} {
		assert.Equal(t, want, SecondsOf(n))
	}
}

// Lines are paired by kind and number (MusicXML 4.0, number-level); an end alone and a
// beginning alone are none.
func TestLinesOf(t *testing.T) {
	t.Parallel()
	line := func(kind, number, what string) string {
		return `<direction><direction-type><` + kind + ` number="` + number + `" type="` + what + `"/></direction-type></direction>`
	}
	rest := barText("r:1")
	for _, row := range []struct {
		why, bar string
		want     []string // from to
	}{
		{"a hairpin", line("wedge", "1", "crescendo") + rest + line("wedge", "1", "stop"), []string{"0 1"}},
		{"two at once", line("wedge", "1", "crescendo") + rest + line("wedge", "2", "diminuendo") + rest + line("wedge", "1", "stop") + rest + line("wedge", "2", "stop"), []string{"0 2", "1 3"}},
		{"one after the other", line("dashes", "1", "start") + rest + line("dashes", "1", "stop") + line("dashes", "1", "start") + rest + line("dashes", "1", "stop"), []string{"0 1", "1 2"}},
		{"two kinds", line("dashes", "1", "start") + rest + line("bracket", "1", "stop"), nil},
		{"that goes on", line("wedge", "1", "crescendo") + rest + line("wedge", "1", "continue") + rest + line("wedge", "1", "stop"), []string{"0 2"}},
		{"a pedal that changes", line("pedal", "1", "start") + rest + line("pedal", "1", "change") + rest + line("pedal", "1", "stop"), []string{"0 2"}},
		{"one that is broken off", line("pedal", "1", "start") + rest + line("pedal", "1", "discontinue") + rest + line("pedal", "1", "resume"), []string{"0 1"}},
		{"one that is taken up", line("pedal", "1", "start") + rest + line("pedal", "1", "discontinue") + rest + line("pedal", "1", "resume") + rest + line("pedal", "1", "stop"), []string{"0 1"}}, {"one held in the middle", line("pedal", "1", "start") + rest + line("pedal", "1", "sostenuto") + rest + line("pedal", "1", "stop"), []string{"0 2"}},
		{"a bracket", line("bracket", "1", "start") + rest + line("bracket", "1", "stop"), []string{"0 1"}}, {"an octave line", line("octave-shift", "1", "down") + rest + rest + line("octave-shift", "1", "stop"), []string{"0 2"}},
		{"an end alone", line("wedge", "1", "stop") + rest, nil},
		{"an end twice", line("wedge", "1", "crescendo") + rest + line("wedge", "1", "stop") + rest + line("wedge", "1", "stop"), []string{"0 1"}},
		{"a beginning alone", line("wedge", "1", "crescendo") + rest, nil},
		{"begun twice", line("wedge", "1", "crescendo") + rest + line("wedge", "1", "diminuendo") + rest + line("wedge", "1", "stop"), []string{"1 2"}},
	} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure>`+row.bar+`</measure></part>`))
		require.NoError(t, err)
		var got []string
		for _, l := range linesOf(timeline) {
			assert.NotEqual(t, l.start, l.stop)
			got = append(got, l.from.Onset.String()+" "+l.to.Onset.String())
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// Two staves that a player has in turn: a hairpin ends where the player leaves its staff,
// behind the last note there; one that ends there without having begun there is no end.
func TestRowsOfAPlayer(t *testing.T) {
	t.Parallel()
	at := func(bar int, onset int64) musicxml.Position {
		return musicxml.Position{Measure: bar, Onset: musicxml.NewFraction(onset, 1)}
	}
	for _, row := range []struct {
		why           string
		first, second []string
		stop, entry   musicxml.Position
		want          []string
	}{
		{"at a bar line", []string{"A:4", "r:4", "B:4"}, []string{"C:4", "r:4", "E:4"}, at(1, 0), at(2, 0), []string{"A:4", "r:4", "E:4"}},
		{"in a bar", []string{"A:4", "B:1 r:3", "B:4"}, []string{"C:4", "r:2 E:2", "F:4"}, at(1, 1), at(1, 2), []string{"A:4", "B:1 r:1 E:2", "F:4"}},
		{"a hairpin beyond the last note", []string{"A:2 wedge(crescendo B:2", "r:4", "B:2 wedge(stop C:2"}, []string{"C:4", "r:4", "E:4"}, at(1, 0), at(2, 0),
			[]string{"A:2 wedge(crescendo B:2 wedge(stop", "r:4", "E:4"}},
		{"a hairpin that is over before", []string{"wedge(crescendo A:4", "wedge(stop r:4", "B:4"}, []string{"C:4", "r:4", "E:4"}, at(1, 0), at(2, 0), []string{"wedge(crescendo A:4", "wedge(stop r:4", "E:4"}},
		{"an end without beginning", []string{"A:4", "r:4", "B:4"}, []string{"wedge(crescendo C:4", "r:4", "wedge(stop E:4"}, at(1, 0), at(2, 0), []string{"A:4", "r:4", "E:4"}},
		{"a hairpin of the other staff, behind", []string{"wedge(crescendo A:4", "r:4", "wedge(stop B:4"}, []string{"C:4", "r:4", "wedge(diminuendo E:2 wedge(stop F:2"}, at(1, 0), at(2, 0),
			[]string{"wedge(crescendo A:4 wedge(stop", "r:4", "wedge(diminuendo E:2 wedge(stop F:2"}},
		{"a hairpin over a chord", []string{"wedge(crescendo A:4 +C:4", "r:4", "wedge(stop B:4"}, []string{"C:4", "r:4", "E:4"}, at(1, 0), at(2, 0), []string{"wedge(crescendo A:4 +C:4 wedge(stop", "r:4", "E:4"}},
		{"a hairpin over the rest alone", []string{"A:2 wedge(crescendo r:2", "r:4", "wedge(stop B:4"}, []string{"C:4", "r:4", "E:4"}, at(0, 2), at(2, 0), []string{"A:2 r:2", "r:4", "E:4"}},
		{"a hairpin and a change in a bar", []string{"wedge(crescendo A:1 r:2 B:1", "wedge(stop C:4"}, []string{"r:2 E:2", "F:4"}, at(0, 1), at(0, 2), []string{"wedge(crescendo A:1 wedge(stop r:1 E:2", "F:4"}},
		{"words for the player who rests", []string{"A:4", "r:4", "r:4", "B:4"}, []string{"C:4", "r:4", `"x" r:4`, "E:4"}, at(1, 0), at(3, 0), []string{"A:4", "r:4", `"x" r:4`, "E:4"}},
		{"a cue for the player who rests", []string{"A:4", "r:4", "r:4", "B:4"}, []string{"C:4", "r:4", "~G:4", "E:4"}, at(1, 0), at(3, 0), []string{"A:4", "r:4", "~G:4", "E:4"}},
		{"the same words for both", []string{"A:4", `"y" r:4`, "r:4", "B:4"}, []string{"C:4", `"y" r:4`, "r:4", "E:4"}, at(1, 0), at(3, 0), []string{"A:4", `"y" r:4`, "r:4", "E:4"}},
		{"at the bar line of the entry", []string{"A:4", "A:4", "r:4"}, []string{"C:4", "r:4", `"x" r:2 E:2`}, at(2, 0), at(2, 2), []string{"A:4", "A:4", `"x" r:2 E:2`}},
		{"a hairpin to the only note of a bar", []string{"wedge(crescendo A:4", "B:2 r:2", "wedge(stop C:4"}, []string{"C:4", "r:4", "E:4"}, at(1, 2), at(2, 0), []string{"wedge(crescendo A:4", "B:2 wedge(stop r:2", "E:4"}},
		{"words in the bar in which the old one ends", []string{"A:4", "B:1 r:3", "r:4", "B:4"}, []string{"C:4", `"x" r:4`, "r:4", "E:4"}, at(1, 1), at(3, 0), []string{"A:4", "B:1 r:3", "r:4", `"x" E:4`}},
		{"words before the player takes it", []string{"A:4", "B:4", "r:4", "B:4"}, []string{`"x" r:2 "z" r:2`, "r:4", "r:4", "[2] E:4"}, at(2, 0), at(3, 0), []string{"A:4", "B:4", "r:4", `[2] "x" "z" E:4`}},
		{"words in the bar of the entry", []string{"A:2 r:2", "B:4"}, []string{`r:1 "x"@1 r:1 E:2`, "F:4"}, at(0, 2), at(0, 2), []string{`A:2 "x" E:2`, "F:4"}},
		{"a hairpin and words over rests of the other", []string{"A:4", "B:4", "r:4"}, []string{`wedge(crescendo r:4`, `"x" r:4 wedge(stop`, "E:4"}, at(2, 0), at(2, 0), []string{"A:4", "B:4", `"x" E:4`}},
		{"the same words at another time", []string{"A:4", "r:4", `r:2 "y" r:2`, "B:4"}, []string{"C:4", "r:4", `"y" r:4`, "E:4"}, at(1, 0), at(3, 0), []string{"A:4", "r:4", `"y" r:4`, "E:4"}},
		{"a note where the other has words", []string{"A:4", "r:4", "r:4", "B:4"}, []string{"C:4", `"y" r:4`, "r:4", "E:4"}, at(1, 0), at(3, 0), []string{"A:4", `"y" r:4`, "r:4", "E:4"}},
		{"a hairpin that ends before it begins: it goes to the last note", []string{"A:2 r:2", "B:4"}, []string{"r:2 wedge(crescendo E:2 <4 wedge(stop >4", "F:2 r:2"}, at(0, 2), at(0, 2), []string{"A:2 wedge(crescendo E:2", "F:2 wedge(stop r:2"}},
		{"a staff that is shorter", []string{"A:4", "r:4"}, []string{"C:4", "r:4", "E:4"}, at(1, 0), at(2, 0), []string{"A:4", "r:4", "E:4"}},
	} {
		first, second := musicOf(t, row.first...), musicOf(t, row.second...)
		r := rowOf(first, second, desks.Turns{First: 0, Changes: []desks.Change{{From: 0, To: 1, Stop: row.stop, Entry: row.entry}}})
		var got []string
		for _, bar := range r.join().ChildElements() {
			got = append(got, strings.TrimPrefix(textOfBar(bar), "[] "))
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

func rowOf(first, second *music, turns desks.Turns) *row {
	frames := first.timeline.Measures
	if len(second.timeline.Measures) > len(frames) {
		frames = second.timeline.Measures
	}
	return &row{music: []*music{first, second}, turns: turns, frames: frames, divisions: musicxml.NewFraction(1, 1)}
}

// A player who leaves a staff and comes back to it has a hairpin there once: it ends at the
// leaving, and does not end again.
func TestHairpinWhereThePlayerComesBack(t *testing.T) {
	t.Parallel()
	at := func(bar int) musicxml.Position { return musicxml.Position{Measure: bar} }
	first, second := musicOf(t, "wedge(crescendo A:4", "r:4", "B:2 wedge(stop C:2"), musicOf(t, "r:4", "E:4", "r:4")
	r := rowOf(first, second, desks.Turns{First: 0, Changes: []desks.Change{{From: 0, To: 1, Stop: at(1), Entry: at(1)}, {From: 1, To: 0, Stop: at(2), Entry: at(2)}}})
	var got []string
	for _, bar := range r.join().ChildElements() {
		got = append(got, strings.TrimPrefix(textOfBar(bar), "[] "))
	}
	assert.Equal(t, []string{"wedge(crescendo A:4 wedge(stop", "E:4", "B:2 C:2"}, got)
}

// Of a direction that ends a line and says something else only the end goes to where the player
// leaves the staff; the rest stays where it is, where the player has the staff again.
func TestOnlyTheEndOfALineMoves(t *testing.T) {
	t.Parallel()
	at := func(bar int) musicxml.Position { return musicxml.Position{Measure: bar} }
	begins := `<direction><direction-type><wedge type="crescendo"/></direction-type></direction>`
	ends := `<direction placement="below"><direction-type><wedge type="stop"/></direction-type><direction-type><dynamics><f/></dynamics></direction-type><offset>1</offset></direction>`
	rest, note := barText("r:4"), barText("A:4")
	for _, row := range []struct {
		why   string
		bars  [3]string
		marks []string // bar: marks
	}{
		{"over the other staff", [3]string{begins + note, rest, ends + note}, []string{"0 wedge crescendo", "0 wedge stop", "2 dynamics"}},
		{"from the other staff", [3]string{note, begins + rest, ends + note}, []string{"2 dynamics"}},
		{"in the other staff", [3]string{begins + note, ends + rest, note}, []string{"0 wedge crescendo", "0 wedge stop", "2 dynamics"}},
	} {
		var first []string
		for _, bar := range row.bars {
			first = append(first, `<measure>`+bar+`</measure>`)
		}
		part := musicxmltest.Element(t, `<part>`+strings.Join(first, "")+`</part>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		turns := desks.Turns{Changes: []desks.Change{{From: 0, To: 1, Stop: at(1), Entry: at(1)}, {From: 1, To: 0, Stop: at(2), Entry: at(2)}}}
		r := rowOf(newMusic(timeline, 0, 0), musicOf(t, "r:4", "B:4", "r:4"), turns)
		var got []string
		for i, bar := range r.join().ChildElements() {
			for _, e := range bar.FindElements("direction/direction-type/*") {
				got = append(got, strings.TrimSpace(strconv.Itoa(i)+" "+e.Tag+" "+musicxml.Attr(e, "type")))
				assert.True(t, e.Tag != "wedge" || musicxml.Child(e.Parent().Parent(), "offset") == nil, "%s: it stands where it ends", row.why)
			}
		}
		assert.Equal(t, row.marks, got, row.why)
	}
}

// What is said over the rest of a staff that the player does not come back to is noted; what the
// other staff says as well is not, nor a line over rests.
func TestUnsaid(t *testing.T) {
	t.Parallel()
	first, second := musicOf(t, "A:4", `r:1 "x" r:1 "y" r:2 wedge(crescendo`, `"z" r:4`), musicOf(t, "r:4", "B:4", `"z" E:4`)
	r := rowOf(first, second, desks.Turns{Changes: []desks.Change{{From: 0, To: 1, Stop: musicxml.Position{Measure: 1}, Entry: musicxml.Position{Measure: 1}}}})
	r.join()
	at := func(quarter int64) musicxml.Position {
		return musicxml.Position{Measure: 1, Onset: musicxml.NewFraction(quarter, 1)}
	}
	assert.Equal(t, []Unsaid{{at(1), 0, "“x”"}, {at(2), 0, "“y”"}}, r.unsaid)
	for text, want := range map[string]string{
		`<dynamics><ff/></dynamics>`: "ff", `<dynamics></dynamics>`: "dynamics", `<dynamics><other-dynamics>sub. p</other-dynamics></dynamics>`: "dynamics", `<harp-pedals/>`: "harp pedals", `<words>con</words><words>sord.</words>`: "“con”, “sord.”",
	} {
		assert.Equal(t, want, textOf(musicxmltest.Element(t, `<direction><direction-type>`+text+`</direction-type></direction>`)))
	}
}
