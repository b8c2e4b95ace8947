package collate

import (
	"fmt"

	"deskpart/instruments"
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
		c.remark("says no octave; read as " + nameOfInstrument(l.match, t.match) + " sounds")
	case !octaves && !c.got.declares:
		s.remarkUndeclared(c, l, t)
	case s.unsaid && !c.want.declares && t.match.Instrument != nil && by == intervalOf(t.match).Negate():
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
	}{{intervalOf(l.match), nameOfInstrument(l.match)}, {intervalOf(t.match), nameOfInstrument(t.match)}} {
		if in.name != "" && sameSemitones(in.by, c.by) {
			c.by = in.by
			c.remark("says no transposition; read as written for " + in.name + ", by its name")
			return
		}
	}
	c.remark("says no transposition; read by the interval that fits best: sounding a " + c.by.String())
}

func sameSemitones(a, b pitch.Interval) bool { return a.Chromatic == b.Chromatic }

func intervalOf(m instruments.Match) pitch.Interval {
	if m.Instrument == nil {
		return pitch.Interval{}
	}
	return m.Instrument.Interval()
}

// nameOfInstrument is the name of the first instrument that is known, "" for none.
func nameOfInstrument(matches ...instruments.Match) string {
	for _, m := range matches {
		if m.Instrument != nil {
			return m.Instrument.Name("en")
		}
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
	c.add(Difference{Kind: Pitch, Stands: stands, Should: "the score's pitch"})
}
