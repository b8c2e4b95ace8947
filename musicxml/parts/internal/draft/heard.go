package draft

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/sounding"
)

// Heard is when the score sounds and when the part that was made of it does, where the
// part may have lost something on the way.
type Heard struct {
	Score, Part sounding.Times
	own         sounding.Times // what the player has of the score
}

// mayLose reports whether music is left out of the part: it is one player's of several,
// or goes to another instrument.
func (s *Draft) mayLose() bool {
	return !s.Assignment.Silent && (s.Assignment.Player > 0 || s.OtherInstrument())
}

// HearScore takes down when the score sounds, before anything is left out.
func (s *Draft) HearScore() (err error) {
	if !s.mayLose() {
		return nil
	}
	s.Report.Heard = new(Heard)
	s.Report.Heard.Score, err = sounding.Read(s.Part)
	s.Report.Heard.own = s.Report.Heard.Score
	return err
}

// HearPlayer takes down what one player has of a shared staff.
func (s *Draft) HearPlayer() (err error) {
	if s.Assignment.Player > 0 && s.OtherInstrument() {
		s.Report.Heard.own, err = sounding.Read(s.Part)
	}
	return err
}

// HearPart takes down when the finished part sounds, and warns of every bar in which it
// is silent and should not be. Whether the players of a staff together have all of it is
// known when all their parts are made.
func (s *Draft) HearPart() (err error) {
	h := s.Report.Heard
	if h == nil {
		return nil
	}
	if h.Part, err = sounding.Read(s.Part); err != nil || !s.OtherInstrument() {
		return err
	}
	s.Warn(Silences(h.own.Missing(h.Part), "the part")...)
	return nil
}

// Silences says where somebody is silent and the score sounds, bar by bar.
func Silences(gaps []sounding.Gap, who string) []musicxml.Warning {
	var warnings []musicxml.Warning
	for i, g := range gaps {
		if i > 0 && gaps[i-1].Index == g.Index {
			continue
		}
		text := "the score sounds here and " + who + " is silent"
		if g.Whole {
			text = "the score sounds in this bar and " + who + " is silent all through"
		}
		warnings = append(warnings, musicxml.Warning{Code: notice.MusicLost, Measure: g.Measure, Beat: g.Beat,
			Text: fmt.Sprintf("%s (%s)", text, g.To.Sub(g.From).Quarters())})
	}
	return warnings
}
