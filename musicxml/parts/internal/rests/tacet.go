package rests

import (
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// MarkTacet finds out whether the player has nothing to play at all, and says so
// on the sheet.
func MarkTacet(s *draft.Draft) error {
	if !silent(s) || !s.Score.AnyPlays() {
		return nil
	}
	s.Report.Tacet = true
	if len(s.Timeline.Measures) == 0 {
		return nil
	}
	e := draft.WordsAbove("Tacet", "font-weight", "bold")
	s.OnTopStaff(e)
	m := &s.Timeline.Measures[0]
	s.Insert(m, draft.SlotAt(m, musicxml.Fraction{}).Before, e)
	return nil
}

// silent reports whether nothing is played or sung from the part, nor anything that
// stands for notes: chord symbols, slashes.
func silent(s *draft.Draft) bool {
	for i, repeated := range draft.RepeatedBars(s.Timeline) {
		if repeated || !draft.Idle(&s.Timeline.Measures[i]) {
			return false
		}
	}
	return true
}
