package divisi

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// What begins and ends a line or a span (MusicXML 4.0, wedge, dashes, pedal, slur, tremolo).
func TestEnds(t *testing.T) {
	t.Parallel()
	for kind, want := range map[string][]bool{"stop": {false, true}, "discontinue": {false, true}, "continue": {false, false}, "change": {false, false}, "resume": {false, false}, "start": {true, false}, "crescendo": {true, false}, "down": {true, false}, "": {true, false}} {
		begins, ends := lineEnds(musicxmltest.Element(t, `<x type="`+kind+`"/>`))
		assert.Equal(t, want, []bool{begins, ends}, kind)
	}
	for xml, want := range map[string]bool{
		`<slur type="start"/>`: true, `<slur type="stop"/>`: true, `<slur type="continue"/>`: false, `<slur/>`: false, `<tuplet type="start"/>`: true, `<wavy-line type="stop"/>`: true, `<tremolo type="start"/>`: true, `<tremolo type="single"/>`: false, `<glissando type="start"/>`: true, `<slide type="stop"/>`: true, `<tied type="start"/>`: false,
	} {
		assert.Equal(t, want, isSpanEnd(musicxmltest.Element(t, xml)), xml)
	}
	for kind, whole := range map[string]bool{"slur": true, "tuplet": true, "wavy-line": true, "tremolo": true, "glissando": false, "slide": false} {
		assert.Equal(t, whole, spanKinds[kind], kind)
	}
	for _, row := range []struct {
		location string
		want     bool
	}{{"", true}, {"right", true}, {"left", false}, {"middle", false}} {
		assert.Equal(t, row.want, isLast(musicxmltest.Element(t, `<barline location="`+row.location+`"/>`)), row.location)
	}
	assert.Equal(t, []string{"1", "3"}, []string{numberOf(musicxmltest.Element(t, `<slur/>`)), numberOf(musicxmltest.Element(t, `<slur number="3"/>`))})
}

// The other end of a line stands in its voice, else in the uppermost of its staff, else on the
// nearest staff above.
func TestOtherVoice(t *testing.T) {
	t.Parallel()
	key := func(staff int, voice string) spanKey { return spanKey{"slur", "1", voice, staff} }
	other := spanKey{"slur", "2", "1", 1}
	for _, row := range []struct {
		why  string
		open []spanKey
		want spanKey
	}{
		{"none", nil, key(2, "5")}, {"on the staff", []spanKey{key(2, "6")}, key(2, "6")}, {"the uppermost", []spanKey{key(2, "7"), key(2, "6"), key(2, "10")}, key(2, "6")}, {"rather than on another", []spanKey{key(1, "1"), key(2, "7"), key(3, "9")}, key(2, "7")},
		{"on another", []spanKey{key(3, "9"), key(1, "2"), key(1, "1")}, key(1, "1")}, {"of another number", []spanKey{other}, key(2, "5")}, {"of another kind", []spanKey{{"tuplet", "1", "5", 2}}, key(2, "5")},
	} {
		open := map[spanKey]bool{key(2, "4"): false}
		for _, k := range row.open {
			open[k] = true
		}
		for range 10 { // in whatever order they are gone through
			assert.Equal(t, row.want, otherVoice(open, key(2, "5"), func(is bool) bool { return is }), row.why)
		}
	}
}

// Spans of one kind that overlap have different numbers: each its own as long as it is free,
// else the lowest that is.
func TestRenumber(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, spans string // kind, from, to, number at the beginning and at the end
		want       string
	}{
		{"one", "slur 0 2 3 3", "3"}, {"behind each other", "slur 0 2 1 1, slur 2 4 1 1", "1 1"}, {"overlapping", "slur 0 3 1 1, slur 2 4 1 1", "1 2"}, {"of two kinds", "slur 0 3 1 1, tuplet 2 4 1 1", "1 1"}, {"written in another order", "slur 2 4 1 1, slur 0 3 1 1", "1 2"},
		{"three at once", "slur 0 9 1 1, slur 1 9 2 2, slur 2 9 1 1", "1 2 3"}, {"a number that is free again", "slur 0 2 1 1, slur 1 9 2 2, slur 3 9 2 2", "1 2 1"}, {"ends that differ", "slur 0 2 2 1", "1"}, {"ends that differ beside another", "slur 0 9 1 1, slur 1 2 3 4", "1 2"}, {"inside each other", "slur 0 9 1 1, slur 1 2 2 2, slur 3 4 2 2", "1 2 2"},
	} {
		b := &bar{measure: &musicxml.Measure{}}
		var held []*heldSpan
		for text := range strings.SplitSeq(row.spans, ", ") {
			f := strings.Fields(text)
			h := &heldSpan{span: span{kind: f[0], start: spanEnd{group: &group{bar: b}}, stop: spanEnd{group: &group{bar: b}}}}
			from, _ := strconv.Atoi(f[1])
			to, _ := strconv.Atoi(f[2])
			h.from, h.to = &item{onset: musicxml.NewFraction(int64(from), 1)}, &item{onset: musicxml.NewFraction(int64(to), 1)}
			h.at = [2]*etree.Element{musicxmltest.Element(t, `<slur number="`+f[3]+`"/>`), musicxmltest.Element(t, `<slur number="`+f[4]+`"/>`)}
			held = append(held, h)
		}
		renumber(held)
		var got []string
		for _, h := range held {
			assert.Equal(t, numberOf(h.at[0]), numberOf(h.at[1]), row.why)
			got = append(got, numberOf(h.at[0]))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// Note values halve from the breve down to the 1024th; what a length of other kinds has no name;
// a place off the grid of halves is in a tuplet.
func TestValues(t *testing.T) {
	t.Parallel()
	length := musicxml.NewFraction(8, 1)
	for i, name := range []string{"breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th"} {
		assert.Equal(t, name, nameOf(length))
		assert.Equal(t, max(0, i-3), flagCounts[name], "%s has as many flags", name)
		length = length.Mul(musicxml.NewFraction(1, 2))
	}
	assert.Empty(t, nameOf(musicxml.NewFraction(3, 1)))
	for den, want := range map[int64]bool{1: true, 2: true, 3: false, 4: true, 6: false, 8: true, 12: false, 1024: true} {
		assert.Equal(t, want, plain(musicxml.NewFraction(1, den)), den)
	}
	f := musicxml.NewFraction
	for _, row := range []struct{ a, b, want musicxml.Fraction }{{f(7, 2), f(1, 1), f(1, 2)}, {f(3, 1), f(1, 1), f(0, 1)}, {f(1, 3), f(1, 2), f(1, 3)}, {f(5, 1), f(0, 1), f(5, 1)}, {f(7, 1), f(2, 1), f(1, 1)}} {
		assert.Equal(t, row.want, remainder(row.a, row.b), "%v", row)
	}
	for text, want := range map[string]int64{"4": 4, "12": 12, "0": 0, "-3": 0, "3/2": 0, "x": 0, "": 0, "1.5": 0} {
		assert.Equal(t, want, number(text), text)
	}
	for text, want := range map[musicxml.Fraction]string{f(3, 1): "3", f(1, 2): "0.5", f(0, 1): "0", f(7, 4): "1.75"} {
		assert.Equal(t, want, decimal(text))
	}
}

// Whether two notes of a bar share time; without length they do so only with their like.
func TestOverlaps(t *testing.T) {
	t.Parallel()
	of := func(from, to int64) *group {
		return &group{onset: musicxml.NewFraction(from, 1), end: musicxml.NewFraction(to, 1)}
	}
	for _, row := range []struct {
		a, b *group
		want bool
	}{
		{of(0, 2), of(1, 3), true}, {of(0, 2), of(2, 3), false}, {of(0, 4), of(1, 2), true}, {of(0, 1), of(2, 3), false}, {of(1, 1), of(1, 1), true}, {of(1, 1), of(1, 2), false}, {of(1, 1), of(0, 2), false}, {of(1, 1), of(2, 2), false},
	} {
		assert.Equal(t, row.want, row.a.overlaps(row.b), "%v %v", row.a, row.b)
		assert.Equal(t, row.want, row.b.overlaps(row.a), "%v %v", row.b, row.a)
	}
}

// Who sounds where a mark stands, and who next where nobody does, on its staff.
func TestWhoSounds(t *testing.T) {
	t.Parallel()
	of := func(b *bar, staff int, from, to int64, who players) {
		g := &group{bar: b, staff: staff, onset: musicxml.NewFraction(from, 1), end: musicxml.NewFraction(to, 1), notes: []*note{{who: who}}}
		if g.rest = who == 0; g.rest {
			g.notes = nil
		}
		b.groups = append(b.groups, g)
	}
	var d division
	for i := range 3 {
		d.bars = append(d.bars, &bar{measure: &musicxml.Measure{Index: i, Length: musicxml.NewFraction(4, 1)}})
	}
	of(d.bars[0], 1, 0, 1, 1)
	of(d.bars[0], 1, 1, 2, 0)
	of(d.bars[0], 2, 1, 2, 8)
	of(d.bars[0], 1, 2, 4, 2)
	of(d.bars[0], 1, 2, 3, 4)
	of(d.bars[1], 1, 0, 4, 0)
	of(d.bars[2], 1, 3, 4, 1)
	of(d.bars[2], 1, 1, 2, 2)
	of(d.bars[2], 1, 1, 3, 4)
	of(d.bars[2], 2, 0, 4, 8)
	p := &player{division: &d}
	for _, row := range []struct {
		bar       int
		at        int64
		staff     int
		now, next players
	}{
		{0, 0, 1, 1, 1}, {0, 1, 1, 0, 6}, {0, 2, 1, 6, 6}, {0, 3, 1, 2, 6}, {0, 1, 2, 8, 8}, {0, 2, 2, 0, 8}, {1, 0, 1, 0, 6}, {2, 0, 1, 0, 6}, {2, 1, 1, 6, 6}, {2, 2, 1, 4, 1}, {2, 3, 1, 1, 1}, {1, 1, 2, 0, 8},
	} {
		s := &staff{number: row.staff}
		f := &fixture{bar: d.bars[row.bar], onset: musicxml.NewFraction(row.at, 1)}
		assert.Equal(t, row.now, soundingAt(f.bar, f.onset, s), "%v", row)
		assert.Equal(t, row.next, p.soundingNext(f, s), "%v", row)
	}
	assert.Zero(t, p.soundingNext(&fixture{bar: d.bars[2], onset: musicxml.NewFraction(1, 1)}, &staff{number: 3}))
}

// Whether the player rests between two notes, whichever is the earlier: what ends where the one
// begins, or begins where the other ends, is not between them.
func TestRestBetween(t *testing.T) {
	t.Parallel()
	f := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	d := &division{}
	p := &player{division: d}
	for i := range 3 {
		b := &bar{measure: &musicxml.Measure{Index: i, Start: f(4 * int64(i)), Length: f(4)}}
		d.bars = append(d.bars, b)
		lane := []*item{{onset: f(0), end: f(4), notes: []*note{{}}}}
		if i == 1 {
			lane = []*item{{onset: f(0), end: f(1), notes: []*note{{}}}, {onset: f(1), end: f(2)}, {onset: f(2), end: f(4), notes: []*note{{}}}}
		}
		p.desks = append(p.desks, &desk{bar: b, lanes: [][]*item{lane}})
	}
	at := func(bar int, from, to int64) *group { return &group{bar: d.bars[bar], onset: f(from), end: f(to)} }
	for _, row := range []struct {
		a, b *group
		want bool
	}{
		{at(0, 0, 4), at(1, 0, 1), false}, {at(0, 0, 4), at(1, 2, 4), true}, {at(1, 0, 1), at(1, 2, 4), true}, {at(1, 2, 4), at(2, 0, 4), false}, {at(0, 0, 4), at(2, 0, 4), true}, {at(1, 0, 2), at(1, 0, 2), true}, {at(2, 0, 1), at(2, 3, 4), false},
	} {
		assert.Equal(t, row.want, p.restBetween(row.a, row.b), "%v %v", row.a, row.b)
		assert.Equal(t, row.want, p.restBetween(row.b, row.a), "%v %v", row.b, row.a)
	}
}

// What two markers at one moment say together, and whom one means; players by the numbers of
// their names, else counted from the top.
func TestSayings(t *testing.T) {
	t.Parallel()
	none, all, two := saying{}, saying{kind: everybody}, saying{kind: everybody, count: 2}
	first, second := saying{kind: named, who: 1}, saying{kind: named, who: 2}
	for _, row := range []struct{ s, t, want saying }{
		{none, first, first}, {none, all, all}, {first, second, saying{kind: named, who: 3}}, {first, two, first}, {two, first, first}, {all, two, two}, {two, all, all}, {first, none, first},
	} {
		assert.Equal(t, row.want, row.s.with(row.t), "%v %v", row.s, row.t)
	}
	on := &staff{players: 7}
	assert.Equal(t, []players{1, 7, 7}, []players{first.addressed(on), all.addressed(on), none.addressed(on)})
	d := &division{Options: Options{Players: []Player{{Number: 3}, {Number: 4}}}}
	for number, want := range map[int]players{3: 1, 4: 2, 1: 1, 2: 2, 5: 0, 0: 0, -1: 0} {
		assert.Equal(t, want, d.named(number), number)
	}
	for xml, want := range map[string]bool{`<sound/>`: false, `<sound><swing><straight/></swing></sound>`: true, `<sound tempo="60"/>`: true, `<sound><play/></sound>`: false} {
		assert.Equal(t, want, soundForAll(musicxmltest.Element(t, xml)), xml)
	}
	assert.False(t, soundForAll(nil))
}

// A length in note values with up to two dots, the longest first; what is shorter than any stands
// without one. A rest may be written another way where nothing is at it.
func TestLengthsInValues(t *testing.T) {
	t.Parallel()
	f := musicxml.NewFraction
	for _, row := range []struct {
		length musicxml.Fraction
		want   string
	}{
		{f(1, 1), "quarter"}, {f(3, 2), "quarter."}, {f(7, 4), "quarter.."}, {f(15, 8), "quarter eighth.."}, {f(5, 2), "half eighth"}, {f(3, 1), "half."}, {f(1, 256), "1024th"}, {f(1, 512), ""}, {f(12, 1), "breve."}, {f(16, 1), "breve breve"},
	} {
		g := &group{element: musicxmltest.Element(t, `<note/>`)}
		var got []string
		at := f(1, 1)
		for _, w := range g.valuesOf(f(1, 1), f(1, 1).Add(row.length)) {
			assert.Equal(t, at, w.from)
			at = w.to
			got = append(got, w.value.Type+strings.Repeat(".", w.value.Dots))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), "%v", row.length)
		assert.Equal(t, f(1, 1).Add(row.length), at)
	}
	of := func(xml string) *item { return &item{group: &group{rest: true, element: musicxmltest.Element(t, xml)}} }
	for _, row := range []struct {
		it   *item
		want bool
	}{
		{&item{}, true}, {of(`<note><rest/></note>`), true}, {of(`<note><rest/><notations><fermata/></notations></note>`), false}, {of(`<note><rest/><time-modification/></note>`), false}, {&item{notes: []*note{{}}, group: &group{element: musicxmltest.Element(t, `<note/>`)}}, false},
	} {
		assert.Equal(t, row.want, row.it.mergeable())
	}
}

// A table of words that cannot be read is told of, row by row.
func TestLexiconRefuses(t *testing.T) {
	t.Parallel()
	const head = "says,words\n"
	for table, want := range map[string]string{
		head + "all,\"a": "markers: ", head + "all,": `markers, ["all" ""]: no words`, head + "some,x": `markers, ["some" "x"]: "some" says nothing`, head + "number x,first": `markers, ["number x" "first"]: "number x" has no number`,
	} {
		_, err := readLexicon(table)
		require.Error(t, err, table)
		assert.True(t, strings.HasPrefix(err.Error(), want), err)
	}
	l, err := readLexicon(head + "number 3,terzo\njoin,e\nnot,volta\nall,a #\n")
	require.NoError(t, err)
	m, ok := l.Read("terzo e a 2 x", nil)
	assert.True(t, ok)
	assert.Equal(t, Marker{Numbers: []int{3}, All: true, Count: 2, Text: "x"}, m)
	_, ok = l.Read("terzo volta", nil)
	assert.False(t, ok)
}

// What is told of a stretch: of one bar, and of several.
func TestStretches(t *testing.T) {
	t.Parallel()
	of := func(number string, onset int64) *group {
		return &group{bar: &bar{measure: &musicxml.Measure{Number: number, BeatType: "4"}}, onset: musicxml.NewFraction(onset, 1)}
	}
	for _, row := range []struct {
		s      stretch
		groups []*group
		want   string
	}{
		{inDoubt(), nil, ""}, {inDoubt(), []*group{of("3", 1), of("3", 2)}, "both-play 3 2 the score does not say which player has these notes; all have them"}, {inDoubt(), []*group{of("3", 0), of("4", 2)}, "both-play 3 1 from here to measure 4 the score does not say which player has the notes; all have them"},
		{crowded(), []*group{of("3", 0)}, "too-many-notes 3 1 the staff has more notes at once than players; the last player has those that remain"}, {crowded(), []*group{of("3", 0), of("5", 0)}, "too-many-notes 3 1 here and in other places up to measure 5 the staff has more notes at once than players; the last player has those that remain"},
	} {
		var d division
		for _, g := range row.groups {
			row.s.goOn(g, g.onset)
		}
		d.settle(&row.s)
		d.settle(&row.s) // is told once
		got := ""
		for _, w := range d.report.Warnings {
			got += string(w.Code) + " " + w.Measure + " " + w.Beat + " " + w.Text
		}
		assert.Equal(t, row.want, got)
	}
}

// A part of a note's length keeps of its notations what belongs to its beginning or its end
// (MusicXML 4.0, notations); ties are made anew.
func TestKeepEnds(t *testing.T) {
	t.Parallel()
	for xml, ending := range map[string]bool{
		`<fermata/>`: true, `<slur type="stop"/>`: true, `<slur type="start"/>`: false, `<tuplet type="stop"/>`: true, `<tuplet type="start"/>`: false, `<glissando type="start"/>`: true, `<glissando type="stop"/>`: false, `<slide type="start"/>`: true, `<slide type="stop"/>`: false,
		`<articulations><breath-mark/></articulations>`: true, `<articulations><caesura/></articulations>`: true, `<articulations><accent/></articulations>`: false, `<dynamics/>`: false, `<technical/>`: false,
	} {
		assert.Equal(t, ending, isEnding(musicxmltest.Element(t, xml)), xml)
	}
	const from = `<note><tie type="stop"/><tie type="start"/><accidental>sharp</accidental><notations><tied type="stop"/><tied type="start"/><slur type="start"/><fermata/></notations><lyric/></note>`
	for _, row := range []struct {
		first, last bool
		want        string
	}{
		{true, true, from}, {true, false, `<note><tie type="stop"/><accidental>sharp</accidental><notations><tied type="stop"/><slur type="start"/></notations><lyric/></note>`}, {false, true, `<note><tie type="start"/><notations><tied type="start"/><fermata/></notations></note>`}, {false, false, `<note/>`},
	} {
		e := musicxmltest.Element(t, from)
		keepEnds(e, row.first, row.last)
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text, "%v", row)
	}
}

// In whose time a piece of a note is written: the note's own tuplet where its values hold the
// piece, else so many in the time of the next lower power of two (MusicXML 4.0,
// time-modification).
func TestTupletOfAPiece(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		own            string // actual and normal, "" for none
		num, den       int64
		actual, normal int64
	}{
		{"", 1, 2, 1, 1}, {"", 3, 4, 1, 1}, {"", 1, 3, 3, 2}, {"", 2, 3, 3, 2}, {"", 1, 6, 3, 2}, {"", 1, 5, 5, 4}, {"", 1, 7, 7, 4}, {"", 1, 9, 9, 8}, {"", 1, 15, 15, 8}, {"", 1, 17, 1, 1},
		{"3 2", 1, 3, 3, 2}, {"6 4", 1, 6, 6, 4}, {"6 4", 2, 3, 6, 4}, {"5 4", 4, 5, 5, 4}, {"3 2", 1, 5, 5, 4}, {"0 4", 1, 3, 3, 2}, {"6 0", 1, 3, 3, 2}, {"x 4", 1, 2, 1, 1}, {"1 2", 1, 2, 1, 2}, {"2 1", 1, 2, 2, 1},
	} {
		xml := "<note/>"
		if row.own != "" {
			xml = "<note><time-modification><actual-notes>" + row.own[:1] + "</actual-notes><normal-notes>" + row.own[2:] + "</normal-notes></time-modification></note>"
		}
		actual, normal := tupletOf(musicxmltest.Element(t, xml), musicxml.NewFraction(row.num, row.den))
		assert.Equal(t, []int64{row.actual, row.normal}, []int64{actual, normal}, "%d/%d in %q", row.num, row.den, row.own)
	}
}
