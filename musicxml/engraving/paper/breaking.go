package paper

import (
	"math"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// A book is broken as one sequence of bars, those of all movements one after the
// other; a movement without music counts as one bar. Places are counted between
// bars: 0 is the beginning of the book.

// line is a run of bars on one line.
type line struct {
	from, to int // places
	cost     float64
	outline  *outline
}

// breaker finds lines and pages in one sum.
type breaker struct {
	// lines are those that may end at a place.
	lines  func(to int) []line
	length int // the last place
	// below is the least height from the foot of a line, or from the upper edge of
	// the page (nil), to the foot of the line that follows.
	below func(before *outline, l line) display.Spaces
	// room is the height of a page for lines, by its number from 0.
	room func(page int) display.Spaces
	// rest is the time to turn at a place, in seconds.
	rest func(place int) float64
	// first is the number of the first page; odd pages lie right and are turned.
	first int
	turns bool // whether pages are turned at all
}

// What a page costs, in the unit of the engraver's lines, where a line stretched by
// half costs 0.16. A turn without time must outweigh everything that other lines
// and fuller pages could save, and each more page only says that of two equal ways
// the shorter is better.
const (
	turnCost = 1000
	pageCost = 0.3
	slack    = 1.5 // times the square of the share that stays empty
)

// fineness is how finely heights are added up.
const fineness display.Spaces = 1

// full is the least share of a page, but for the last, that is filled.
const full = 0.5

// kinds tell pages apart by what is to come: the first and the second page, and
// all others that lie right or left as these.
const kinds = 4

func kindOf(page int32) int32 {
	if page < 2 {
		return page
	}
	return 2 + page%2
}

// state is the cheapest way to a place with the last page filled so far.
type state struct {
	cost   float64
	before int32 // the state before, -1 at the beginning
	line   line
	page   int32 // its number from 0
	// used is the height from the page's upper edge to the foot of the last line, in
	// units of fineness; what hangs below that foot counts where the page is full.
	used   int32
	closed bool // the page ends here
}

// search is a breaker at work.
type search struct {
	*breaker
	states []state
	open   [][]int32 // for each place, states by kind of page and height; -1 for none
	ended  [][]int32 // for each place, states whose page ends there
	rooms  [kinds]int32
	tall   int32 // the highest page
}

// solve returns the pages as runs of lines; nil where there is no way at all.
func (b *breaker) solve() [][]line {
	s := &search{breaker: b, open: make([][]int32, b.length+1), ended: make([][]int32, b.length+1)}
	for kind := range s.rooms {
		s.rooms[kind] = int32(b.room(kind) / fineness)
		s.tall = max(s.tall, s.rooms[kind])
	}
	s.states = append(make([]state, 0, 64*b.length), state{before: -1, page: -1, closed: true})
	s.ended[0] = []int32{0}
	for to := 1; to <= b.length; to++ {
		for _, l := range b.lines(to) {
			s.extend(l)
		}
		s.closePages(to)
	}
	best := int32(-1)
	for _, i := range s.ended[b.length] {
		if best < 0 || s.states[i].cost < s.states[best].cost {
			best = i
		}
	}
	return s.trace(best)
}

func units(height display.Spaces) int32 { return int32(math.Ceil(float64(height / fineness))) }

func (s *search) roomOn(page int32) int32 { return s.rooms[kindOf(page)] }

// extend sets a line below all lines that may stand before it, and at the head of
// a new page.
func (s *search) extend(l line) {
	hangs := units(l.outline.hangs)
	for _, i := range s.open[l.from] {
		if i < 0 {
			continue
		}
		before := s.states[i]
		used := before.used + units(s.below(before.line.outline, l))
		if used+hangs <= s.roomOn(before.page) {
			s.offer(state{before.cost + l.cost, i, l, before.page, used, false})
		}
	}
	for _, i := range s.ended[l.from] {
		before := s.states[i]
		page := before.page + 1
		// What is too high for a page stands on it alone.
		used := min(units(s.below(nil, l)), max(0, s.roomOn(page)-hangs))
		s.offer(state{before.cost + l.cost + pageCost, i, l, page, used, false})
	}
}

// offer keeps a way if it is the cheapest to its place with its page filled so.
func (s *search) offer(way state) {
	at := s.open[way.line.to]
	if at == nil {
		at = make([]int32, kinds*(s.tall+1))
		for i := range at {
			at[i] = -1
		}
		s.open[way.line.to] = at
	}
	slot := &at[kindOf(way.page)*(s.tall+1)+way.used]
	switch {
	case *slot < 0:
		s.states = append(s.states, way)
		*slot = int32(len(s.states) - 1)
	case way.cost < s.states[*slot].cost:
		s.states[*slot] = way
	}
}

// closePages ends the page at a place, in the best way for each kind.
func (s *search) closePages(place int) {
	var best [kinds]int32
	for i := range best {
		best[i] = -1
	}
	for _, i := range s.open[place] {
		if i < 0 {
			continue
		}
		way := s.states[i]
		way.before = i
		way.cost += s.pageEnd(way, place)
		way.line, way.closed = line{}, true
		slot := &best[kindOf(way.page)]
		switch {
		case *slot < 0:
			s.states = append(s.states, way)
			*slot = int32(len(s.states) - 1)
		case way.cost < s.states[*slot].cost:
			s.states[*slot] = way
		}
	}
	for _, i := range best {
		if i >= 0 {
			s.ended[place] = append(s.ended[place], i)
		}
	}
}

// pageEnd is what it costs to end a page here: the height that stays empty and the
// turn. The last page may be short and is not turned.
func (s *search) pageEnd(way state, place int) float64 {
	if place == s.length {
		return 0
	}
	share := min(1, float64(way.used+units(s.states[way.before].line.outline.hangs))/float64(s.roomOn(way.page)))
	cost := slack * (1 - share) * (1 - share)
	if share < full {
		cost += 2 * turnCost * (1 + full - share) // only where nothing else is to be had
	}
	if s.turns && s.isRight(int(way.page)) {
		if rest := s.rest(place); rest < enough {
			cost += turnCost * (1 + 0.1*(enough-rest)/enough)
		}
	}
	return cost
}

// isRight reports whether a page, counted from 0, lies right.
func (b *breaker) isRight(page int) bool { return (b.first+page)%2 != 0 }

// trace follows the way back.
func (s *search) trace(last int32) (pages [][]line) {
	for i := last; i >= 0 && s.states[i].before >= 0; i = s.states[i].before {
		if way := &s.states[i]; way.closed {
			pages = append(pages, nil)
		} else {
			pages[len(pages)-1] = append(pages[len(pages)-1], way.line)
		}
	}
	for _, p := range pages {
		slices.Reverse(p)
	}
	slices.Reverse(pages)
	return pages
}
