package exercise

import (
	"math/rand/v2"
	"slices"
)

// altered tones that music uses, by mode; a raised one goes up by a semitone, a
// lowered one down.
var (
	majorAltered = []tone{{fourth, 1}, {tonic, 1}, {fifth, 1}, {second, 1}, {seventh, -1}, {sixth, -1}, {third, -1}}
	minorAltered = []tone{{seventh, 1}, {fourth, 1}, {third, 1}}
)

// block is a run of altered tones: one, one that is held on, or the raised sixth
// and seventh. Each different tone is printed once.
type block struct {
	tones []tone
	// closing wants the block in the bars before the weak close.
	closing bool
}

// signs is how many accidentals the block prints.
func (b block) signs() int {
	if len(b.tones) == 2 && b.tones[0] == b.tones[1] {
		return 1
	}
	return len(b.tones)
}

// changes is how many of them change their kind.
func (b block) changes(s scale, m move) int {
	n := 0
	for i, t := range b.tones {
		if (i == 0 || t != b.tones[i-1]) && m.changes(s, t.degree()) {
			n++
		}
	}
	return n
}

// signPlan is the accidentals of a melody, and the key in which its first half
// closes.
type signPlan struct {
	blocks         []block
	signs, changes int
	// closes is the tone on which a modulating first half ends, by degree; hasClose
	// is false for one that does not modulate.
	closes   int
	hasClose bool
}

// modulations by mode: the degree on which the first half closes, and the tone
// that leads there.
var (
	majorModulations = map[int]tone{fifth: {fourth, 1}, fourth: {seventh, -1}, sixth: {fifth, 1}}
	minorModulations = map[int]tone{fifth: {fourth, 1}, third: {}}
)

// planSigns chooses accidentals at random that have the right number, and of
// which the right number change their kind; ok is false where this draw has not.
func (l *Level) planSigns(p *plan, s scale, m move, rng *rand.Rand) (signs signPlan, ok bool) {
	altered, modulations := majorAltered, majorModulations
	if s.minor() {
		altered, modulations = minorAltered, minorModulations
	}
	add := func(b block) {
		signs.blocks = append(signs.blocks, b)
		signs.signs += b.signs()
		signs.changes += b.changes(s, m)
	}
	if l.Raised67 && s.minor() {
		add(block{tones: []tone{{sixth, 1}, {seventh, 1}}})
	}
	if l.Modulates {
		signs.hasClose = true
		if signs.closes, ok = pickClose(modulations, p.closes, rng); !ok {
			return signs, false
		}
		if lead := modulations[signs.closes]; !lead.plain() {
			add(block{tones: []tone{lead}, closing: true})
		}
	}
	changing, staying := l.usable(altered, s, m)
	for signs.signs < p.signs {
		kind := staying
		if signs.changes < p.changes {
			kind = changing
		}
		if len(kind) == 0 {
			return signs, false
		}
		add(block{tones: []tone{kind[rng.IntN(len(kind))]}})
	}
	if signs.signs != p.signs || signs.changes != p.changes || !l.playable(signs, s, m) {
		return signs, false
	}
	rng.Shuffle(len(signs.blocks), func(i, k int) { signs.blocks[i], signs.blocks[k] = signs.blocks[k], signs.blocks[i] })
	if l.Holds {
		signs.hold(rng)
	}
	return signs, true
}

// pickClose chooses where the first half closes.
func pickClose(modulations map[int]tone, asked int, rng *rand.Rand) (degree int, ok bool) {
	if asked >= 0 {
		_, ok = modulations[asked]
		return asked, ok
	}
	var degrees []int
	for d := range 7 {
		if _, known := modulations[d]; known {
			degrees = append(degrees, d)
		}
	}
	return degrees[rng.IntN(len(degrees))], true
}

// usable parts the altered tones into those whose sign changes its kind and those
// whose sign stays; tones that need a double sign are left out where the level has
// none.
func (l *Level) usable(altered []tone, s scale, m move) (changing, staying []tone) {
	for _, t := range altered {
		switch {
		case !l.DoubleSigns && m.doubles(s, t):
		case m.changes(s, t.degree()):
			changing = append(changing, t)
		default:
			staying = append(staying, t)
		}
	}
	return changing, staying
}

// playable checks the tones that were not drawn from the usable ones.
func (l *Level) playable(p signPlan, s scale, m move) bool {
	return l.DoubleSigns || !slices.ContainsFunc(p.blocks, func(b block) bool {
		return slices.ContainsFunc(b.tones, func(t tone) bool { return m.doubles(s, t) })
	})
}

// hold lets one of the single accidentals hold on for a second note.
func (p *signPlan) hold(rng *rand.Rand) {
	var single []int
	for i, b := range p.blocks {
		if len(b.tones) == 1 {
			single = append(single, i)
		}
	}
	if len(single) > 0 {
		b := &p.blocks[single[rng.IntN(len(single))]]
		b.tones = append(b.tones, b.tones[0])
	}
}
