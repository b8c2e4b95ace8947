package pdfread

import (
	"math"
	"math/bits"
	"slices"
	"strconv"
	"strings"
)

// quarter is a quarter note in ticks: divisible by all that music is divided into.
const quarter int64 = 256 * 9 * 5 * 7 * 11 * 13

var restTicks = map[string]int64{"𝄺": 8 * quarter, "𝄻": 4 * quarter, "𝄼": 2 * quarter, "𝄽": quarter, "𝄾": quarter / 2, "𝄿": quarter / 4,
	"𝅀": quarter / 8, "𝅁": quarter / 16, "𝅂": quarter / 32}

// hollowHeads are the heads of half notes.
const hollowHeads = "𝅗𝆹𝅎𝅊𝅒𝅆𝅈"

// readValue works out the duration that is printed.
func (e *event) readValue() {
	switch {
	case e.rest != nil:
		e.plain = restTicks[e.rest.text]
	case strings.HasPrefix(e.heads[0].text, "𝅜"):
		e.plain = 8 * quarter
	case strings.HasPrefix(e.heads[0].text, "𝅝"):
		e.plain = 4 * quarter
	case strings.ContainsRune(hollowHeads, []rune(e.heads[0].text)[0]):
		e.plain = 2 * quarter
	default:
		e.plain = quarter >> e.levels
	}
	for add, i := e.plain/2, 0; i < e.dots; i++ {
		e.plain += add
		add /= 2
	}
	if e.between > 0 {
		e.plain /= 2 // two notes share the time that each of them shows
	}
	e.ticks = e.plain
}

// tuplet is the figure of a tuplet.
type tuplet struct {
	count   int64
	normal  []int64 // in whose time, likeliest first
	members []*event
}

// usually is in the time of how many notes a number of them is played, where the
// figure says no more: the powers of two below, three notes of a compound beat.
var usually = map[int64][]int64{2: {3}, 3: {2, 4}, 4: {3, 6}, 5: {4, 6, 3, 2}, 6: {4, 5}, 7: {4, 8, 6, 3}, 8: {6, 12, 9}, 9: {8, 6}, 10: {8, 6, 12}, 11: {8, 12},
	12: {8}, 13: {8, 12}, 14: {8, 12}, 15: {8, 16}}

// readTuplets finds the figures of a bar and the notes below each bracket or beam.
func (b *bar) readTuplets() (list []*tuplet) {
	for _, l := range b.system.letters {
		if !strings.HasSuffix(l.font, "-BoldItalic") || l.at.x < b.from || l.at.x > b.to || l.size > 1.6 {
			continue
		}
		t := tupletOf(l)
		if t == nil {
			continue
		}
		b.findMembers(t, l.at.x+l.width/2, l.at.y)
		if len(t.members) > 0 {
			list = append(list, t)
		}
	}
	return list
}

func tupletOf(l letters) *tuplet {
	over, under, exact := strings.Cut(l.text, ":")
	n, err := strconv.ParseInt(over, 10, 64)
	if err != nil || n < 2 {
		return nil
	}
	t := &tuplet{count: n, normal: usually[n]}
	if m, err := strconv.ParseInt(under, 10, 64); exact && err == nil && m > 0 {
		t.normal = []int64{m}
	}
	if len(t.normal) == 0 {
		t.normal = []int64{int64(1) << (bits.Len64(uint64(n)) - 1)}
	}
	return t
}

// findMembers finds the events that a figure stands for: those below its bracket, or
// those that it stands in the middle of.
func (b *bar) findMembers(t *tuplet, middle, y float64) {
	st := b.system.nearest(y)
	if from, to, found := b.system.bracketAt(middle, y-0.5); found {
		var others []*event
		for _, e := range b.events {
			switch {
			case e.x <= from-0.3 || e.x >= to:
			case e.staff == st:
				t.members = append(t.members, e)
			default:
				others = append(others, e)
			}
		}
		t.members = b.oneVoice(t.members, y)
		if !isValue(printed(t.members), t.count) { // of a voice that goes on on the next staff
			others = slices.DeleteFunc(others, func(e *event) bool { return overlapping(append([]*event{e}, t.members...)) })
			if all := append(others, t.members...); isValue(printed(all), t.count) {
				t.members = all
			}
		}
		return
	}
	least := 0.45
	for _, line := range b.crossing() {
		if members, off := t.around(line, middle); off < least {
			t.members, least = members, off
		}
	}
	for _, st := range b.system.staves {
		for _, line := range b.lines(st) {
			if members, off := t.around(line, middle); off+0.2*math.Abs(float64(st.index-b.system.nearest(y).index)) < least {
				t.members, least = members, off
			}
		}
	}
}

// lines are the events of a staff that may follow one another: all of them, and
// those with stems up and down, each with the rests.
func (b *bar) lines(st *staff) [3][]*event {
	var lines [3][]*event
	for _, e := range b.events {
		if e.staff != st || b.isWholeBarRest(e) {
			continue
		}
		lines[0] = append(lines[0], e)
		if e.rest != nil || e.up {
			lines[1] = append(lines[1], e)
		}
		if e.rest != nil || !e.up {
			lines[2] = append(lines[2], e)
		}
	}
	return lines
}

// crossing are the events under each beam over several staves.
func (b *bar) crossing() (list [][]*event) {
	byBeam := map[*shape][]*event{}
	var beams []*shape
	for _, e := range b.events {
		for _, p := range e.beams {
			if byBeam[p] == nil {
				beams = append(beams, p)
			}
			byBeam[p] = append(byBeam[p], e)
		}
	}
	for _, p := range beams {
		if group := byBeam[p]; slices.ContainsFunc(group, func(e *event) bool { return e.staff != group[0].staff }) {
			list = append(list, group)
		}
	}
	return list
}

// printed is the time of all events as it is printed.
func printed(list []*event) (total int64) {
	for _, e := range list {
		total += e.plain
	}
	return total
}

// around finds the run of events that has a figure in its middle and makes up its
// number in one value; off is how far the middle lies from it.
func (t *tuplet) around(line []*event, middle float64) (members []*event, off float64) {
	off = math.Inf(1)
	for i := range line {
		var total int64
		for k := i; k < len(line); k++ {
			total += line[k].plain
			if k == i || line[k].small != line[i].small || !isValue(total, t.count) {
				continue
			}
			first, last := line[i], line[k]
			d := math.Abs((first.x+last.x+last.wide())/2 - middle)
			if first.stem != nil && last.stem != nil {
				d = min(d, math.Abs((first.stem.first().x+last.stem.first().x)/2-middle))
			}
			if d += 0.01 * math.Abs(float64(int64(k-i+1)-t.count)); d < off {
				members, off = line[i:k+1], d
			}
		}
	}
	return members, off
}

// wide is the width of the event's head or rest.
func (e *event) wide() float64 {
	if e.rest != nil {
		return e.rest.width
	}
	return e.heads[0].width
}

// isValue reports whether a time is so many notes of one value.
func isValue(total, count int64) bool {
	if total%count != 0 {
		return false
	}
	for v := 4 * quarter; v >= quarter/64; v /= 2 {
		if v == total/count {
			return true
		}
	}
	return false
}

// oneVoice leaves the events of one voice where the staff has several: those whose
// stems point to the figure.
func (b *bar) oneVoice(list []*event, y float64) (kept []*event) {
	ups, downs := 0, 0
	for _, e := range list {
		if e.stem != nil && e.up {
			ups++
		} else if e.stem != nil {
			downs++
		}
	}
	if ups == 0 || downs == 0 || !overlapping(list) {
		return list
	}
	for _, e := range list {
		above := y < e.at().y
		if e.stem == nil || e.up == above {
			kept = append(kept, e)
		}
	}
	return kept
}

// at is where the event's head or rest stands.
func (e *event) at() point {
	if e.rest != nil {
		return e.rest.at
	}
	return e.heads[0].at
}

// overlapping reports whether two events stand above one another.
func overlapping(list []*event) bool {
	for i, e := range list {
		if slices.ContainsFunc(list[i+1:], func(f *event) bool { return math.Abs(e.x-f.x) < 0.4 }) {
			return true
		}
	}
	return false
}

// bracketAt finds the bracket whose gap is at a figure.
func (s *system) bracketAt(middle, y float64) (from, to float64, found bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := range s.strokes {
		k := &s.strokes[i]
		if len(k.points) != 3 || k.curved {
			continue
		}
		a, corner, c := k.points[0], k.points[1], k.points[2]
		switch {
		case math.Abs(a.x-corner.x) < 0.01 && math.Abs(corner.y-c.y) < 0.01 && math.Abs(c.y-y) < 0.35 && c.x < middle && middle-c.x < 2.5:
			from = a.x
		case math.Abs(corner.x-c.x) < 0.01 && math.Abs(a.y-corner.y) < 0.01 && math.Abs(a.y-y) < 0.35 && a.x > middle && a.x-middle < 2.5:
			to = c.x
		}
	}
	return from, to, from < to && !math.IsInf(from, 0) && !math.IsInf(to, 0)
}
