package desks_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/parts/internal/desks"
)

// TestShareOutAgainstBruteForce deals out 500 generated groups of passages, and tries every
// way there is: none is better, and the share keeps the rules.
func TestShareOutAgainstBruteForce(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 500))
	for n := range 500 {
		passages := somePassages(r, 1+r.IntN(6), 1+r.IntN(4))
		for i := range passages {
			if i > 0 && n%2 == 1 && r.IntN(2) == 0 {
				passages[i].Apart = []int{r.IntN(i)}
			}
			if i > 0 && n%4 > 1 && r.IntN(2) == 0 {
				passages[i].Hurried = []int{r.IntN(i)}
			}
		}
		players := 1 + r.IntN(3)
		share := desks.ShareOut(passages, players)
		assert.True(t, share.Exact)
		cost, ok := costOf(passages, share.Player, players)
		assert.True(t, ok, "%v %v", passages, share)
		assert.Equal(t, cost, share.Cost)
		best, found := bestOf(passages, players)
		assert.True(t, found)
		assert.Equal(t, best, share.Cost, "%v for %d", passages, players)
	}
}

func somePassages(r *rand.Rand, n, instruments int) []desks.Passage {
	ends := make([]float64, instruments)
	var all []desks.Passage
	for range n {
		in := r.IntN(instruments)
		from := ends[in] + float64(r.IntN(12))
		to := from + 1 + float64(r.IntN(6))
		ends[in] = to + 1
		all = append(all, desks.Passage{Instrument: in, From: from, To: to, Notes: 1 + r.IntN(9)})
	}
	slices.SortFunc(all, func(a, b desks.Passage) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.Instrument, b.Instrument))
	})
	return all
}

// bestOf tries every way.
func bestOf(passages []desks.Passage, players int) (best desks.Cost, found bool) {
	way := make([]int, len(passages))
	for i := range way {
		way[i] = -1
	}
	for {
		if cost, ok := costOf(passages, way, players); ok && (!found || cost.Compare(best) < 0) {
			best, found = cost, true
		}
		i := 0
		for ; i < len(way); i++ {
			if way[i]++; way[i] < players {
				break
			}
			way[i] = -1
		}
		if i == len(way) {
			return best, found
		}
	}
}

// costOf counts what a way costs, by the rules in words: two seconds to change, five not
// to be hasty.
func costOf(passages []desks.Passage, way []int, players int) (c desks.Cost, ok bool) {
	for player := range players {
		has := map[int]bool{}
		var last *desks.Passage
		for i := range passages {
			if way[i] != player {
				continue
			}
			p := &passages[i]
			has[p.Instrument] = true
			if last != nil {
				rest := p.From - last.To
				switch {
				case rest < 0, last.Instrument != p.Instrument && rest < 2:
					return c, false
				case last.Instrument != p.Instrument:
					c.Changes++
					if rest < 5 {
						c.Hasty++
					}
				}
			}
			for _, q := range p.Apart {
				if way[q] == player {
					return c, false
				}
			}
			for _, q := range p.Hurried {
				if way[q] == player {
					c.Hasty++
				}
			}
			last = p
		}
		c.Carried += len(has)
	}
	for i, p := range passages {
		if way[i] < 0 {
			c.Uncovered += p.Notes
		}
	}
	return c, true
}

// Worked by hand: what the players carry from earlier decides who takes what later; who has had
// nothing yet is as good as another, so that seven passages at once are followed to the end.
func TestWhoTakesAPassage(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why     string
		at      [][]int // instruments that begin together, ten seconds long, every twenty
		players int
		cost    desks.Cost
	}{
		{"the third has what the first had", [][]int{{0, 1}, {2, 3}, {0, 3}}, 2, desks.Cost{Carried: 4, Changes: 3}},
		{"the third has what the second had", [][]int{{0, 1}, {2, 3}, {0, 2}}, 2, desks.Cost{Carried: 4, Changes: 3}},
		{"all at once", [][]int{{0, 1, 2, 3, 4, 5, 6}}, 7, desks.Cost{Carried: 7}},
		{"more than there are hands", [][]int{{0, 1}, {0, 1}}, 1, desks.Cost{Uncovered: 2, Carried: 1}},
	} {
		var passages []desks.Passage
		for i, together := range row.at {
			for _, in := range together {
				from := 20 * float64(i)
				passages = append(passages, desks.Passage{Instrument: in, From: from, To: from + 10, Notes: 1})
			}
		}
		share := desks.ShareOut(passages, row.players)
		assert.Equal(t, row.cost, share.Cost, row.why)
		assert.True(t, share.Exact, row.why)
	}
}

// TestShareOutOfManyPassages: a long piece is shared out by the rules, with nothing lost
// where a share without loss is known to exist: three players who each have one
// instrument.
func TestShareOutOfManyPassages(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(9, 9))
	for range 2 {
		passages := somePassages(r, 60, 6)
		share := desks.ShareOut(passages, 6)
		cost, ok := costOf(passages, share.Player, 6)
		assert.True(t, ok)
		assert.False(t, share.Exact, "there are more ways than are followed")
		assert.Equal(t, cost, share.Cost)
		assert.Zero(t, cost.Uncovered, "one instrument each covers all")
		assert.LessOrEqual(t, cost.Carried, 12)
	}
}
