package paper

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving/display"
)

// puzzle is a random book of few bars.
type puzzle struct {
	cost   [][]float64 // of the line from a place to another, infinite for none
	height []display.Spaces
	rests  []float64
	rooms  [2]display.Spaces
	first  int
}

func newPuzzle(r *rand.Rand) *puzzle {
	n := 4 + r.IntN(6)
	p := &puzzle{first: 1 + r.IntN(2), rooms: [2]display.Spaces{display.Spaces(6 + r.IntN(6)), display.Spaces(8 + r.IntN(6))}}
	for from := range n {
		p.cost = append(p.cost, make([]float64, n+1))
		for to := range p.cost[from] {
			p.cost[from][to] = math.Inf(1)
			if to > from && to-from <= 3 {
				p.cost[from][to] = r.Float64()
			}
		}
		p.height = append(p.height, display.Spaces(2+r.IntN(3)))
	}
	for range n + 1 {
		p.rests = append(p.rests, []float64{0, 0, 1, 2.5, 3, 10}[r.IntN(6)])
	}
	return p
}

func (p *puzzle) breaker() *breaker {
	return &breaker{
		linesTo: func(to int) (lines []line) {
			for from := range to {
				if !math.IsInf(p.cost[from][to], 1) {
					lines = append(lines, line{from, to, p.cost[from][to], &profile{staves: p.height[from]}})
				}
			}
			return lines
		},
		length: len(p.height),
		below:  func(_ *profile, l line) display.Spaces { return l.profile.staves },
		room:   func(page int) display.Spaces { return p.rooms[min(page, 1)] },
		rest:   func(place int) float64 { return p.rests[place] },
		first:  p.first, turns: true,
	}
}

// price is what a way of breaking costs, added up by the rules of the constants
// without the search; infinite where a page holds several lines that are too high.
func (p *puzzle) price(pages [][]line) float64 {
	sum := 0.0
	for i, page := range pages {
		sum += pageCost
		used := display.Spaces(0)
		for _, l := range page {
			sum += l.cost
			used += p.height[l.from]
		}
		room := p.rooms[min(i, 1)]
		if used > room && len(page) > 1 {
			return math.Inf(1)
		}
		share := float64(min(used, room) / room)
		if i == len(pages)-1 {
			sum += lastSlack * (1 - share) * (1 - share)
			continue
		}
		sum += slack * (1 - share) * (1 - share)
		if share < full {
			sum += 2 * turnCost * (1 + full - share)
		}
		rest := p.rests[page[len(page)-1].to]
		if (p.first+i)%2 == 1 {
			sum += leafCost
			if rest < enough {
				sum += turnCost + hasteCost*(1-math.Pow(rest/enough, 2))
			}
		}
	}
	return sum
}

// cheapest tries every way to cut the bars from a place on into lines and pages.
func (p *puzzle) cheapest(place int, pages [][]line) float64 {
	if place == len(p.height) {
		return p.price(pages)
	}
	best := math.Inf(1)
	for to := place + 1; to <= len(p.height); to++ {
		if math.IsInf(p.cost[place][to], 1) {
			continue
		}
		l := line{from: place, to: to, cost: p.cost[place][to]}
		best = min(best, p.cheapest(to, append(pages[:len(pages):len(pages)], []line{l})))
		if len(pages) > 0 {
			last := pages[len(pages)-1]
			grown := append(pages[:len(pages)-1:len(pages)-1], append(last[:len(last):len(last)], l))
			best = min(best, p.cheapest(to, grown))
		}
	}
	return best
}

// Lines, pages and turns are broken as cheaply as they can be: held against a
// search over all ways.
func TestPagesAreBrokenBest(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		p := newPuzzle(rand.New(rand.NewPCG(seed, 5)))
		pages, cost := new(search).solve(p.breaker())
		require.NotEmpty(t, pages)
		place := 0
		for _, page := range pages {
			for _, l := range page {
				assert.Equal(t, place, l.from)
				place = l.to
			}
		}
		assert.Equal(t, len(p.height), place)
		assert.InDelta(t, p.cheapest(0, nil), cost, 1e-9, "seed %d", seed)
		assert.InDelta(t, cost, p.price(pages), 1e-9, "seed %d", seed)
	}
}

// Time to turn by hand: rests on both sides of the place are one; a general pause
// is no time at all.
func TestRestBetween(t *testing.T) {
	t.Parallel()
	empty := BarTime{Seconds: 2, Before: 2, After: 2}
	played := BarTime{Seconds: 2}
	for _, row := range []struct {
		name string
		bars []BarTime
		at   int
		want float64
	}{
		{"played through", []BarTime{played, played}, 1, 0},
		{"half a bar before", []BarTime{{Seconds: 2, After: 1}, played}, 1, 1},
		{"both sides", []BarTime{{Seconds: 2, After: 1}, {Seconds: 2, Before: 0.5}}, 1, 1.5},
		{"whole bars add up", []BarTime{played, empty, empty, {Seconds: 2, Before: 1}}, 2, 5},
		{"a rest at the far side only", []BarTime{empty, played, played}, 2, 0},
		{"general pause before", []BarTime{{Seconds: 2, Before: 2, After: 2, Pause: true}, played}, 1, 0},
		{"general pause behind a rest", []BarTime{played, empty, {Seconds: 2, Before: 2, After: 2, Pause: true}}, 2, 2},
	} {
		assert.InDelta(t, row.want, restBetween(row.bars, row.at), 1e-9, row.name)
	}
}

// A book may be held to a number of pages: the cheapest way with no more of them, or
// none.
func TestPagesAreBounded(t *testing.T) {
	t.Parallel()
	for seed := range uint64(100) {
		p := newPuzzle(rand.New(rand.NewPCG(seed, 6)))
		free, cost := new(search).solve(p.breaker())
		for most := 1; most <= beside; most++ {
			b := p.breaker()
			b.most = most
			pages, bounded := new(search).solve(b)
			switch {
			case len(free) <= most:
				assert.InDelta(t, cost, bounded, 1e-9, "seed %d", seed)
			case pages == nil:
				assert.True(t, math.IsInf(bounded, 1))
			default:
				assert.LessOrEqual(t, len(pages), most, "seed %d", seed)
				assert.GreaterOrEqual(t, bounded, cost-1e-9, "seed %d", seed)
			}
		}
	}
}
