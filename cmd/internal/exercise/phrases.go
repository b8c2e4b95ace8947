package exercise

import "deskpart/transpose/pitch"

// walk goes through the phrases: bars 1 to 4, then 5 and 6 as 1 and 2, then the
// rest. Four bars are one phrase.
func (c *composer) walk() ([]tone, bool) {
	w := &walk{rules: c.rules, domains: c.domains, phrase: c.phrase, top: c.high, flat: map[int]bool{}, traces: c.traces()}
	for i, e := range c.events {
		w.flat[i] = c.repeated(e.firstBar()) || c.repeated(e.lastBar())
	}
	w.prepare()
	least, most := c.leapRange()
	whole := goal{first: 1, last: len(c.events) - 1, ends: c.rules.closes, least: least, most: most, whole: true}
	if c.plan.bars > 4 {
		return c.walkHalves(w, whole)
	}
	r := w.lookAhead(whole)
	m, ok := w.begin(r, whole, c.rng)
	if ok {
		m, ok = w.follow(r, m, whole, c.rng)
	}
	return w.sung(m), ok
}

// tries are how many first halves are drawn before the accidentals are placed
// elsewhere.
const tries = 30

// walkHalves walks to the end of bar 4, copies bars 1 and 2, and goes on from
// there.
func (c *composer) walkHalves(w *walk, whole goal) ([]tone, bool) {
	from, again := c.plan.rhythm.offset(), c.lastOfBar(1) // the upbeat is one note, and not played again
	half := goal{first: 1, last: c.lastOfBar(3), ends: c.closesFirst, most: whole.most / 2}
	whole.first = half.last + 1 + again - from + 1
	first, second := w.lookAhead(half), w.lookAhead(whole)
	for range tries {
		m, ok := w.begin(first, half, c.rng)
		if !ok {
			return nil, false
		}
		if m, ok = w.follow(first, m, half, c.rng); !ok {
			continue
		}
		for i := from; i <= again && ok; i++ {
			k := len(m.tones)
			if ok = w.may(k, m.tones[k-2], m.tones[k-1], m.tones[i]); ok {
				m, ok = w.add(m, m.tones[i])
			}
		}
		if !ok {
			continue
		}
		if m, ok = w.follow(second, m, whole, c.rng); ok {
			return w.sung(m), true
		}
	}
	return nil, false
}

// leapRange is how many leaps there are to be: as the plan says, or some, but
// steps prevail.
func (c *composer) leapRange() (least, most int) {
	if c.plan.leaps >= 0 {
		return c.plan.leaps, c.plan.leaps
	}
	return 1, (len(c.events) - 1) * 3 / 10
}

// closesFirst allows the last two tones of bar 4: a modulating half closes as its
// new key would, 2–1 or 7–1 there.
func (c *composer) closesFirst(a, b tone) bool {
	if !c.signs.hasClose {
		return true // the domain has 2 and 5 alone
	}
	return pitch.Abs(b.step-a.step) == 1
}

// sound checks what no three tones show: mostly steps, few repeated tones.
func (c *composer) sound(tones []tone) bool {
	n := len(tones) - 1
	return 5*repeats(tones) <= n && 10*leaps(tones) <= 3*n
}
