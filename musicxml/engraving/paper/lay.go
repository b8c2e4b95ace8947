package paper

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

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
	w := workspaces.Get().(*workspace)
	defer w.giveBack()
	s := &setter{book: b, o: o, drawn: map[[2]int]*set{}, workspace: w}
	for i := range b.Movements {
		if err := s.addMovement(&b.Movements[i]); err != nil {
			return nil, fmt.Errorf("movement %d: %w", i+1, err)
		}
	}
	s.findCandidates()
	return s.assemble(s.breakPages()), nil
}

// workspace is memory that is used again for other books.
type workspace struct {
	guesses guesses // of lines that were not drawn
	search  search
}

var workspaces = sync.Pool{New: func() any { return new(workspace) }}

// giveBack lets others have the workspace, which forgets the book.
func (w *workspace) giveBack() {
	clear(w.search.lines)
	w.search.breaker = nil
	workspaces.Put(w)
}

// setter lays one book.
type setter struct {
	book      *Book
	o         Options
	movements []*movement
	places    []*movement // the movement that begins or goes on at each place
	length    int         // the last place
	// drawn are lines that were drawn, by their places.
	drawn map[[2]int]*set
	// candidates are, for each place, the lines that may end there, with their profiles
	// as far as they are known.
	candidates [][]line
	*workspace
	// ink is what is known of each bar.
	ink []barInk
	// trust multiplies what lines are taken for that were not drawn.
	trust float32
}

// movement is one of the book's with its place in the sequence of bars.
type movement struct {
	*Movement
	number  int               // from 0
	layout  *engraving.Layout // nil where the player is silent
	from    int               // its first place
	to      int
	heading display.Spaces // height of what stands over its first line
}

// set is a line that was drawn.
type set struct {
	system  *display.System // nil where it is not kept
	usual   float64         // the stretch of the line before
	stretch float64
	profile *profile
}

func (s *setter) width() display.Spaces {
	return display.Spaces((s.o.Paper.Width - 2*s.o.sides()) / s.o.space())
}

func (s *setter) addMovement(m *Movement) error {
	mv := &movement{Movement: m, number: len(s.movements), from: s.length, to: s.length + 1}
	if len(s.book.Movements) > 1 || m.Title != "" && m.Title != s.book.Title {
		mv.heading = headingHeight
	}
	if m.Music != nil && len(m.Music.Bars) > 0 {
		o := engraving.Options{Width: s.width(), Space: s.o.space(), LargePrint: s.o.Large, RestRanges: true, Language: s.o.Language}
		layout, err := engraving.NewLayout(m.Music, o)
		if err != nil {
			return err
		}
		if split := layout.Split(); split != m.Music {
			m.Music = split
			if m.Bars != nil {
				m.Bars = Times(split)
			}
			if layout, err = engraving.NewLayout(split, o); err != nil {
				return err
			}
		}
		mv.layout, mv.to = layout, s.length+len(m.Music.Bars)
	}
	s.length = mv.to
	s.movements = append(s.movements, mv)
	for bar := range mv.to - mv.from {
		s.ink, s.places = append(s.ink, usualInk(m.Music, bar)), append(s.places, mv)
	}
	return nil
}

// rounds bounds how often pages are broken anew with the heights that were drawn.
const rounds = 12

// What lines that were not drawn are taken for, as multiples of what is guessed: the
// guess itself, a little more after each round whose lines did not fit; and less where
// more is hoped for than was found, with less hope after each round. So there is an end
// to both.
const (
	trust   = 1
	caution = 0.03
	hope    = 0.7
)

// breakPages breaks the book with what is known of heights, draws the lines that
// come out, and does so again until they fit their pages. Where a turn is left
// without time it looks for a better way that guesses may have hidden.
func (s *setter) breakPages() [][]line {
	pages := s.breakSafely()
	for s.trust = hope; s.trust < trust && s.hasty(pages) > 0; s.trust += caution {
		better, _ := s.solve(true)
		if s.hasty(better) >= s.hasty(pages) {
			break
		}
		drawn := s.drawNew(better)
		if s.fit(better) {
			pages = better
		} else if !drawn {
			break
		}
		s.keepOnly(pages)
	}
	return pages
}

func (s *setter) breakSafely() (pages [][]line) {
	turns := false
	for round := range rounds {
		s.trust = trust + caution*float32(max(0, round-1))
		pages, turns = s.solve(turns)
		drawn := s.drawNew(pages)
		s.keepOnly(pages)
		if !drawn || s.fit(pages) {
			break
		}
	}
	return pages
}

// hasty counts the turns that have no time.
func (s *setter) hasty(pages [][]line) (turns int) {
	for i, page := range pages {
		if i+1 < len(pages) && s.isTurned(i, len(pages)) && s.restAt(page[len(page)-1].to) < enough {
			turns++
		}
	}
	return turns
}

// solve breaks the book once. Up to three pages lie side by side and are not turned
// (engraving.md, section 2), so that a book that is little longer may be better off
// with fuller ones.
func (s *setter) solve(turns bool) (pages [][]line, turned bool) {
	s.guessProfiles()
	b := &breaker{linesTo: func(to int) []line { return s.candidates[to] }, length: s.length, room: s.room, rest: s.restAt, first: firstPage, turns: turns,
		below: func(before *profile, l line) display.Spaces { return s.below(before, l, leastAir) }}
	if !turns {
		if pages, _ = s.search.solve(b); s.o.OneSided || s.o.FreeHands || len(pages) <= beside {
			return pages, false
		}
		b.turns = true
	}
	pages, cost := s.search.solve(b)
	if len(pages) > 2*beside {
		return pages, true
	}
	b.turns, b.most = false, beside
	if fewer, less := s.search.solve(b); less < cost {
		return fewer, false
	}
	return pages, true
}

// fit reports whether the lines, as they were drawn, keep to their pages.
func (s *setter) fit(pages [][]line) bool {
	for i, page := range pages {
		if len(page) > 1 && s.free(i, page) < 0 {
			return false
		}
	}
	return true
}

// free is the height of a page that its lines leave empty.
func (s *setter) free(page int, lines []line) display.Spaces {
	free := s.room(page) - lines[len(lines)-1].profile.hangs
	var above *profile
	for _, l := range lines {
		free -= s.below(above, l, leastAir)
		above = l.profile
	}
	return free
}

// beside is how many pages lie on a stand without a turn: two facing, a third
// folded out.
const beside = 3

// below is the least height from the foot of a line (or from the upper edge of the
// page) to the foot of the next, with what stands over that, where that much air is kept
// between the ink of two lines.
func (s *setter) below(before *profile, l line, air display.Spaces) display.Spaces {
	m := s.places[l.from]
	height := l.profile.staves
	if l.from == m.from {
		height += m.heading
	}
	switch {
	case before == nil:
		return height + l.profile.rises
	case l.from == m.from && m.heading > 0:
		return height + before.hangs + l.profile.rises + air
	}
	return height + max(s.clear(before, l.profile), before.distance(l.profile, air))
}

// clear is the least distance from staff to staff of two systems.
func (s *setter) clear(above, below *profile) display.Spaces {
	least := clearance
	if above.joined || below.joined {
		least = wideClearance
	}
	return display.Spaces(least / s.o.space())
}

// drawNew draws the lines that have not been drawn, and reports whether there were
// any.
func (s *setter) drawNew(pages [][]line) (any bool) {
	for _, page := range pages {
		stretch := 0.0
		for i := range page {
			l := &page[i]
			m := s.places[l.from]
			if m.layout == nil {
				continue
			}
			d := s.drawn[[2]int{l.from, l.to}]
			if d == nil {
				any = true
				d = &set{usual: stretch}
				s.draw(d, m, *l)
				d.profile = profileOf(d.system)
				s.drawn[[2]int{l.from, l.to}] = d
				learn(s.ink[l.from:l.to], d.system, d.profile)
			}
			stretch, l.profile = d.stretch, d.profile
		}
	}
	return any
}

// keepOnly keeps what was drawn of the lines of these pages alone, and of all others
// their profiles.
func (s *setter) keepOnly(pages [][]line) {
	kept := map[*set]bool{}
	for _, l := range slices.Concat(pages...) {
		kept[s.drawn[[2]int{l.from, l.to}]] = true
	}
	for _, d := range s.drawn {
		if !kept[d] {
			d.system = nil
		}
	}
}

// systemOf is a line as it was drawn, with its notes in words.
func (s *setter) systemOf(m *movement, l line) *display.System {
	d := s.drawn[[2]int{l.from, l.to}]
	if d.system == nil {
		s.draw(d, m, l)
	}
	m.layout.Describe(d.system)
	return d.system
}

func (s *setter) draw(d *set, m *movement, l line) {
	system, stretch := m.layout.Draw(l.from-m.from+1, l.to-m.from, d.usual)
	d.system, d.stretch = &system, stretch
}

// restAt is the time that the player has to turn between two bars: the rest that
// ends there and the one that begins there. In a general pause nobody turns.
func (s *setter) restAt(place int) float64 {
	if place <= 0 || place >= s.length {
		return math.Inf(1)
	}
	before, after := s.places[place-1], s.places[place]
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
