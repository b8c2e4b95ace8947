package exercise

import (
	"math/rand/v2"
	"slices"

	"deskpart/transpose/pitch"
)

// composer seeks the melody of one plan.
type composer struct {
	*Level
	plan   *plan
	scale  scale
	move   move
	rules  rules
	events []event
	signs  signPlan
	rng    *rand.Rand

	placement // where the melody stands
	domains   [][]tone
	phrase    map[int]bool
	// fixed are the events that are settled before the walk: the accidentals.
	fixed map[int]bool
}

// attempts to find a melody before the draw is given up.
const attempts = 40

// composition is a melody that was found.
type composition struct {
	tones     []tone
	lower     []tone // of a second player, nil for none
	signs     signPlan
	placement placement
}

// compose finds a melody in a key; ok is false where this draw of keys and
// accidentals finds none.
func (l *Level) compose(p *plan, s scale, m move, rng *rand.Rand) (composition, bool) {
	c := &composer{Level: l, plan: p, scale: s, move: m, rules: rules{l, s.minor()}, rng: rng}
	c.events = p.rhythm.events()
	placements := l.placements(p, s, m)
	if len(placements) == 0 {
		return composition{}, false
	}
	for try := range attempts {
		var ok bool
		if c.signs, ok = l.planSigns(p, s, m, rng); !ok {
			if try > attempts/4 {
				break // this key has no such accidentals
			}
			continue
		}
		c.placement = placements[rng.IntN(len(placements))]
		tones, ok := c.attempt()
		if !ok || !c.sound(tones) {
			continue
		}
		found := composition{tones: tones, signs: c.signs, placement: c.placement}
		if p.twoParts {
			if found.lower, ok = secondPart(tones, c.alteredIn(tones), s.minor(), c.low-deepest, rng); !ok {
				continue
			}
		}
		return found, true
	}
	return composition{}, false
}

// attempt places the accidentals and walks.
func (c *composer) attempt() ([]tone, bool) {
	c.openDomains()
	c.fixed = map[int]bool{}
	c.phrases()
	if !c.placeSigns() || !c.placeClose() {
		return nil, false
	}
	return c.walk()
}

// openDomains lets every event be any tone of the scale in the window.
func (c *composer) openDomains() {
	var all []tone
	for step := c.low; step <= c.high; step++ {
		all = append(all, tone{step: step})
	}
	c.domains = make([][]tone, len(c.events))
	for i := range c.domains {
		c.domains[i] = all
	}
	last := len(c.domains) - 1
	c.restrict(last, func(t tone) bool { return t.degree() == tonic })
}

// restrict keeps the tones of an event that pass, and reports whether any do.
func (c *composer) restrict(i int, pass func(tone) bool) bool {
	c.domains[i] = slices.DeleteFunc(slices.Clone(c.domains[i]), func(t tone) bool { return !pass(t) })
	return len(c.domains[i]) > 0
}

// repeated reports whether a bar, counted in full bars from 0, is played twice:
// the first two are the fifth and sixth.
func (c *composer) repeated(bar int) bool {
	bar -= c.plan.rhythm.offset()
	return c.plan.bars > 4 && (bar < 2 || bar == 4 || bar == 5)
}

// free reports whether an event may be settled before the walk.
func (c *composer) free(i int) bool {
	e := c.events[i]
	return i > 0 && i < len(c.events)-1 && !c.fixed[i] && !c.phrase[i+1] && !c.phrase[i] && !c.repeated(e.firstBar()) && !c.repeated(e.lastBar())
}

// placeSigns gives each block of accidentals its events.
func (c *composer) placeSigns() bool {
	for _, b := range c.signs.blocks {
		starts := c.startsFor(b)
		if len(starts) == 0 {
			return false
		}
		at := starts[c.rng.IntN(len(starts))]
		for k, t := range b.tones {
			c.settle(at+k, t)
		}
	}
	// An accidental holds to the end of its bar: no other form of its letter is
	// there.
	for i := range c.events {
		for _, t := range c.alteredBeside(i) {
			if !c.restrict(i, func(u tone) bool { return u.degree() != t.degree() || u.raised == t.raised }) {
				return false
			}
		}
	}
	return true
}

// alteredIn lists, for each tone, the degrees that are altered in its bars: a second
// part keeps clear of them.
func (c *composer) alteredIn(tones []tone) [][7]bool {
	list := make([][7]bool, len(tones))
	for i := range tones {
		for k, t := range tones {
			if a, b := c.events[i], c.events[k]; !t.plain() && b.lastBar() >= a.firstBar() && b.firstBar() <= a.lastBar() {
				list[i][t.degree()] = true
			}
		}
	}
	return list
}

// settle gives an event one altered tone, in any octave of the window.
func (c *composer) settle(i int, t tone) {
	var octaves []tone
	for step := c.low; step < c.high; step++ {
		if u := (tone{step, t.raised}); u.degree() == t.degree() {
			octaves = append(octaves, u)
		}
	}
	c.domains[i], c.fixed[i] = octaves, true
}

// startsFor lists the events at which a block can begin: not beside another, all
// within a bar if it holds on, before the weak close if it leads there.
func (c *composer) startsFor(b block) []int {
	var starts []int
	n := len(b.tones)
	for i := 1; i+n < len(c.events); i++ {
		ok := !c.fixed[i-1] && !c.fixed[i+n]
		for k := range n {
			e := c.events[i+k]
			ok = ok && c.free(i+k) && len(e.heads) == 1 && !c.sharesLetter(i+k, b.tones[k])
			ok = ok && (n == 1 || b.tones[0] != b.tones[1] || e.firstBar() == c.events[i].firstBar())
			ok = ok && (!b.closing || c.beforeClose(i+k))
		}
		if ok {
			starts = append(starts, i)
		}
	}
	return starts
}

// beforeClose reports whether an event stands in the two bars of the weak close,
// the last tone aside.
func (c *composer) beforeClose(i int) bool {
	bar := c.events[i].firstBar() - c.plan.rhythm.offset()
	return (bar == 2 || bar == 3) && i < c.lastOfBar(3)
}

// lastOfBar is the last event that begins in a full bar, counted from 0.
func (c *composer) lastOfBar(bar int) int {
	last := 0
	for i, e := range c.events {
		if e.firstBar()-c.plan.rhythm.offset() <= bar {
			last = i
		}
	}
	return last
}

// sharesLetter reports whether an accidental on the letter stands in the bar
// already.
func (c *composer) sharesLetter(i int, t tone) bool {
	return slices.ContainsFunc(c.alteredBeside(i), func(u tone) bool { return u.degree() == t.degree() })
}

// alteredBeside lists the altered tones settled in the bars of an event, itself
// aside.
func (c *composer) alteredBeside(i int) []tone {
	var list []tone
	for k, e := range c.events {
		if k == i || !c.fixed[k] || len(c.domains[k]) == 0 || c.domains[k][0].plain() {
			continue
		}
		if e.lastBar() >= c.events[i].firstBar() && e.firstBar() <= c.events[i].lastBar() {
			list = append(list, c.domains[k][0])
		}
	}
	return list
}

// phrases finds the events with which phrases begin: every four bars.
func (c *composer) phrases() {
	c.phrase = map[int]bool{}
	for bar := 3; bar < c.plan.bars-1; bar += 4 {
		c.phrase[c.lastOfBar(bar)+1] = true
	}
}

// placeClose settles how phrases end: the first half openly or in its new key,
// later ones on any tone that can rest.
func (c *composer) placeClose() bool {
	for bar := 3; bar < c.plan.bars-1; bar += 4 {
		pass := func(t tone) bool { return inTriad(t) || closesWeakly(t) }
		switch {
		case bar == 3 && c.signs.hasClose:
			pass = func(t tone) bool { return t.degree() == c.signs.closes && t.plain() }
		case bar == 3:
			pass = closesWeakly
		}
		if !c.restrict(c.lastOfBar(bar), pass) {
			return false
		}
	}
	return true
}

// traces lists what the melody must have a note of, by degree: letters on which
// the signatures differ, and letters that the answer's signature alters.
func (c *composer) traces() [][7]bool {
	var unmoved, missing [7]bool
	anyUnmoved, anyMissing, both := false, false, [7]bool{}
	for d := range 7 {
		letter := c.scale.letter(d)
		moved := pitch.Step(((int(letter)+c.move.interval.Diatonic)%7 + 7) % 7)
		answer := pitch.SignatureAlter(c.move.to, moved)
		unmoved[d] = answer != pitch.SignatureAlter(c.move.from, moved)
		missing[d] = answer != 0
		both[d] = unmoved[d] && missing[d]
		anyUnmoved, anyMissing = anyUnmoved || unmoved[d], anyMissing || missing[d]
	}
	switch {
	case both != [7]bool{}:
		return [][7]bool{both}
	case anyUnmoved && anyMissing:
		return [][7]bool{unmoved, missing}
	case anyUnmoved:
		return [][7]bool{unmoved}
	case anyMissing:
		return [][7]bool{missing}
	}
	return nil
}
