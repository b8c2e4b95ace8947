package sharing

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// TakePlayersMusic leaves of a shared staff what one of its players has.
// It returns the printed signs that stay. The lexicon knows the words that say who
// plays.
func TakePlayersMusic(d *draft.Draft, lexicon *divisi.Lexicon) (courtesies map[*etree.Element]bool, err error) {
	s := &divider{d}
	a := &s.Assignment
	if a.Player == 0 {
		return nil, nil
	}
	if a.OnePlayer().Instrument != nil {
		return nil, nil // both read every note
	}
	o := divisi.Options{Keep: a.Player - 1, Lexicon: lexicon, Names: s.playerNames(), System: s.changesInstrument,
		Voiced: len(joining.Sharers(s.Score.ScoreParts[a.Part].Element)) > 0}
	for _, d := range a.Sharers {
		o.Players = append(o.Players, d.Player)
	}
	if courtesies, err = transpose.Courtesies(s.Timeline); err != nil {
		return nil, err
	}
	report, err := divisi.Divide(s.Timeline, o)
	if err != nil {
		return nil, err
	}
	s.Warn(report.Warnings...)
	s.StandOn(report.Staff)
	s.Rewritten()
	return courtesies, nil
}

// divider takes a line out of a part.
type divider struct{ *draft.Draft }

// playerNames are the names that may stand beside a player's number in the
// score's words.
func (s *divider) playerNames() []string {
	i := s.Survey.Match.Instrument
	if i == nil {
		return nil
	}
	var names []string
	for _, language := range pitch.Languages() {
		n := i.Names(language)
		names = append(names, n.Singular, n.Plural, n.Abbreviation)
	}
	return names
}

// changesInstrument reports whether a direction tells a player to change
// instrument: it concerns players who rest.
func (s *divider) changesInstrument(direction *etree.Element) bool {
	for _, words := range draft.WordsIn(direction) {
		if _, ok := s.Score.Catalogue.MatchChange(musicxml.Text(words), s.Assignment.Instrument); ok {
			return true
		}
	}
	return false
}
