package collate

import (
	"fmt"

	"deskpart/transpose/pitch"
)

// settleInterval finds how far the part as a whole lies from the score, and says
// so: a fault where the part says how it sounds, a remark where it does not.
func (s *Score) settleInterval(c *comparison, l *Part, t *staff) {
	by, known := constantInterval(c.want, c.got)
	if !known || by.Chromatic == 0 {
		return
	}
	c.by = by
	octaves := by.Chromatic%12 == 0
	switch {
	case octaves && !c.got.transposes && transposesOctaves(l, t):
		c.remark("says no octave; read as " + nameOfInstrument(l, t) + " sounds")
	case !octaves && !c.got.declares:
		s.remarkUndeclared(c, l, t)
	case s.unsaid && !c.want.declares && t.match.Instrument != nil && by == intervalOf(t).Negate():
		c.remark("the score says nothing of its pitch; taken for what the player reads")
	default:
		c.sayWholePart(by)
	}
}

// remarkUndeclared says how a part was read that says no transposition.
func (s *Score) remarkUndeclared(c *comparison, l *Part, t *staff) {
	for _, in := range []struct {
		by   pitch.Interval
		name string
	}{{partInterval(l), nameOfInstrument(l, nil)}, {intervalOf(t), nameOfInstrument(nil, t)}} {
		if in.name != "" && sameSemitones(in.by, c.by) {
			c.by = in.by
			c.remark("says no transposition; read as written for " + in.name + ", by its name")
			return
		}
	}
	c.remark("says no transposition; read by the interval that fits best: sounding a " + c.by.String())
}

func sameSemitones(a, b pitch.Interval) bool { return a.Chromatic == b.Chromatic }

func partInterval(l *Part) pitch.Interval {
	if l.match.Instrument == nil {
		return pitch.Interval{}
	}
	return l.match.Instrument.Interval()
}

func intervalOf(t *staff) pitch.Interval {
	if t.match.Instrument == nil {
		return pitch.Interval{}
	}
	return t.match.Instrument.Interval()
}

// nameOfInstrument is the name of the instrument that one of them is for, "" where
// it is not known.
func nameOfInstrument(l *Part, t *staff) string {
	switch {
	case l != nil && l.match.Instrument != nil:
		return l.match.Instrument.Name("en")
	case t != nil && t.match.Instrument != nil:
		return t.match.Instrument.Name("en")
	}
	return ""
}

func transposesOctaves(l *Part, t *staff) bool {
	a, b := l.match.Instrument, t.match.Instrument
	return a != nil && a.OctaveOnly() && a.Transposes() || b != nil && b.OctaveOnly() && b.Transposes()
}

// sayWholePart says once that the part as a whole is written too high or too low.
func (c *comparison) sayWholePart(by pitch.Interval) {
	high := "low"
	if by.Chromatic < 0 {
		high = "high"
	}
	stands := fmt.Sprintf("the whole part %s too %s", by.WithArticle(pitch.English), high)
	c.found = append(c.found, Difference{Kind: Pitch, Text: sentence(stands, "the score's pitch"), Stands: stands, Should: "the score's pitch"})
}
