package exercise

import (
	"math/bits"
	"math/rand/v2"

	"deskpart/transpose/pitch"
)

// walk finds melodies: tones for the events of a rhythm, every three of which
// obey the rules, and which as a whole meet what is due: the one highest tone, and
// the tones that show a spoiled signature.
type walk struct {
	rules
	// domains are the tones that each event may have.
	domains [][]tone
	// phrase has the events with which a new phrase begins.
	phrase map[int]bool
	// top is the step of the highest tone, which comes once, and not in bars that
	// are repeated (flat).
	top  int
	flat map[int]bool
	// traces are, by degree, the tones of which one at least must come.
	traces [][7]bool

	tones   []tone  // all tones of the domains
	choices [][]int // the domains, as indexes of tones
	leap    []bool  // isLeap, by the indexes of a and b
	allowed []bool  // three, by the indexes of a, b and c
	joins   []bool  // across, the same
}

// due is what a melody still has to bring: bit 0 the highest tone, the others the
// traces.
type due uint8

const (
	topDue = due(1)
	dues   = 8 // the highest tone and at most two traces
)

// all is what a melody has to bring from its beginning.
func (w *walk) all() due { return 1<<(1+len(w.traces)) - 1 }

// bring is what is due after an event has a tone; ok is false where it may not
// have it.
func (w *walk) bring(i int, t tone, d due) (left due, ok bool) {
	if t.step == w.top {
		if d&topDue == 0 || w.flat[i] {
			return d, false
		}
		d &^= topDue
	}
	if t.plain() {
		for k, degrees := range w.traces {
			if degrees[t.degree()] {
				d &^= 2 << k
			}
		}
	}
	return d, true
}

// maxLeaps is the most leaps that are counted: the bits of a mask.
const maxLeaps = 63

// prepare works out which tones may follow which.
func (w *walk) prepare() {
	index := map[tone]int{}
	w.choices = make([][]int, len(w.domains))
	for i, d := range w.domains {
		for _, t := range d {
			if _, known := index[t]; !known {
				index[t] = len(w.tones)
				w.tones = append(w.tones, t)
			}
			w.choices[i] = append(w.choices[i], index[t])
		}
	}
	n := len(w.tones)
	w.leap, w.allowed, w.joins = make([]bool, n*n), make([]bool, n*n*n), make([]bool, n*n*n)
	for a, ta := range w.tones {
		for b, tb := range w.tones {
			w.leap[a*n+b] = isLeap(ta, tb)
			if !w.interval(ta, tb) {
				continue
			}
			for c, tc := range w.tones {
				at := (a*n+b)*n + c
				w.allowed[at], w.joins[at] = w.three(ta, tb, tc), w.across(ta, tb, tc)
			}
		}
	}
}

// leaps is 1 for a leap from a to b.
func (w *walk) leaps(a, b int) int {
	if w.leap[a*len(w.tones)+b] {
		return 1
	}
	return 0
}

// may allows tone c for event i after a and b.
func (w *walk) may(i, a, b, c int) bool {
	n := len(w.tones)
	if w.phrase[i] {
		return w.joins[(a*n+b)*n+c]
	}
	return w.allowed[(a*n+b)*n+c]
}

// reach says, for each event from some on, each pair of its tone and the one
// before, and what is due after it, with how many leaps after it the end can be
// reached: bit k for k leaps.
type reach [][]uint64

func (w *walk) at(a, b int, d due) int { return (a*len(w.tones)+b)*dues + int(d) }

// goal says how a stretch of melody ends.
type goal struct {
	first, last int // the event before the stretch, at least 1, and its last event
	ends        func(a, b tone) bool
	least, most int  // leaps of the whole melody up to there
	whole       bool // nothing is due after it
}

// lookAhead works out the reach backwards from a goal.
func (w *walk) lookAhead(g goal) reach {
	n := len(w.tones)
	r := make(reach, g.last+1)
	size := n * n * dues
	memory := make([]uint64, size*(g.last-g.first+1))
	for i := g.last; i >= g.first; i-- {
		r[i], memory = memory[:size:size], memory[size:]
		for _, a := range w.choices[i-1] {
			for _, b := range w.choices[i] {
				switch {
				case i < g.last:
					w.onward(r, i, a, b)
				case w.interval(w.tones[a], w.tones[b]) && g.ends(w.tones[a], w.tones[b]):
					for d := range w.all() + 1 {
						if d == 0 || !g.whole {
							r[i][w.at(a, b, d)] = 1
						}
					}
				}
			}
		}
	}
	return r
}

// onward gathers what the tones of the next event reach.
func (w *walk) onward(r reach, i, a, b int) {
	for _, c := range w.choices[i+1] {
		if !w.may(i+1, a, b, c) {
			continue
		}
		leap := w.leaps(b, c)
		for d := range w.all() + 1 {
			if left, ok := w.bring(i+1, w.tones[c], d); ok {
				r[i][w.at(a, b, d)] |= r[i+1][w.at(b, c, left)] << leap
			}
		}
	}
}

// melody is a walk under way: its tones by their indexes, what it still has to
// bring, and its leaps.
type melody struct {
	tones []int
	due   due
	leaps int
}

// add takes one more tone; ok is false where the melody may not have it.
func (w *walk) add(m melody, c int) (melody, bool) {
	d, ok := w.bring(len(m.tones), w.tones[c], m.due)
	if !ok {
		return m, false
	}
	if n := len(m.tones); n > 0 {
		m.leaps += w.leaps(m.tones[n-1], c)
	}
	m.due, m.tones = d, append(m.tones[:len(m.tones):len(m.tones)], c)
	return m, true
}

// begin draws the first two tones of a melody.
func (w *walk) begin(r reach, g goal, rng *rand.Rand) (melody, bool) {
	var pairs []melody
	var weights []int
	for _, a := range w.choices[0] {
		for _, b := range w.choices[1] {
			if !inTriad(w.tones[a]) || !w.interval(w.tones[a], w.tones[b]) {
				continue
			}
			m, ok := w.add(melody{due: w.all()}, a)
			if ok {
				m, ok = w.add(m, b)
			}
			if ok && hits(r[1][w.at(a, b, m.due)], g.least-m.leaps, g.most-m.leaps) {
				pairs, weights = append(pairs, m), append(weights, weight(w.tones[a], w.tones[b]))
			}
		}
	}
	if len(pairs) == 0 {
		return melody{}, false
	}
	return pairs[draw(weights, rng)], true
}

// follow takes a melody on to its goal.
func (w *walk) follow(r reach, m melody, g goal, rng *rand.Rand) (melody, bool) {
	for len(m.tones) <= g.last {
		i := len(m.tones)
		a, b := m.tones[i-2], m.tones[i-1]
		var choices []melody
		var weights []int
		for _, c := range w.choices[i] {
			if !w.may(i, a, b, c) {
				continue
			}
			next, ok := w.add(m, c)
			if ok && hits(r[i][w.at(b, c, next.due)], g.least-next.leaps, g.most-next.leaps) {
				choices, weights = append(choices, next), append(weights, w.liking(m, c))
			}
		}
		if len(choices) == 0 {
			return m, false
		}
		m = choices[draw(weights, rng)]
	}
	return m, true
}

// sung are the melody's tones.
func (w *walk) sung(m melody) []tone {
	var tones []tone
	for _, t := range m.tones {
		tones = append(tones, w.tones[t])
	}
	return tones
}

// hits reports whether the mask has a bit from least to most.
func hits(mask uint64, least, most int) bool {
	if most < 0 {
		return false
	}
	least, most = max(least, 0), min(most, maxLeaps)
	if least > most {
		return false
	}
	return bits.OnesCount64(mask>>least&(1<<(most-least+1)-1)) > 0
}

// weight is how much a move is liked: mostly steps.
func weight(a, b tone) int {
	return [8]int{20, 240, 80, 50, 50, 40, 0, 30}[min(pitch.Abs(b.step-a.step), 7)]
}

// liking is how much a melody likes a next tone: to go on in its direction rather
// than to turn, and not to swing between two tones.
func (w *walk) liking(m melody, c int) int {
	n := len(m.tones)
	b := w.tones[m.tones[n-1]]
	liked := weight(b, w.tones[c])
	if n < 2 {
		return liked
	}
	a := w.tones[m.tones[n-2]]
	came, goes := sign(b.step-a.step), sign(w.tones[c].step-b.step)
	switch {
	case a == w.tones[c] && n > 2 && m.tones[n-3] == m.tones[n-1]:
		return max(liked/20, 1)
	case a == w.tones[c]:
		return max(liked/3, 1)
	case came == goes:
		return liked * 2
	}
	return liked
}

func draw(weights []int, rng *rand.Rand) int {
	sum := 0
	for _, w := range weights {
		sum += w
	}
	if sum == 0 {
		return rng.IntN(len(weights))
	}
	at := rng.IntN(sum)
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}
