package survey

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Questions are what is to be asked of a part before it is moved: which pitch it is in,
// whether its transposition is right.
func (c *Score) Questions(i int) []musicxml.Warning {
	return found(i, c.unsaidPitch, c.soundAtOdds)
}

// found is what looking at a part in several ways tells of it.
func found(i int, looks ...func(int) *musicxml.Warning) []musicxml.Warning {
	var all []musicxml.Warning
	for _, look := range looks {
		if w := look(i); w != nil {
			all = append(all, *w)
		}
	}
	return all
}

// unsaidPitch asks about a part for a transposing instrument that does not say
// whether it is written as it sounds, where the rest of the score does not say it
// surely either.
func (c *Score) unsaidPitch(i int) *musicxml.Warning {
	s, reading := &c.Parts[i], &c.Reading
	if !s.silent() || !reading.Unsaid && reading.Pitch != "mixed" {
		return nil
	}
	by := s.Match.Instrument.Interval()
	taken, otherwise := "as it sounds", "as its player reads it"
	if reading.Silent == Written {
		taken, otherwise, by = otherwise, taken, by.Negate()
	}
	return &musicxml.Warning{Code: notice.PitchUnsaid,
		Text: fmt.Sprintf("the part says nothing of its pitch and is taken %s: %s; read %s, it would sound %s", taken, reading.Why, otherwise, movedWords(by))}
}

// movedWords say where something sounds that is moved: "a major second lower".
func movedWords(by pitch.Interval) string {
	if by.IsDown() {
		return by.WithArticle("en") + " lower"
	}
	return by.WithArticle("en") + " higher"
}

// soundAtOdds asks about a part that would sound better with the others if it were
// transposed otherwise.
func (c *Score) soundAtOdds(i int) *musicxml.Warning {
	if text := c.Parts[i].Doubt; text != "" {
		return &musicxml.Warning{Code: notice.SoundAtOdds, Text: text}
	}
	return nil
}
