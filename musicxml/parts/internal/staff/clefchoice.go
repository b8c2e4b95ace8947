package staff

import (
	"math"
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
)

// clefRange is what the player reads from a place on: the clefs, the usual one
// first.
type clefRange struct {
	musicxml.Position
	clefs []instruments.Clef
	said  bool // the score says that the part has the first of them there
}

// The costs by which a clef is chosen. They were set by the clefs that editors
// chose for the bassoons, cellos, violas and horns of ../shared/scores: see
// TestClefChoiceAgainstEditions.
var (
	// ledgerCost is of one quarter note or less, by its ledger lines; three are read
	// without trouble for a while, more are not.
	ledgerCost = [8]int{0, 0, 1, 3, 9, 15, 21, 27}
	// changeCost is of a change, by changeRoom.
	changeCost = [4]int{48, 20, 14, 12}
	// uncommonCost is of a passage in a clef that is not the usual one.
	uncommonCost = 1
)

const Never = math.MaxInt

// chooser finds for every passage the clef in which the whole is read best: few
// ledger lines, few changes, the player's usual clef.
type chooser struct {
	page     *Page
	staff    *staff
	inTime   []int
	passages []Passage
	reads    []clefRange
	// keeps says which clefs of the score are kept where they stand.
	keeps func(instruments.Clef) bool
	// shared are the clefs that those who share the staff read in each passage, nil on one
	// player's.
	shared [][]instruments.Clef

	clefs []instruments.Clef // all that come into question
	cost  []int              // of each passage in each clef, the way to it included
	came  []uint8            // the clef before it on the best way
}

// choose returns a clef for every passage.
func (c *chooser) choose() []instruments.Clef {
	c.gather()
	c.cost = make([]int, len(c.passages)*len(c.clefs))
	c.came = make([]uint8, len(c.cost))
	for i := range c.passages {
		c.weigh(i)
		if i > 0 {
			c.join(i)
		}
	}
	return c.retrace()
}

// gather lists the clefs that come into question.
func (c *chooser) gather() {
	add := func(clef instruments.Clef) {
		if !slices.Contains(c.clefs, clef) && len(c.clefs) < math.MaxUint8 {
			c.clefs = append(c.clefs, clef)
		}
	}
	for _, r := range c.reads {
		for _, clef := range r.clefs {
			add(clef)
		}
	}
	for _, clefs := range c.shared {
		for _, clef := range clefs {
			add(clef)
		}
	}
	add(TrebleClef) // of a staff that has no clef
	for i := range c.staff.clefs {
		if clef := c.staff.clefs[i].clef; c.keeps(clef) {
			add(clef)
		}
	}
}

// weigh sets what each clef costs for a passage by itself.
func (c *chooser) weigh(i int) {
	p := &c.passages[i]
	costs := c.costs(i)
	for k := range costs {
		costs[k] = Never
	}
	source := c.staff.clefAt(&c.page.Notes[c.inTime[p.First]])
	if k := slices.Index(c.clefs, source); k >= 0 && c.keeps(source) {
		costs[k] = 0
		return
	}
	reads := readAt(c.reads, p.At)
	if reads.said && (i == 0 || c.passages[i-1].At.Compare(reads.Position) < 0) {
		reads.clefs = reads.clefs[:1]
	}
	if c.shared != nil && len(c.shared[i]) > 0 {
		reads.clefs = c.shared[i]
	}
	for rank, clef := range reads.clefs {
		if k := slices.Index(c.clefs, clef); k >= 0 {
			costs[k] = c.ledgers(p, clef) + min(rank, 1)*uncommonCost
		}
	}
}

// ledgers is what the ledger lines of a passage cost in a clef.
func (c *chooser) ledgers(p *Passage, clef instruments.Clef) int {
	bottom, sum := BottomLine(clef), 0
	for _, i := range c.inTime[p.First:p.Last] {
		n := &c.page.Notes[i]
		if n.head() && !n.Unpitched() {
			lines := LedgerLines(n.place - bottom - 7*c.staff.lowered(n))
			sum += ledgerCost[min(lines, len(ledgerCost)-1)] * weight(n)
		}
	}
	return sum
}

// join adds to a passage's costs those of the best way to it.
func (c *chooser) join(i int) {
	before, costs := c.costs(i-1), c.costs(i)
	change := changeCost[c.passages[i].Start]
	cheapest := slices.Index(before, slices.Min(before))
	for k := range costs {
		if costs[k] == Never {
			continue
		}
		from, way := cheapest, before[cheapest]+change
		if before[k] != Never && before[k] <= way {
			from, way = k, before[k]
		}
		costs[k] += way
		c.came[i*len(c.clefs)+k] = uint8(from)
	}
}

// retrace follows the best way back from the end.
func (c *chooser) retrace() []instruments.Clef {
	last := len(c.passages) - 1
	best := slices.Index(c.costs(last), slices.Min(c.costs(last)))
	chosen := make([]instruments.Clef, len(c.passages))
	for i := last; i >= 0; i-- {
		chosen[i] = c.clefs[best]
		best = int(c.came[i*len(c.clefs)+best])
	}
	return chosen
}

func (c *chooser) costs(i int) []int { return c.cost[i*len(c.clefs) : (i+1)*len(c.clefs)] }

// readAt returns what the player reads at a place.
func readAt(reads []clefRange, at musicxml.Position) clefRange {
	for _, r := range slices.Backward(reads[1:]) {
		if r.Compare(at) <= 0 {
			return r
		}
	}
	return reads[0]
}

// weight makes a long note count more: its quarter notes, at least 1 and at most 4.
func weight(n *Note) int {
	return int(min(max(n.Event.Duration.Num()/n.Event.Duration.Den(), 1), 4))
}
