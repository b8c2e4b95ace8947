package exercise

import (
	"fmt"
	"math/rand/v2"

	"deskpart/cmd/internal/explain"
	"deskpart/transpose/pitch"
)

// Exercise is one question with its answer.
type Exercise struct {
	// Solution is the staff; of several the first.
	*explain.Solution
	// Others are further staves: those of the other players of a band.
	Others []*explain.Solution
	Number int
	Level  Level
	// Topic is what it trains, and Band what the topics for a band and scores ask.
	Topic Topic
	Band  *Band
	// TwoPlayers stand on one staff.
	TwoPlayers bool
	// Octaves is by how many octaves an excerpt was moved to suit its player.
	Octaves int
	// Facts are what versions of an exercise have in common.
	Facts Facts
}

// Facts measure how hard an exercise is.
type Facts struct {
	Notes   int  `json:"notes"`   // heads, tied ones each
	Leaps   int  `json:"leaps"`   // thirds and more, in the upper part
	Signs   int  `json:"signs"`   // notes that the melody alters, each once in its bar
	Changes int  `json:"changes"` // those of them whose sign changes its kind
	Key     int  `json:"key"`     // of the question, in fifths
	Answer  int  `json:"answer_key"`
	Minor   bool `json:"minor"`
}

// draws are how many plans, and how many melodies to a plan, are tried.
const draws = 400

// make finds an exercise; a plan of another version is followed where there is
// one.
func (l *Level) make(task explain.Task, settled *clefs, follow *plan, rng *rand.Rand) (*Exercise, *plan, error) {
	for range draws {
		p := follow
		if p == nil {
			drawn := l.newPlan(task, settled, rng)
			p = &drawn
		}
		if len(p.keys) == 0 {
			break
		}
		e, clefs, err := l.try(p, rng)
		if err != nil {
			return nil, nil, err
		}
		if e == nil {
			continue
		}
		if follow == nil {
			p.leaps, p.clefs = e.Facts.Leaps, clefs
			p.keys = p.neighbours(l)
		}
		return e, p, nil
	}
	return nil, nil, fmt.Errorf("no exercise of level %d was found for %s; choose another level or seed", l.Number, task.ID())
}

// try seeks a melody for a plan; nil where this draw finds none.
func (l *Level) try(p *plan, rng *rand.Rand) (*Exercise, *clefs, error) {
	s := scale{pitch.Key{Fifths: p.keys[rng.IntN(len(p.keys))], Mode: p.mode}}
	m := moveOf(p.task, s.Fifths)
	found, ok := l.compose(p, s, m, rng)
	if !ok {
		return nil, nil, nil
	}
	if p.closes < 0 && found.signs.hasClose {
		p.closes = found.signs.closes
	}
	at := found.placement
	l.varyClef(p, s, m, append(append([]tone{}, found.tones...), found.lower...), &at, rng)
	tune := p.rhythm.tune(found.tones, found.lower, s, at.octave)
	tune.Clef, tune.Transpose = at.given, p.task.On(p.task.From)
	if p.task.WithoutSignature && p.task.From == explain.Written {
		tune.Key = nil
	}
	part, err := tune.Part()
	if err != nil {
		return nil, nil, err
	}
	solution, err := p.task.Solve(part)
	if err != nil {
		return nil, nil, err
	}
	if err := explain.SetClef(solution.Answer, at.answer); err != nil {
		return nil, nil, err
	}
	e := &Exercise{Solution: solution, Level: *l, Topic: Transposition, TwoPlayers: found.lower != nil}
	e.Facts = Facts{Notes: len(solution.Pairs), Leaps: leaps(found.tones), Signs: found.signs.signs, Changes: found.signs.changes,
		Key: m.from, Answer: m.to, Minor: s.minor()}
	return e, &at.clefs, nil
}

// moveOf is what becomes of a given key, its twin taken past the limit.
func moveOf(task explain.Task, fifths int) move {
	m := move{interval: task.Interval(), from: fifths}
	m.to = fifths + m.interval.Fifths()
	switch {
	case m.to > task.MaxSignature:
		m.interval.Diatonic++
	case m.to < -task.MaxSignature:
		m.interval.Diatonic--
	}
	m.to = fifths + m.interval.Fifths()
	return m
}
