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
	profile  *profile
}

// breaker finds lines and pages in one sum.
type breaker struct {
	// linesTo are those that may end at a place.
	linesTo func(to int) []line
	length  int // the last place
	// below is the least height from the foot of a line, or from the upper edge of
	// the page (nil), to the foot of the line that follows.
	below func(before *profile, l line) display.Spaces
	// room is the height of a page for lines, by its number from 0.
	room func(page int) display.Spaces
	// rest is the time to turn at a place, in seconds.
	rest func(place int) float64
	// first is the number of the first page; odd pages lie right and are turned.
	first int
	turns bool // whether pages are turned at all
	most  int  // pages; 0 for as many as are wanted
}

// What a page costs, in the unit of the engraver's lines, where a line stretched by
// half costs 0.16. A turn without time must outweigh everything that other lines
// and fuller pages could save; a turn with time costs what the player has to do.
const (
	turnCost  = 1000
	hasteCost = 4   // more, where there is no rest at all, and nearly as much for a little
	leafCost  = 0.5 // of a turn with time
	pageCost  = 1
	slack     = 1.5 // times the square of the share that stays empty
	lastSlack = 0.8 // the same on the last page
)

// fineness is how finely heights are added up.
const fineness display.Spaces = 1

// full is the least share of a page, but for the last, that is filled.
const full = 0.5

// kinds tell pages apart by what is to come: the first pages, of which there may be
// no more than a number, and all others that lie right or left.
const kinds = beside + 2

func kindOf(page int32) int32 {
	if page < beside {
		return page
	}
	return beside + page%2
}

// state is the cheapest way to a place with the last page filled so far. There are
// many of them, so that they hold no pointers.
type state struct {
	cost   float64
	before int32 // the state before, -1 at the beginning
	line   int32 // the last line, among those of the search; closed where the page ends here
	page   int32 // its number from 0
	// used is the height from the page's upper edge to the foot of the last line, in
	// units of fineness; what hangs below that foot counts where the page is full.
	used int32
}

// mostAtOnce bounds the states that memory is taken for at once.
const mostAtOnce = 1 << 18

// closed stands for the last line of a page that ends.
const closed int32 = -1

// search is a breaker at work. Its memory is used again by the next.
type search struct {
	*breaker
	states []state
	lines  []line
	// For each place, where what belongs to it begins among the lines that end there,
	// and among the states: the ways to a page that goes on, then those to one that
	// ends there.
	begin, open, ended []int32
	slots              []int32 // of the place in hand, states by kind of page and height; -1 for none
	rooms              [kinds]int32
	tall               int32 // the highest page
	// heights are those from the foot of each line that ends where the line in hand
	// begins to the foot of that, as far as they were asked for; 0 for the others.
	heights []int32
}

// solve returns the pages as runs of lines with what they cost; no pages where there
// is no way at all.
func (s *search) solve(b *breaker) (pages [][]line, cost float64) {
	s.start(b)
	for to := 1; to <= b.length; to++ {
		s.begin = append(s.begin, int32(len(s.lines)))
		s.open = append(s.open, int32(len(s.states)))
		s.lines = append(s.lines, b.linesTo(to)...)
		for number := s.begin[to]; number < int32(len(s.lines)); number++ {
			s.extend(number)
		}
		s.ended = append(s.ended, int32(len(s.states)))
		s.closePages(to)
	}
	s.open = append(s.open, int32(len(s.states)))
	best := int32(-1)
	for i := s.ended[b.length]; i < s.open[b.length+1]; i++ {
		if best < 0 || s.states[i].cost < s.states[best].cost {
			best = i
		}
	}
	if best < 0 {
		return nil, math.Inf(1)
	}
	return s.trace(best), s.states[best].cost
}

// start empties the search for a breaker: the one state is the beginning, as if a page
// had ended there.
func (s *search) start(b *breaker) {
	s.breaker, s.tall = b, 0
	for kind := range s.rooms {
		s.rooms[kind] = int32(b.room(kind) / fineness)
		s.tall = max(s.tall, s.rooms[kind])
	}
	// Most books have as many states as there are heights of a right and a left page, for
	// each place: so much at once makes no garbage in growing.
	if usual := min(2*int(s.tall)*b.length, mostAtOnce); cap(s.states) < usual/2 {
		s.states = make([]state, 0, usual)
	}
	s.states, s.lines = append(s.states[:0], state{before: -1, page: -1, line: closed}), s.lines[:0]
	s.begin, s.open, s.ended = append(s.begin[:0], 0), append(s.open[:0], 0), append(s.ended[:0], 0)
	s.slots = s.slots[:0]
	for range kinds * (s.tall + 1) {
		s.slots = append(s.slots, -1)
	}
}

func units(height display.Spaces) int32 { return int32(math.Ceil(float64(height / fineness))) }

func (s *search) roomOn(page int32) int32 { return s.rooms[kindOf(page)] }

// extend sets a line below all lines that may stand before it, and at the head of
// a new page.
func (s *search) extend(number int32) {
	l := s.lines[number]
	begin := s.begin[l.from]
	s.heights = slices.Grow(s.heights[:0], int(s.begin[l.from+1]-begin))[:s.begin[l.from+1]-begin]
	clear(s.heights)
	hangs := units(l.profile.hangs)
	for i := s.open[l.from]; i < s.ended[l.from]; i++ {
		before := &s.states[i]
		height := s.heights[before.line-begin]
		if height == 0 {
			height = units(s.below(s.lines[before.line].profile, l))
			s.heights[before.line-begin] = height
		}
		used := before.used + height
		if used+hangs <= s.roomOn(before.page) {
			s.offer(before.cost+l.cost, i, number, before.page, used)
		}
	}
	if s.ended[l.from] == s.open[l.from+1] {
		return
	}
	first := units(s.below(nil, l))
	for i := s.ended[l.from]; i < s.open[l.from+1]; i++ {
		before := &s.states[i]
		page := before.page + 1
		if s.most > 0 && int(page) >= s.most {
			continue
		}
		// What is too high for a page stands on it alone.
		used := min(first, max(0, s.roomOn(page)-hangs))
		s.offer(before.cost+l.cost+pageCost, i, number, page, used)
	}
}

// offer keeps a way to the place in hand if it is the cheapest with its page filled so.
func (s *search) offer(cost float64, before, line, page, used int32) {
	slot := &s.slots[kindOf(page)*(s.tall+1)+used]
	if *slot < 0 {
		*slot = int32(len(s.states))
		s.states = append(s.states, state{cost, before, line, page, used})
	} else if way := &s.states[*slot]; cost < way.cost {
		*way = state{cost, before, line, page, used}
	}
}

// closePages ends the page at a place, in the best way for each kind, and clears the
// slots for the next place.
func (s *search) closePages(place int) {
	var best [kinds]state
	for i := range best {
		best[i].before = -1
	}
	for i := s.open[place]; i < s.ended[place]; i++ {
		way := s.states[i]
		s.slots[kindOf(way.page)*(s.tall+1)+way.used] = -1
		way.cost += s.pageEnd(&way, place)
		if ended := &best[kindOf(way.page)]; ended.before < 0 || way.cost < ended.cost {
			way.before, way.line = i, closed
			*ended = way
		}
	}
	for i := range best {
		if best[i].before >= 0 {
			s.states = append(s.states, best[i])
		}
	}
}

// pageEnd is what it costs to end a page here: the height that stays empty and the
// turn. The last page may be short and is not turned.
func (s *search) pageEnd(way *state, place int) float64 {
	share := min(1, float64(way.used+units(s.lines[way.line].profile.hangs))/float64(s.roomOn(way.page)))
	if place == s.length {
		return lastSlack * (1 - share) * (1 - share)
	}
	cost := slack * (1 - share) * (1 - share)
	if share < full {
		cost += 2 * turnCost * (1 + full - share) // only where nothing else is to be had
	}
	if s.turns && s.isRight(int(way.page)) {
		cost += leafCost
		if rest := s.rest(place); rest < enough {
			cost += turnCost + hasteCost*(1-(rest/enough)*(rest/enough))
		}
	}
	return cost
}

// isRight reports whether a page, counted from 0, lies right.
func (b *breaker) isRight(page int) bool { return (b.first+page)%2 != 0 }

// trace follows the way back.
func (s *search) trace(last int32) (pages [][]line) {
	for i := last; i >= 0 && s.states[i].before >= 0; i = s.states[i].before {
		if way := &s.states[i]; way.line == closed {
			pages = append(pages, nil)
		} else {
			pages[len(pages)-1] = append(pages[len(pages)-1], s.lines[way.line])
		}
	}
	for _, p := range pages {
		slices.Reverse(p)
	}
	slices.Reverse(pages)
	return pages
}
