package desks

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Passage is a stretch of time in which one instrument is played, to be given to one
// player.
type Passage struct {
	Instrument int     // from 0, below 64
	From, To   float64 // in seconds
	Notes      int
	// Apart are earlier passages that whoever has this one cannot have: the music leads
	// from one to the other without time to change.
	Apart []int
	// Hurried are earlier ones for which this is so with little time to change.
	Hurried []int
}

// Share says who plays which passage.
type Share struct {
	Player []int // beside the passages; -1: nobody is free
	Cost   Cost
	Exact  bool // nothing better is possible
}

// Cost is what is bad about a share, the worst first.
type Cost struct {
	Uncovered int // notes that nobody plays
	Carried   int // instruments that the players have, added up
	Hasty     int // changes under LeastSeconds
	Changes   int // from one instrument to another
}

// Compare orders costs, the better first.
func (c Cost) Compare(d Cost) int {
	return cmp.Or(cmp.Compare(c.Uncovered, d.Uncovered), cmp.Compare(c.Carried, d.Carried), cmp.Compare(c.Hasty, d.Hasty), cmp.Compare(c.Changes, d.Changes))
}

// Free reports whether whoever played one passage can play a later one: it has ended, and
// for another instrument there is time to change.
func Free(before, next Passage) bool {
	if before.Instrument == next.Instrument {
		return before.To <= next.From
	}
	return before.To+NoTime <= next.From
}

// hand is what a player has at a time.
type hand struct {
	last    int // passage, -1 before the first
	carried uint64
	had     []int // the passages so far from which the music leads to later ones
}

// state is a way to have dealt out the passages so far.
type state struct {
	hands  []hand
	cost   Cost
	parent *state
	player int // who took the last passage
	key    string
}

// mostStates bounds how many ways are followed at a time. As long as there are fewer the
// share is exact.
const mostStates = 1000

// ShareOut gives passages, in order of their beginning, to so many players: all that they
// can cover, with as few instruments to carry as can be, then with few hasty changes, then
// with few changes. Nobody has two passages at once, or less than NoTime to change.
func ShareOut(passages []Passage, players int) Share {
	states := []*state{{hands: make([]hand, players), player: -1}}
	for i := range states[0].hands {
		states[0].hands[i].last = -1
	}
	exact := true
	leadsOn := make([]bool, len(passages))
	for i := range passages {
		for _, p := range slices.Concat(passages[i].Apart, passages[i].Hurried) {
			leadsOn[p] = true
		}
	}
	for p := range passages {
		next := map[string]*state{}
		for _, s := range states {
			for _, n := range s.grow(passages, p, leadsOn[p]) {
				n.key = n.likeness()
				if old := next[n.key]; old == nil || n.cost.Compare(old.cost) < 0 {
					next[n.key] = n
				}
			}
		}
		states = states[:0]
		for _, s := range next {
			states = append(states, s)
		}
		slices.SortFunc(states, func(a, b *state) int {
			return cmp.Or(a.cost.Compare(b.cost), cmp.Compare(a.key, b.key))
		})
		if len(states) > mostStates {
			states, exact = states[:mostStates], false
		}
	}
	share := Share{Player: make([]int, len(passages)), Cost: states[0].cost, Exact: exact}
	s := states[0]
	for p := len(passages) - 1; p >= 0; p-- {
		share.Player[p] = s.player
		s = s.parent
	}
	return share
}

// grow lists the ways to deal out one passage more; leadsOn: the music leads from it to a
// later one.
func (s *state) grow(passages []Passage, p int, leadsOn bool) []*state {
	lost := &state{hands: s.hands, cost: s.cost, parent: s, player: -1}
	lost.cost.Uncovered += passages[p].Notes
	all := []*state{lost}
	for i, h := range s.hands {
		if h.last >= 0 && !Free(passages[h.last], passages[p]) || slices.ContainsFunc(passages[p].Apart, func(q int) bool { return slices.Contains(h.had, q) }) {
			continue
		}
		n := &state{hands: slices.Clone(s.hands), cost: s.cost, parent: s, player: i}
		n.cost.add(passages, h, p)
		n.hands[i] = hand{p, h.carried | 1<<passages[p].Instrument, h.had}
		if leadsOn {
			n.hands[i].had = append(slices.Clone(h.had), p)
		}
		all = append(all, n)
	}
	return all
}

// add counts what it costs a player to take a passage.
func (c *Cost) add(passages []Passage, h hand, p int) {
	if h.carried&(1<<passages[p].Instrument) == 0 {
		c.Carried++
	}
	for _, q := range passages[p].Hurried {
		if slices.Contains(h.had, q) {
			c.Hasty++
		}
	}
	if h.last < 0 || passages[h.last].Instrument == passages[p].Instrument {
		return
	}
	c.Changes++
	if passages[p].From-passages[h.last].To < LeastSeconds {
		c.Hasty++
	}
}

// likeness tells ways apart of which different things may become: players may change
// places.
func (s *state) likeness() string {
	hands := slices.Clone(s.hands)
	slices.SortFunc(hands, func(a, b hand) int { return cmp.Or(cmp.Compare(a.last, b.last), cmp.Compare(a.carried, b.carried)) })
	var b []byte
	for _, h := range hands {
		b = binary.BigEndian.AppendUint32(b, uint32(h.last))
		b = binary.BigEndian.AppendUint64(b, h.carried)
		b = binary.BigEndian.AppendUint32(b, uint32(len(h.had)))
		for _, p := range h.had {
			b = binary.BigEndian.AppendUint32(b, uint32(p))
		}
	}
	return string(b)
}
