package parts

import (
	"strconv"

	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// OctaveChange is an octave that a part takes from a place on, because the plan
// gives it to another instrument or another octave.
type OctaveChange struct {
	Index         int               // of the measure, from 0
	Onset         musicxml.Fraction // in quarter notes from the start of that measure
	Measure, Beat string
	Octave        int // whole octaves added to the sound of the score
}

// octaves says by how many octaves the sound is to move, from where on: what the
// plan says, or, for "auto", what suits the instrument best.
func (s *sheet) octaves(source []transpose.Stretch) []OctaveChange {
	start := OctaveChange{}
	switch o := s.assignment.Octave; {
	case o == "":
	case o == "auto" && s.assignment.Instrument == nil:
	case o == "auto":
		if s.page != nil && len(s.page.staves) < 2 {
			return s.bestOctaves(source)
		}
		start.Octave = bestOctave(s.survey, s.assignment.Instrument, s.options.level())
	default:
		start.Octave, _ = strconv.Atoi(o) // checked with the plan
	}
	if start.Octave == 0 {
		return nil
	}
	return s.named([]OctaveChange{start})
}

// named fills in the numbers of bars and beats.
func (s *sheet) named(changes []OctaveChange) []OctaveChange {
	for i := range changes {
		m := &s.timeline.Measures[changes[i].Index]
		changes[i].Measure, changes[i].Beat = m.Number, m.Beat(changes[i].Onset)
	}
	return changes
}

// withOctaves lets the octaves take effect in a course of transpositions: each of
// the stretches, and each place where the octave changes, gets the shift in force.
func withOctaves(stretches []transpose.Stretch, changes []OctaveChange) []transpose.Stretch {
	if len(changes) == 0 {
		return stretches
	}
	var merged, force []transpose.Stretch // force: what holds now, for all staves first
	var octave pitch.Interval
	for len(stretches) > 0 || len(changes) > 0 {
		if len(stretches) > 0 && (len(changes) == 0 || !earlier(changes[0], stretches[0])) {
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
			held.Measure, held.Onset, held.Shift = c.Index, c.Onset, held.Shift.Add(octave)
			merged = append(merged, held)
		}
	}
	return merged
}

// earlier reports whether an octave changes before a stretch begins. At one place
// the stretch comes first and the octave then holds for it.
func earlier(c OctaveChange, t transpose.Stretch) bool {
	return point{c.Index, c.Onset}.compare(point{t.Measure, t.Onset}) < 0
}

// inForce adds a stretch to those that hold: one for all staves ends the others.
func inForce(force []transpose.Stretch, next transpose.Stretch) []transpose.Stretch {
	if next.Staff == 0 {
		return []transpose.Stretch{next}
	}
	var kept []transpose.Stretch
	for _, held := range force {
		if held.Staff != next.Staff {
			kept = append(kept, held)
		}
	}
	return append(kept, next)
}
