package paper

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

var errEmpty = errors.New("a book without movements")

// Lay makes the pages of a book. It fails where the options leave no room for
// music, and where a movement's staves have not as many measures as it has bars.
func Lay(b *Book, o Options) (*Laid, error) {
	o, err := o.settle()
	if err != nil {
		return nil, err
	}
	if len(b.Movements) == 0 {
		return nil, errEmpty
	}
	s := &setter{book: b, o: o, first: max(1, b.Page), drawn: map[[2]int]*set{}}
	for i := range b.Movements {
		if err := s.addMovement(&b.Movements[i]); err != nil {
			return nil, fmt.Errorf("movement %d: %w", i+1, err)
		}
	}
	return s.assemble(s.breakPages()), nil
}

// setter lays one book.
type setter struct {
	book      *Book
	o         Options
	first     int // number of the first page
	movements []movement
	length    int // the last place
	// drawn are lines that were drawn, by their places.
	drawn map[[2]int]*set
	// ink is what is known of the height of each bar's line.
	ink []extent
}

// movement is one of the book's with its place in the sequence of bars.
type movement struct {
	*Movement
	layout  *engraving.Layout // nil where the player is silent
	from    int               // its first place
	to      int
	heading display.Spaces // height of what stands over its first line
}

// set is a line that was drawn.
type set struct {
	system  display.System
	stretch float64
}

// extent is how far a line's ink reaches over its first staff's upper line and
// below its last staff's lowest, and the height from the one to the other.
type extent struct{ above, staves, below display.Spaces }

func (e extent) union(f extent) extent {
	return extent{max(e.above, f.above), max(e.staves, f.staves), max(e.below, f.below)}
}

func (s *setter) width() display.Spaces {
	return display.Spaces((s.o.Paper.Width - 2*s.o.sides()) / s.o.space())
}

func (s *setter) addMovement(m *Movement) error {
	mv := movement{Movement: m, from: s.length, to: s.length + 1}
	if len(s.book.Movements) > 1 || m.Title != "" && m.Title != s.book.Title {
		mv.heading = headingHeight
	}
	if m.Music != nil && len(m.Music.Bars) > 0 {
		layout, err := engraving.NewLayout(m.Music, engraving.Options{Width: s.width(), Space: s.o.space(), LargePrint: s.o.Large})
		if err != nil {
			return err
		}
		mv.layout, mv.to = layout, s.length+len(m.Music.Bars)
	}
	s.length = mv.to
	s.movements = append(s.movements, mv)
	s.ink = append(s.ink, slices.Repeat([]extent{usualExtent(m.Music)}, mv.to-mv.from)...)
	return nil
}

// usualExtent is what a line is taken for before it is drawn.
func usualExtent(m *engraving.Music) extent {
	staves := 1
	if m != nil {
		staves = max(1, len(m.Staves))
	}
	return extent{2.5, 4 + 9*display.Spaces(staves-1), 3}
}

func (s *setter) movementAt(place int) *movement {
	i, _ := slices.BinarySearchFunc(s.movements, place, func(m movement, place int) int {
		if m.to <= place {
			return -1
		}
		return 1
	})
	return &s.movements[min(i, len(s.movements)-1)]
}

// rounds bounds how often pages are broken anew with the heights that were drawn.
const rounds = 8

// breakPages breaks the book with what is known of heights, draws the lines that
// come out, and does so again until they are what they were taken for.
func (s *setter) breakPages() [][]line {
	var pages [][]line
	turns := false
	for range rounds {
		b := &breaker{lines: s.linesTo, length: s.length, room: s.room, rest: s.restAt, first: s.first, turns: turns}
		pages = b.solve()
		if drawn := s.drawNew(pages); drawn {
			continue
		}
		// Three pages lie side by side and are not turned (engraving.md, section 2).
		if wants := !s.o.OneSided && len(pages) > beside; wants != turns && wants {
			turns = true
			continue
		}
		break
	}
	return pages
}

// beside is how many pages lie on a stand without a turn: two facing, a third
// folded out.
const beside = 3

// linesTo are the lines that may end at a place.
func (s *setter) linesTo(to int) []line {
	m := s.movementAt(to - 1)
	if m.layout == nil {
		return []line{{m.from, to, 0, m.heading + tacetHeight}}
	}
	var lines []line
	all := m.layout.LinesTo(to - m.from)
	least := math.Inf(1)
	for _, c := range all {
		least = min(least, c.Cost)
	}
	for _, c := range all {
		if c.Cost <= max(least, tooLoose) {
			from := m.from + c.First - 1
			lines = append(lines, line{from, to, c.Cost, s.heightOf(m, from, to)})
		}
	}
	return lines
}

// tooLoose is the cost from which on a line is not considered where a better one
// ends at the same bar: twice as wide as its music wants.
const tooLoose = 0.5

// heightOf is the height that a line takes, with what stands over it and the least
// distance to the next.
func (s *setter) heightOf(m *movement, from, to int) display.Spaces {
	var e extent
	if d := s.drawn[[2]int{from, to}]; d != nil {
		e = extentOf(&d.system)
	} else {
		for _, bar := range s.ink[from:to] {
			e = e.union(bar)
		}
	}
	height := e.staves + max(e.above+e.below+air, s.clear(m))
	if from == m.from {
		height += m.heading
	}
	return height
}

// air is kept free between the ink of two lines.
const air display.Spaces = 1

// clear is the least distance from staff to staff of two systems.
func (s *setter) clear(m *movement) display.Spaces {
	least := clear
	if m.Music != nil && len(m.Music.Staves) > 1 {
		least = clearWide
	}
	return display.Spaces(least / s.o.space())
}

func extentOf(system *display.System) extent {
	first, last := &system.Staves[0], &system.Staves[len(system.Staves)-1]
	top, foot := first.Y+2-display.Spaces(max(1, first.Lines)-1), last.Y+2
	return extent{top, foot - top, system.Height - foot}
}

// drawNew draws the lines that have not been drawn, and reports whether one turned
// out higher than it was taken for.
func (s *setter) drawNew(pages [][]line) (higher bool) {
	for _, page := range pages {
		stretch := 0.0
		for _, l := range page {
			m := s.movementAt(l.from)
			if m.layout == nil {
				continue
			}
			key := [2]int{l.from, l.to}
			if d := s.drawn[key]; d != nil {
				stretch = d.stretch
				continue
			}
			d := new(set)
			d.system, d.stretch = m.layout.Draw(l.from-m.from+1, l.to-m.from, stretch)
			stretch = d.stretch
			s.drawn[key] = d
			for bar := l.from; bar < l.to; bar++ {
				s.ink[bar] = s.ink[bar].union(extentOf(&d.system))
			}
			higher = higher || s.heightOf(m, l.from, l.to) > l.height+fineness
		}
	}
	return higher
}

// restAt is the time that the player has to turn between two bars: the rest that
// ends there and the one that begins there. In a general pause nobody turns.
func (s *setter) restAt(place int) float64 {
	if place <= 0 || place >= s.length {
		return math.Inf(1)
	}
	before, after := s.movementAt(place-1), s.movementAt(place)
	if before != after {
		return math.Inf(1) // between movements
	}
	if before.Bars == nil {
		return 0
	}
	return restBetween(before.Bars, place-before.from)
}

// restBetween adds up the rest on both sides of a place.
func restBetween(bars []BarTime, place int) float64 {
	rest := 0.0
	for i := place - 1; i >= 0; i-- {
		if bars[i].Pause {
			break
		}
		rest += bars[i].After
		if bars[i].After < bars[i].Seconds {
			break
		}
	}
	for i := place; i < len(bars); i++ {
		if bars[i].Pause {
			break
		}
		rest += bars[i].Before
		if bars[i].Before < bars[i].Seconds {
			break
		}
	}
	return rest
}
