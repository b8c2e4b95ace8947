package written

import (
	"slices"
	"strconv"

	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// octaves says by how many octaves the sound is to move, from where on: what the
// plan says, or, for "auto", what suits the instrument best.
func (s *writer) octaves(source []transpose.Stretch) ([]draft.OctaveChange, error) {
	octave := 0
	switch o := s.Assignment.Octave; {
	case o == "":
	case o == "auto" && s.Assignment.Instrument == nil:
	case o == "auto":
		if s.o.Page != nil && len(s.o.Page.Staves) < 2 {
			return s.bestOctaves(source)
		}
		octave = bestOctave(s.Survey, s.Assignment.Instrument, s.o.Level)
	default:
		octave, _ = strconv.Atoi(o) // checked with the plan
	}
	return s.oneOctave(octave), nil
}

// oneOctave is an octave that holds from the first bar on.
func (s *writer) oneOctave(octave int) []draft.OctaveChange {
	if octave == 0 {
		return nil
	}
	return s.named([]draft.OctaveChange{{Octave: octave}})
}

// named fills in the numbers of bars and beats.
func (s *writer) named(changes []draft.OctaveChange) []draft.OctaveChange {
	for i := range changes {
		m := &s.Timeline.Measures[changes[i].At.Measure]
		changes[i].Measure, changes[i].Beat = m.Number, m.Beat(changes[i].At.Onset)
	}
	return changes
}

// withOctaves lets the octaves take effect in a course of transpositions: each of
// the stretches, and each place where the octave changes, gets the shift in force.
func withOctaves(stretches []transpose.Stretch, changes []draft.OctaveChange) []transpose.Stretch {
	if len(changes) == 0 {
		return stretches
	}
	var merged, force []transpose.Stretch // force: what holds now, for all staves first
	var octave pitch.Interval
	for len(stretches) > 0 || len(changes) > 0 {
		// At one place the stretch comes first and the octave then holds for it.
		if len(stretches) > 0 && (len(changes) == 0 || stretches[0].Position().Compare(changes[0].At) <= 0) {
			next := stretches[0]
			stretches = stretches[1:]
			force = inForce(force, next)
			next.Shift = next.Shift.Add(octave)
			merged = append(merged, next)
			continue
		}
		c := changes[0]
		changes = changes[1:]
		octave = pitch.Octaves(c.Octave)
		for _, held := range force {
			held.Measure, held.Onset, held.Shift = c.At.Measure, c.At.Onset, held.Shift.Add(octave)
			merged = append(merged, held)
		}
	}
	return merged
}

// inForce adds a stretch to those that hold: one for all staves ends the others.
func inForce(force []transpose.Stretch, next transpose.Stretch) []transpose.Stretch {
	ended := func(held transpose.Stretch) bool { return next.Staff == 0 || held.Staff == next.Staff }
	return append(slices.DeleteFunc(force, ended), next)
}
