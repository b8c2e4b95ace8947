package pdfread

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// head is a note's head with what stands at it.
type head struct {
	*symbol
	staff      *staff
	accidental string
	event      *event
	step, oct  int
	alter      float64
	tied       bool // a tie leads to it
}

// event is a chord on one stem, a stemless head, or a rest.
type event struct {
	bar   *bar
	staff *staff
	heads []*head
	rest  *symbol
	stem  *stroke
	up    bool
	x     float64 // of the left edge of an ordinary head
	// beams and flags at the stem's tip, strokes of a tremolo between two notes.
	levels  int
	beams   []*shape
	between int
	dots    int
	small   bool
	slashed bool // a stroke through the stem: certainly a grace note
	grace   bool
	onset   int64 // in ticks from the beginning of the bar
	plain   int64 // the duration that is printed, in ticks, without tuplets
	ticks   int64
}

// center is the middle of the ordinary head.
func (e *event) center() float64 {
	if e.rest != nil {
		return e.rest.at.x + e.rest.width/2
	}
	return e.x + e.heads[0].width/2
}

// readNotes finds the heads and rests of a bar and what belongs to each.
func (b *bar) readNotes() {
	s := b.system
	stems := s.stemsIn(b.from, b.to)
	loose := map[*symbol]*head{}
	var heads []*head
	b.symbols(func(y *symbol) {
		switch {
		case y.taken:
		case y.isHead() && s.onStaff(y):
			h := &head{symbol: y, staff: s.staffOf(y)}
			heads = append(heads, h)
			loose[y] = h
		case y.isRest():
			b.events = append(b.events, &event{bar: b, staff: s.nearest(y.at.y), rest: y, x: y.at.x, small: y.small()})
		}
	})
	for _, k := range stems {
		if e := b.chordOn(k, heads); e != nil {
			b.events = append(b.events, e)
		}
	}
	for _, h := range heads {
		if h.event == nil {
			e := &event{bar: b, staff: h.staff, heads: []*head{h}, x: h.at.x, small: h.small()}
			h.event = e
			b.events = append(b.events, e)
		}
	}
	slices.SortStableFunc(b.events, func(x, y *event) int { return cmp.Compare(x.x, y.x) })
	b.readBeams()
	b.readFlags()
	b.readDots()
	b.readSigns(heads)
}

// stemsIn are upright strokes as thick as stems.
func (s *system) stemsIn(from, to float64) (stems []*stroke) {
	for i := range s.strokes {
		k := &s.strokes[i]
		if k.upright() && !k.dashed && k.width > 1.1*s.thin && k.width < 1.45*s.thin && k.first().x > from && k.first().x < to {
			stems = append(stems, k)
		}
	}
	return stems
}

func ends(k *stroke) (top, bottom float64) {
	return min(k.first().y, k.last().y), max(k.first().y, k.last().y)
}

// chordOn makes an event of a stem with its heads: those that touch it, on the one
// side or the other, and have no stem yet. The stem grows from a head at its end.
func (b *bar) chordOn(k *stroke, heads []*head) *event {
	x := k.first().x
	top, bottom := ends(k)
	var mine []*head
	for _, h := range heads {
		touches := math.Abs(h.at.x-x) < 0.12 || math.Abs(h.right()-x) < 0.12
		if h.event == nil && touches && h.at.y > top-0.4 && h.at.y < bottom+0.4 && !strings.ContainsAny(h.text, "𝅝𝅜") {
			mine = append(mine, h)
		}
	}
	if len(mine) == 0 {
		return nil
	}
	slices.SortFunc(mine, func(a, c *head) int { return cmp.Compare(a.at.y, c.at.y) })
	e := &event{bar: b, staff: mine[0].staff, stem: k}
	e.up = bottom-mine[len(mine)-1].at.y < mine[0].at.y-top
	e.heads = b.onlyFrom(e, mine, top, bottom)
	for _, h := range e.heads {
		h.event = e
	}
	first := e.heads[0]
	e.small = first.small()
	e.x = x - k.width/2
	if e.up {
		e.x = x + k.width/2 - first.width
	}
	return e
}

// onlyFrom leaves out heads at the tip of a stem, which belong to another voice, and
// of several heads in one place all but one.
func (b *bar) onlyFrom(e *event, mine []*head, top, bottom float64) (kept []*head) {
	for _, h := range mine {
		again := slices.ContainsFunc(kept, func(o *head) bool { return o.at == h.at })
		atTip := e.up && h.at.y-top < 0.8 || !e.up && bottom-h.at.y < 0.8
		if !again && (!atTip || len(mine) == 1) {
			kept = append(kept, h)
		}
	}
	if len(kept) == 0 {
		return mine[:1]
	}
	return kept
}

// readBeams counts the beams at each stem, and the strokes between notes that share
// a tremolo.
func (b *bar) readBeams() {
	for i := range b.system.shapes {
		p := &b.system.shapes[i]
		if p.rect || p.curved || len(p.points) != 4 {
			continue
		}
		left, right := p.points[0], p.points[1]
		if right.x < b.from || left.x > b.to {
			continue
		}
		var touched []*event
		for _, e := range b.events {
			if e.stem == nil {
				continue
			}
			x := e.stem.first().x
			top, bottom := ends(e.stem)
			y := left.y + (right.y-left.y)*(x-left.x)/(right.x-left.x)
			thick := p.points[3].y - left.y
			if x > left.x-0.1 && x < right.x+0.1 && y+thick > top-0.3 && y < bottom+0.3 {
				touched = append(touched, e)
			}
		}
		if len(touched) == 1 && math.Abs((left.x+right.x)/2-touched[0].stem.first().x) < 0.15 {
			continue // a tremolo through the stem
		}
		for _, e := range touched {
			e.levels++
			e.beams = append(e.beams, p)
		}
		if len(touched) == 0 {
			b.readBetween(left, right)
		}
	}
	for _, e := range b.events {
		e.slashed = e.small && e.stem != nil && b.system.slashes(e.stem)
	}
}

// readBetween gives a stroke between two notes to both.
func (b *bar) readBetween(left, right point) {
	var before, after *event
	for _, e := range b.events {
		if e.rest != nil || math.Abs(e.heads[0].at.y-left.y) > 12 {
			continue
		}
		begins, ends := e.heads[0].right()-0.2, e.center()
		if e.stem != nil { // the stroke stands between stems
			begins, ends = e.stem.first().x, e.stem.first().x
		}
		if begins < left.x {
			before = e
		}
		if ends > right.x && after == nil {
			after = e
		}
	}
	if before != nil && after != nil && left.x-before.x < 5 {
		before.between++
		after.between++
	}
}

// slashes reports whether a short oblique stroke crosses a stem.
func (s *system) slashes(stem *stroke) bool {
	x := stem.first().x
	top, bottom := ends(stem)
	return slices.ContainsFunc(s.strokes, func(k stroke) bool {
		return len(k.points) == 2 && !k.upright() && !k.level() && length(&k) < 2 && k.first().x < x && k.last().x > x &&
			math.Abs((k.first().y+k.last().y)/2-(top+bottom)/2) < (bottom-top)/2
	})
}

// flagLevels are the flags by their signs.
var flagLevels = map[string]int{"𝅮": 1, "𝅯": 2, "𝅰": 3, "𝅱": 4, "𝅲": 5}

func (b *bar) readFlags() {
	b.symbols(func(y *symbol) {
		n := flagLevels[y.text]
		if n == 0 {
			return
		}
		for _, e := range b.events {
			if e.stem == nil || math.Abs(e.stem.first().x-y.at.x) > 0.12 {
				continue
			}
			top, bottom := ends(e.stem)
			if math.Abs(top-y.at.y) < 0.2 || math.Abs(bottom-y.at.y) < 0.2 {
				e.levels = max(e.levels, n)
			}
		}
	})
}

// readDots gives dots to the note or rest on their left, those of repeats left out.
func (b *bar) readDots() {
	found := map[*event]map[float64]bool{}
	b.symbols(func(y *symbol) {
		if y.text != "𝅭" || b.isRepeatDot(y) {
			return
		}
		var best *event
		nearest := math.Inf(1)
		for _, e := range b.events {
			for _, place := range e.places() {
				dx, dy := y.at.x-place.x, math.Abs(y.at.y-place.y)
				if dx < 0 || dx > 4 || dy > 0.8 || e.small != y.small() {
					continue
				}
				if d := dx + 3*dy; d < nearest {
					best, nearest = e, d
				}
			}
		}
		if best != nil {
			if found[best] == nil {
				found[best] = map[float64]bool{}
			}
			found[best][math.Round(y.at.x*10)] = true
		}
	})
	for e, xs := range found {
		e.dots = len(xs)
	}
}

// places are the right edges of an event's heads, or of its rest.
func (e *event) places() (list []point) {
	if e.rest != nil {
		return []point{{e.rest.right() - 0.1, e.rest.at.y - 0.5}}
	}
	for _, h := range e.heads {
		list = append(list, point{h.right() - 0.1, h.at.y})
	}
	return list
}

func (b *bar) isRepeatDot(y *symbol) bool {
	return slices.ContainsFunc(b.system.edges, func(e edge) bool {
		return e.thick && y.at.x > e.from-1.4 && y.at.x < e.to+1.4 && math.Abs(math.Abs(y.at.y-b.system.nearest(y.at.y).middle())-0.5) < 0.05
	})
}

// readSigns gives accidentals to the next head of their height.
func (b *bar) readSigns(heads []*head) {
	slices.SortStableFunc(heads, func(x, y *head) int { return cmp.Compare(x.at.x, y.at.x) })
	var signs []*symbol
	b.symbols(func(y *symbol) {
		if _, known := accidentals[plainSign(y.text)]; known && !y.taken {
			signs = append(signs, y)
		}
	})
	slices.SortStableFunc(signs, byX)
	for _, y := range signs {
		for _, h := range heads {
			if h.at.x > y.at.x && h.at.x-y.right() < 9 && math.Abs(h.at.y-y.at.y) < 0.05 && h.accidental == "" {
				h.accidental = plainSign(y.text)
				break
			}
		}
	}
}

// plainSign leaves out the figure of a comma.
func plainSign(text string) string {
	if strings.HasPrefix(text, "♯") || strings.HasPrefix(text, "♭") {
		return strings.TrimRight(text, "1235")
	}
	return text
}

// column is a moment of a bar at its place.
type column struct {
	x     float64
	onset int64
}
