package explain

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Solution is a task with its given music and the answer.
type Solution struct {
	Task
	Given, Answer *etree.Element
	// Moved is what was added to the given notes, at the start of the music: the
	// task's interval, or the one a diminished second away.
	Moved pitch.Interval
	// Respelled says that the signature was taken by its enharmonic twin.
	Respelled bool
	// Pairs are the notes of both, in the order of the music.
	Pairs []Pair
}

// Solve writes the answer to given music, a <part> that says its own
// transposition, and leaves the given music as it is. The clefs of the answer are
// those that suit its notes. The error is an *musicxml.Error with measure and
// beat.
func (t Task) Solve(given *etree.Element) (*Solution, error) {
	answer := given.Copy()
	// Music without a signature stays without: its accidentals stand at the notes.
	_, hasKey := KeyOf(given)
	moved, err := t.move(answer, t.From.Other(), t.WithoutSignature || !hasKey)
	if err != nil {
		return nil, err
	}
	s := &Solution{Task: t, Given: given, Answer: answer, Moved: moved, Respelled: moved != t.Interval()}
	if s.Pairs, err = pair(given, answer); err != nil {
		return nil, err
	}
	var pitches []pitch.Pitch
	for _, p := range s.Pairs {
		pitches = append(pitches, p.To)
	}
	// The clef that the answer's reader expects: the instrument's for the written side, the
	// one that holds the notes for the sounding side.
	if err := SetClef(answer, t.ClefFor(t.From.Other(), pitches)); err != nil {
		return nil, err
	}
	return s, nil
}

// NewSolution puts a question and its answer side by side where both are made
// otherwise than by moving: they have note for note the same rhythm.
func NewSolution(t Task, given, answer *etree.Element, moved pitch.Interval) (*Solution, error) {
	pairs, err := pair(given, answer)
	if err != nil {
		return nil, err
	}
	return &Solution{Task: t, Given: given, Answer: answer, Moved: moved, Pairs: pairs}, nil
}

// move rewrites a part for one of the sides.
func (t Task) move(part *etree.Element, to Side, withoutSignature bool) (pitch.Interval, error) {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return pitch.Interval{}, err
	}
	result, err := transpose.Move(timeline, transpose.Options{MaxSignature: t.limit(to),
		Stretches: []transpose.Stretch{{To: t.On(to), WithoutSignature: withoutSignature}}})
	if err != nil {
		return pitch.Interval{}, err
	}
	if to == Sounding {
		DropTransposition(part)
	}
	return result.Moved, nil
}

// DropTransposition leaves a part at sounding pitch without any <transpose>: one
// that only says how letters were respelled would puzzle a notation program, and
// a learner's sheet never goes back.
func DropTransposition(part *etree.Element) {
	for _, a := range musicxml.Along(part, "measure", "attributes") {
		musicxml.RemoveChildren(a, "transpose")
		dropIfEmpty(a)
	}
}

// ClefFor is the clef for notes on one of the sides.
func (t Task) ClefFor(side Side, pitches []pitch.Pitch) instruments.Clef {
	if side == Written && t.Instrument != nil && len(t.Instrument.Clefs) > 0 {
		return BestClef(pitches, t.Instrument.Clefs)
	}
	return BestClef(pitches, soundingClefs)
}
