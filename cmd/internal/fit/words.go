package fit

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// Words say in a language why the player has the part; in English they are Text.
func (r *Role) Words(t *texts.Texts) string {
	if t.Language == pitch.English {
		return r.Text
	}
	return r.candidate.Words(t)
}

// Words say in a language why the candidate stands where it does; in English they are Text.
func (c *Candidate) Words(t *texts.Texts) string {
	switch {
	case t.Language == pitch.English || c.kin == "":
		return c.Text
	case c.instrument.Flags.Unpitched:
		return t.Then(t.Say("fit.strokes", nil), t.Pick("kin", c.kin))
	}
	clef, _ := t.Clef(c.Clef)
	words := []string{c.inRangeWords(t) + ", " + c.octavesIn(t), t.Say("fit.reads", texts.Fill{"signature": t.Signature(c.Key), "clef": clef})}
	if c.lost > 0 {
		words = append(words, t.Say("fit.lost", texts.Fill{"share": Percent(c.lost)}))
	}
	return t.Then(append(words, t.Pick("kin", c.kin))...)
}

func (c *Candidate) inRangeWords(t *texts.Texts) string {
	switch {
	case c.lie.Missing > 0:
		return t.Say("fit.missing", texts.Fill{"n": c.lie.Missing})
	case c.Comfortable == 1:
		return t.Say("fit.comfortable", nil)
	case c.InRange == 1:
		return t.Say("fit.in-range", texts.Fill{"share": Percent(c.Comfortable)})
	}
	return t.Say("fit.has-all", texts.Fill{"share": Percent(c.InRange)})
}

func (c *Candidate) octavesIn(t *texts.Texts) string {
	words := t.Say("fit.same-octave", nil)
	switch {
	case c.Octave > 0:
		words = t.Say("fit.octaves-up", texts.Fill{"n": c.Octave})
	case c.Octave < 0:
		words = t.Say("fit.octaves-down", texts.Fill{"n": -c.Octave})
	}
	if c.lie.Changes > 0 {
		words += " " + t.Say("fit.changes", texts.Fill{"n": c.lie.Changes})
	}
	return words
}
