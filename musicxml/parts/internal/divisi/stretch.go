package divisi

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// stretch is a run of notes of a staff with which something is the matter; it
// makes one warning.
type stretch struct {
	code              notice.Code
	one, many         string // the warning of one bar, and of several: %s is the last
	open              bool
	first, last, beat string
}

// inDoubt is a stretch where the score does not say who plays.
func inDoubt() stretch {
	return stretch{code: notice.BothPlay,
		one:  "the score does not say which player has these notes; all have them",
		many: "from here to measure %s the score does not say which player has the notes; all have them"}
}

// crowded is the places with more notes at once than there are players.
func crowded() stretch {
	return stretch{code: notice.TooManyNotes,
		one:  "the staff has more notes at once than players; the last player has those that remain",
		many: "here and in other places up to measure %s the staff has more notes at once than players; the last player has those that remain"}
}

// goOn begins or goes on with a stretch at a place in a group.
func (s *stretch) goOn(g *group, at musicxml.Fraction) {
	m := g.bar.measure
	if !s.open {
		s.open, s.first, s.beat = true, m.Number, m.Beat(at)
	}
	s.last = m.Number
}

// settle ends a stretch with its warning.
func (d *division) settle(s *stretch) {
	if !s.open {
		return
	}
	s.open = false
	text := s.one
	if s.last != s.first {
		text = fmt.Sprintf(s.many, s.last)
	}
	d.report.Warnings = append(d.report.Warnings, musicxml.Warning{Code: s.code, Measure: s.first, Beat: s.beat, Text: text})
}
