package parts

import (
	"fmt"

	"deskpart/instruments"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// reading is how the score as a whole is taken, and why.
type reading struct {
	// pitch is "concert", "written" or "mixed", as the manifest says it.
	pitch string
	why   string
	// silent is how a transposing part without <transpose> is read: as it sounds
	// or as the player reads it.
	silent Input
	// unsaid: nothing in the score told, the answer is the usual one.
	unsaid bool
}

// Pitch says what the score was taken for, "concert", "written" or "mixed", and
// why. Every part must have been surveyed.
func (c *Copyist) Pitch() (pitch, why string) {
	c.settleReading()
	return c.reading.pitch, c.reading.why
}

// Unsaid reports whether nothing in the score told which pitch it is in.
func (c *Copyist) Unsaid() bool {
	c.settleReading()
	return c.reading.unsaid
}

// settleReading decides once how the score is read.
func (c *Copyist) settleReading() {
	if c.reading.pitch != "" {
		return
	}
	declared, silent := 0, 0
	for i := range c.surveys {
		switch s := &c.surveys[i]; {
		case s.Notes == 0:
		case s.declared():
			declared++
		case transposes(s.Match.Instrument):
			silent++
		}
	}
	c.reading = c.judge(declared, silent)
}

// judge weighs what the score says. declared parts have a <transpose> of their
// own, silent ones are for transposing instruments and have none.
func (c *Copyist) judge(declared, silent int) reading {
	switch {
	case c.concert && declared == 0:
		return reading{pitch: "concert", why: "the score says that it is in concert pitch", silent: Concert}
	case declared > 0 && silent == 0:
		return reading{pitch: "written", why: "the transposing parts say their transposition", silent: Concert}
	case c.options.Input == Concert:
		return c.mixed(reading{pitch: "concert", why: "taken for concert pitch as asked", silent: Concert}, declared)
	case c.options.Input == Written:
		return c.mixed(reading{pitch: "written", why: "taken for written pitch as asked", silent: Written}, declared)
	case silent == 0:
		return reading{pitch: "concert", why: "no part is for a transposing instrument", silent: Concert}
	}
	return c.mixed(c.compareSignatures(), declared)
}

// mixed says so where some parts declare their transposition and the silent ones
// are read another way.
func (c *Copyist) mixed(r reading, declared int) reading {
	if declared > 0 && r.silent == Concert {
		r.pitch = "mixed"
		r.why = "some parts say their transposition; the others: " + r.why
	}
	return r
}

// compareSignatures tells a concert score from a written one that says nothing:
// in written pitch the signatures of transposing parts differ from the others'
// by their interval's place on the line of fifths.
func (c *Copyist) compareSignatures() reading {
	concert, known := c.concertFifths()
	same, shifted := 0, 0
	for i := range c.surveys {
		s := &c.surveys[i]
		if s.Notes == 0 || s.declared() || !transposes(s.Match.Instrument) || len(s.Keys) == 0 || !known {
			continue
		}
		by := soundingOf(s.Match.Instrument).Negate().Fifths()
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
		return reading{pitch: "written", silent: Written,
			why: fmt.Sprintf("%d transposing parts have signatures that differ from the others' by their interval", shifted)}
	case same > 0:
		return reading{pitch: "concert", silent: Concert,
			why: fmt.Sprintf("%d transposing parts have the same signature as the others", same)}
	}
	return reading{pitch: "concert", silent: Concert, unsaid: true,
		why: "nothing in the score tells its pitch, so it is read as it sounds"}
}

// concertFifths is the first signature that most parts for non-transposing
// instruments have.
func (c *Copyist) concertFifths() (int, bool) {
	count, best, known := map[int]int{}, 0, false
	for i := range c.surveys {
		s := &c.surveys[i]
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

// declared reports whether the part says a transposition that is no plain octave.
func (s *Survey) declared() bool {
	for _, t := range s.Source {
		if !t.To.OctaveOnly() {
			return true
		}
	}
	return false
}

func transposes(i *instruments.Instrument) bool { return i != nil && !i.OctaveOnly() }

// soundingOf is the instrument's transposition as an interval.
func soundingOf(i *instruments.Instrument) pitch.Interval { return transpositionOf(i).Interval() }

func transpositionOf(i *instruments.Instrument) transpose.Transposition {
	return transpose.Transposition{Diatonic: i.Diatonic, Chromatic: i.Chromatic, OctaveChange: i.OctaveChange}
}

// SourceTransposition is what part i of the score adds to its written pitch at its
// start: what its <transpose> says there, or, where it says nothing, what it is
// taken for. Every part must have been surveyed.
func (c *Copyist) SourceTransposition(i int) transpose.Transposition {
	c.settleReading()
	s := &c.surveys[i]
	switch {
	case len(s.Source) > 0 && s.Source[0].Measure == 0 && s.Source[0].Onset.Sign() == 0:
		return s.Source[0].To
	case len(s.Source) > 0 || s.ForPart != nil || s.Notes == 0 || s.Match.Instrument == nil:
		return transpose.Transposition{}
	case s.unsaidOctave(), c.reading.silent == Written && transposes(s.Match.Instrument):
		return transpositionOf(s.Match.Instrument)
	}
	return transpose.Transposition{}
}
