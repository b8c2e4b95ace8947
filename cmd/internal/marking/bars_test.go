package marking_test

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
)

// Bars are left out, written twice, left blank and cut off here as a notation
// program would save it: the <measure> elements are taken away, copied or emptied,
// and what must stand in the first bar goes along. None of it is the marker's own
// code.

// barFault is what a learner did with bars.
type barFault struct {
	name string
	kind marking.Kind
	// do changes the measures of a right answer at a place; it returns how many of
	// its notes are no longer there and how many stand there too often. ok is false
	// where there is no such place.
	do func(measures []*etree.Element, at int) (gone, surplus int, ok bool)
}

func barFaults() []barFault {
	return []barFault{
		{"a bar left out", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			return leaveOut(ms, at, at+1), 0, len(ms) > 1
		}},
		{"two bars left out", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			if at+2 > len(ms) || len(ms) < 4 {
				return 0, 0, false
			}
			return leaveOut(ms, at, at+2), 0, true
		}},
		{"a bar written twice", marking.Extra, func(ms []*etree.Element, at int) (int, int, bool) {
			return 0, writeTwice(ms, at, at+1), true
		}},
		{"two bars written twice", marking.Extra, func(ms []*etree.Element, at int) (int, int, bool) {
			if at+2 > len(ms) {
				return 0, 0, false
			}
			return 0, writeTwice(ms, at, at+2), true
		}},
		{"a bar left blank", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			return leaveBlank(ms[at]), 0, true
		}},
		{"two bars left blank", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			if at+2 > len(ms) || len(ms) < 4 {
				return 0, 0, false
			}
			return leaveBlank(ms[at]) + leaveBlank(ms[at+1]), 0, true
		}},
		{"cut off after a bar", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			return leaveOut(ms, at, len(ms)), 0, at > 0
		}},
		{"cut off within a bar", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			gone := cutWithin(ms[at])
			if gone > 0 {
				gone += leaveOut(ms, at+1, len(ms))
			}
			return gone, 0, gone > 0
		}},
		{"cut off, the rest filled with rests", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			gone := 0
			for _, m := range ms[at:] {
				gone += leaveBlank(m)
			}
			return gone, 0, at > 0
		}},
		{"two bars swapped", marking.Rhythm, func(ms []*etree.Element, at int) (int, int, bool) { return swapBars(ms, at, at+1) }},
		{"two bars far apart swapped", marking.Rhythm, func(ms []*etree.Element, at int) (int, int, bool) { return swapBars(ms, at, at+3) }},
		{"a bar written three bars later", marking.Rhythm, putOff},
		{"the second half alone", marking.Missing, func(ms []*etree.Element, at int) (int, int, bool) {
			return leaveOut(ms, 0, len(ms)/2), 0, at == 0 && len(ms) > 1
		}},
	}
}

// heads counts what the marker counts: notes with a pitch, of those tied within a
// bar the first.
func headsOf(m *etree.Element) int {
	n := 0
	for _, e := range m.SelectElements("note") {
		if e.SelectElement("pitch") != nil {
			n++
		}
	}
	return n
}

// leaveOut takes measures away; the first one left gets the opening attributes.
func leaveOut(ms []*etree.Element, from, to int) (gone int) {
	part := ms[0].Parent()
	var attributes *etree.Element
	if from == 0 {
		attributes = ms[0].SelectElement("attributes")
	}
	for _, m := range ms[from:to] {
		gone += headsOf(m)
		part.RemoveChild(m)
	}
	if attributes != nil && to < len(ms) {
		ms[to].InsertChildAt(0, attributes.Copy())
	}
	return gone
}

// writeTwice puts copies of measures behind them.
func writeTwice(ms []*etree.Element, from, to int) (surplus int) {
	at := ms[to-1].Index()
	for i, m := range ms[from:to] {
		again := m.Copy()
		if a := again.SelectElement("attributes"); a != nil {
			again.RemoveChild(a)
		}
		surplus += headsOf(m)
		ms[0].Parent().InsertChildAt(at+1+i, again)
	}
	return surplus
}

// leaveBlank puts a whole rest in the place of a measure's music.
func leaveBlank(m *etree.Element) (gone int) {
	gone = headsOf(m)
	length := 0
	for _, e := range m.SelectElements("note") {
		if e.SelectElement("chord") == nil {
			length += duration(e)
		}
		m.RemoveChild(e)
	}
	rest := etree.NewElement("note")
	rest.CreateElement("rest").CreateAttr("measure", "yes")
	rest.CreateElement("duration").SetText(strconv.Itoa(length))
	musicxml.AddInOrder(m, rest)
	return gone
}

// cutWithin keeps the first half of a measure's notes.
func cutWithin(m *etree.Element) (gone int) {
	notes := m.SelectElements("note")
	keep := len(notes) / 2
	for keep < len(notes) && notes[keep].SelectElement("chord") != nil {
		keep++
	}
	for _, e := range notes[keep:] {
		if e.SelectElement("pitch") != nil {
			gone++
		}
		m.RemoveChild(e)
	}
	if keep == 0 {
		return 0
	}
	return gone
}

// putOff puts a measure behind the third of those that follow it.
func putOff(ms []*etree.Element, at int) (gone, surplus int, ok bool) {
	if at == 0 || at+4 >= len(ms) || headsOf(ms[at]) < 2 || ms[at].FindElement("note/tie") != nil {
		return 0, 0, false
	}
	for _, m := range ms {
		ok = ok || m != ms[at] && content(m) == content(ms[at])
	}
	if ok { // it stands elsewhere, too
		return 0, 0, false
	}
	part := ms[0].Parent()
	part.RemoveChild(ms[at])
	part.InsertChildAt(ms[at+3].Index()+1, ms[at])
	return headsOf(ms[at]), 0, true
}

// content is what a measure's notes are.
func content(m *etree.Element) (said string) {
	for _, e := range m.SelectElements("note") {
		said += musicxml.ChildText(e.SelectElement("pitch"), "step") + musicxml.ChildText(e, "duration") + " "
	}
	return said
}

// swapBars puts the music of a measure in the place of another one's and the other way, where
// they are long enough to be told from wrong notes.
func swapBars(ms []*etree.Element, at, other int) (gone, surplus int, ok bool) {
	if other >= len(ms) {
		return 0, 0, false
	}
	a, b := ms[at].SelectElements("note"), ms[other].SelectElements("note")
	length := func(notes []*etree.Element) (n int) {
		for _, e := range notes {
			if e.SelectElement("chord") == nil {
				n += duration(e)
			}
			ok = ok && e.SelectElement("tie") == nil
		}
		return n
	}
	ok = true
	lengthA, lengthB := length(a), length(b)
	total := 0
	for _, m := range ms {
		total += headsOf(m)
	}
	gone = headsOf(ms[at]) + headsOf(ms[other])
	if !ok || lengthA != lengthB || content(ms[at]) == content(ms[other]) || headsOf(ms[at]) < 2 || headsOf(ms[other]) < 2 || 2*gone > total {
		return 0, 0, false
	}
	for _, e := range append(a, b...) {
		e.Parent().RemoveChild(e)
	}
	for _, e := range a {
		musicxml.AddInOrder(ms[other], e)
	}
	for _, e := range b {
		musicxml.AddInOrder(ms[at], e)
	}
	return gone, 0, true
}

// dropOpenTies takes away the ties that no longer lead anywhere, as a program does.
func dropOpenTies(part *etree.Element) {
	notes := part.FindElements("measure/note")
	for i, n := range notes {
		if music.ReadTies(n).Start() && (i+1 == len(notes) || !music.ReadTies(notes[i+1]).Stop()) ||
			music.ReadTies(n).Stop() && (i == 0 || !music.ReadTies(notes[i-1]).Start()) {
			musicxml.RemoveChildren(n, "tie", "notations")
		}
	}
}

// barCases is how many answers are made by default, and under
// DESKPART_EVERY_SCORE=1.
const barCases, everyBarCase = 160, 2200

// TestBarsBeforeNotes: of bars left out, written twice, left blank or cut off, at
// every place of exercises of all levels, that one mistake is named, and every note
// that is there counts.
func TestBarsBeforeNotes(t *testing.T) {
	t.Parallel()
	want := musicxmltest.Sweep(barCases, everyBarCase)
	list, keys := exercises(t, musicxmltest.Sweep[uint64](2, 14))
	rng := rand.New(rand.NewPCG(15, 6))
	type todo struct {
		n, at int
		fault barFault
	}
	var all []todo
	for n, e := range list {
		for at := range e.Answer.SelectElements("measure") {
			for _, f := range barFaults() {
				all = append(all, todo{n, at, f})
			}
		}
	}
	rng.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	done := map[string]int{}
	total := 0
	for _, c := range all {
		if total == want {
			break
		}
		if !oneBarFault(t, list[c.n], keys[c.n], c.at, c.fault, done) {
			return
		}
		total = 0
		for _, n := range done {
			total += n
		}
	}
	for _, f := range barFaults() {
		assert.Positive(t, done[f.name], f.name)
	}
	assert.Equal(t, want, total)
	t.Logf("%d answers: %v", total, done)
}

// oneBarFault makes one case and checks it; false where it failed.
func oneBarFault(t *testing.T, e *exercise.Exercise, key *marking.Key, at int, f barFault, done map[string]int) bool {
	t.Helper()
	p := newPage(e)
	measures := p.part.SelectElements("measure")
	gone, surplus, ok := f.do(measures, at)
	if !ok || gone+surplus == 0 || gone == len(e.Pairs) {
		return true
	}
	dropOpenTies(p.part)
	data, err := explain.Sheet{Title: "Answer", Staves: []explain.SheetStaff{{Name: "Learner", Part: p.part}}}.Bytes()
	require.NoError(t, err)
	r, err := markOne(t, key, read(t, data))
	require.NoError(t, err)
	what := fmt.Sprintf("%s at measure %d of %d, level %d, %s from %s, %d notes", f.name, at, len(measures), e.Level.Number, e.Instrument.ID, e.From, len(e.Pairs))
	done[f.name]++
	right := len(e.Pairs) - gone
	return assert.Equal(t, right, r.Right, "%s: right notes\n%s", what, story(p, r)) &&
		assert.Len(t, r.Mistakes, 1, "%s: mistakes\n%s", what, story(p, r)) &&
		assert.Equal(t, f.kind, r.Mistakes[0].Kind, what) &&
		assert.Equal(t, gone+surplus, r.Mistakes[0].Notes, "%s\n%s", what, story(p, r)) &&
		assert.Equal(t, max(min(len(e.Pairs)-1, 2*right), right-one(surplus > 0)), r.Lenient, "%s\n%s", what, story(p, r))
}
