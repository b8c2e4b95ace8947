package engraving

import (
	"cmp"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// state is what a staff has in force at a moment.
type state struct {
	clef  Clef
	key   Key
	time  Time
	lines int
	// hasClef, hasKey and hasTime tell whether anything was said: before, nothing
	// is drawn.
	hasClef, hasKey, hasTime bool
}

func (s state) with(c Change) state {
	if c.Clef != nil {
		s.clef, s.hasClef = *c.Clef, true
	}
	if c.Key != nil {
		s.key, s.hasKey = *c.Key, !c.Hidden
	}
	if c.Time != nil {
		s.time, s.hasTime = *c.Time, !c.Hidden
	}
	if c.Lines != 0 {
		s.lines = c.Lines
	}
	return s
}

// states returns what is in force on a staff at the start of each bar (with the
// changes at onset zero not yet made) and, as the last element, at the end.
func states(staff *Staff) []state {
	now := state{lines: cmp.Or(staff.Lines, 5)}
	list := make([]state, 0, len(staff.Measures)+1)
	for i := range staff.Measures {
		list = append(list, now)
		for _, c := range staff.Measures[i].Changes {
			now = now.with(c)
		}
	}
	return append(list, now)
}

// opened returns the state after the changes at onset zero.
func (s state) opened(m *Measure) state {
	for _, c := range m.Changes {
		if c.Onset.Sign() <= 0 {
			s = s.with(c)
		}
	}
	return s
}

// clefAt is the clef after all changes up to a moment of a bar that begins in
// this state: a signature that changes together with the clef stands in the new one.
func (s state) clefAt(m *Measure, onset musicxml.Fraction) Clef {
	for _, c := range m.Changes {
		if c.Onset.Cmp(onset) <= 0 {
			s = s.with(c)
		}
	}
	return s.clef
}

// reference is the pitch a clef names, as steps from C0: G4, F3, C4.
func (c Clef) reference() int {
	switch c.Sign {
	case ClefF:
		return 24 + 7*c.Octave
	case ClefC:
		return 28 + 7*c.Octave
	}
	return 32 + 7*c.Octave
}

// line is the line the clef stands on, from 1 at the bottom.
func (c Clef) line() int {
	switch {
	case c.Sign == ClefPercussion || c.Sign == ClefTab || c.Sign == ClefNone:
		return 2 // read as a treble clef (MusicXML 4.0, display-step)
	case c.Line != 0:
		return c.Line
	case c.Sign == ClefF:
		return 4
	case c.Sign == ClefC:
		return 3
	}
	return 2
}

// middle is the note of the middle line of five, as steps from C0.
func (c Clef) middle() int {
	octave := c
	if c.Sign == ClefPercussion || c.Sign == ClefTab || c.Sign == ClefNone {
		octave.Octave = 0
	}
	return octave.reference() - 2*(c.line()-3)
}

// Position is the place of a note on the staff: steps above the middle line.
func (c Clef) Position(p Place) int { return p.steps() - c.middle() }

// PlaceAt is the note at a position: the way back from [Clef.Position].
func (c Clef) PlaceAt(position int) Place {
	at := pitch.At(position + c.middle())
	return Place{Step: int(at.Step), Octave: at.Octave}
}

// y turns a position into a height below the middle line.
func y(position int) float64 { return -float64(position) / 2 }

// bottomLine and topLine are the positions of a staff's outer lines. Lines are
// counted from the bottom, so a staff of one line keeps the lowest.
const bottomLine = -4

func topLine(lines int) int { return bottomLine + 2*(lines-1) }
