package survey

import (
	"fmt"

	"deskpart/transpose/pitch"
)

// Reading is how the score as a whole is taken, and why.
type Reading struct {
	// Pitch is "concert", "written" or "mixed", as the manifest says it.
	Pitch string
	Why   string
	// Silent is how a transposing part without <transpose> is read: as it sounds
	// or as the player reads it.
	Silent Input
	// Unsaid: nothing in the score told, the answer is the usual one.
	Unsaid bool
}

// Settle decides how the score is read, once every part has been.
func (c *Score) Settle() {
	declared, silent := 0, 0
	for i := range c.Parts {
		switch s := &c.Parts[i]; {
		case s.Notes == 0:
		case s.Declared():
			declared++
		case Transposes(s.Match.Instrument):
			silent++
		}
	}
	c.Reading = c.judge(declared, silent)
}

// judge weighs what the score says. declared parts have a <transpose> of their
// own, silent ones are for transposing instruments and have none.
func (c *Score) judge(declared, silent int) Reading {
	switch {
	case c.SaysConcert && declared == 0:
		return Reading{Pitch: "concert", Why: "the score says that it is in concert pitch", Silent: Concert}
	case declared > 0 && silent == 0:
		return Reading{Pitch: "written", Why: "the transposing parts say their transposition", Silent: Concert}
	case c.Input == Concert:
		return c.mixed(Reading{Pitch: "concert", Why: "taken for concert pitch as asked", Silent: Concert}, declared)
	case c.Input == Written:
		return c.mixed(Reading{Pitch: "written", Why: "taken for written pitch as asked", Silent: Written}, declared)
	case silent == 0:
		return Reading{Pitch: "concert", Why: "no part is for a transposing instrument", Silent: Concert}
	}
	return c.mixed(c.compareSignatures(), declared)
}

// mixed says so where some parts declare their transposition and the silent ones
// are read another way.
func (c *Score) mixed(r Reading, declared int) Reading {
	if declared > 0 && r.Silent == Concert {
		r.Pitch = "mixed"
		r.Why = "some parts say their transposition; the others: " + r.Why
	}
	return r
}

// compareSignatures tells a concert score from a written one that says nothing:
// in written pitch the signatures of transposing parts differ from the others'
// by their interval's place on the line of fifths.
func (c *Score) compareSignatures() Reading {
	concert, known := c.concertFifths()
	same, shifted := 0, 0
	for i := range c.Parts {
		s := &c.Parts[i]
		if s.Notes == 0 || s.Declared() || !Transposes(s.Match.Instrument) || len(s.Keys) == 0 || !known {
			continue
		}
		by := SoundingOf(s.Match.Instrument).Negate().Fifths()
		if !s.Match.KeyStated && s.Match.Assumed || by%12 == 0 {
			continue
		}
		switch s.Keys[0].Fifths {
		case concert:
			same++
		case concert + by, pitch.Twin(concert + by):
			shifted++
		}
	}
	switch {
	case shifted > same:
		return Reading{Pitch: "written", Silent: Written,
			Why: fmt.Sprintf("%d transposing parts have signatures that differ from the others' by their interval", shifted)}
	case same > 0:
		return Reading{Pitch: "concert", Silent: Concert,
			Why: fmt.Sprintf("%d transposing parts have the same signature as the others", same)}
	}
	return Reading{Pitch: "concert", Silent: Concert, Unsaid: true,
		Why: "nothing in the score tells its pitch, so it is read as it sounds"}
}

// concertFifths is the first signature that most parts for non-transposing
// instruments have.
func (c *Score) concertFifths() (int, bool) {
	count, best, known := map[int]int{}, 0, false
	for i := range c.Parts {
		s := &c.Parts[i]
		if in := s.Match.Instrument; in == nil || !in.OctaveOnly() || len(s.Keys) == 0 || s.Notes == 0 || in.Family == "timpani" {
			continue
		}
		f := s.Keys[0].Fifths
		count[f]++
		if !known || count[f] > count[best] {
			best, known = f, true
		}
	}
	return best, known
}
