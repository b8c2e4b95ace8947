package percussion

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
)

// drum is one instrument of percussion: a staff, or one of the instruments on a staff.
type drum struct {
	staff  assign.Assignment
	id     string // of the score-instrument, "" for a whole staff
	label  string
	sounds desks.Sounds
}

// section is the percussion of a score, to be shared out.
type section struct {
	*doubling.Listener
	score    *survey.Score
	drums    []drum
	passages []desks.Passage
	spans    []span // beside the passages
}

// span is a passage as places in the score.
type span struct{ from, to musicxml.Position }

// mostDrums bounds the instruments that are told apart.
const mostDrums = 60

// ShareOut gives the percussion among the part files of a score to so many players, 0 as it
// is. Timpani have a player of their own (part-preparation, 2), and what the plan gives to
// somebody is his.
func ShareOut(score *stages.Score, files []assign.Assignment, players int) ([]assign.Assignment, error) {
	if players == 0 {
		return files, nil
	}
	s := &section{Listener: doubling.NewListener(score), score: score.Surveyed}
	var others []assign.Assignment
	at := -1
	for _, a := range files {
		if !isSection(&a) {
			others = append(others, a)
			continue
		}
		if at < 0 {
			at = len(others)
		}
		if err := s.hear(a); err != nil {
			return nil, err
		}
	}
	if at < 0 || len(s.drums) > mostDrums {
		return files, nil
	}
	s.cut()
	s.keepApart()
	made := s.deal(desks.ShareOut(s.passages, players), players)
	return slices.Insert(others, at, made...), nil
}

// isSection reports whether a staff is the percussion section's.
func isSection(a *assign.Assignment) bool {
	return a.Instrument != nil && a.Instrument.Group == instruments.Percussion && a.Instrument.Family != "timpani" &&
		a.Desk == "" && len(a.With) == 0 && a.Edition == "" && a.StandsFor == ""
}

// hear takes down when each instrument of a staff sounds.
func (s *section) hear(a assign.Assignment) error {
	heard, err := s.Listen(a)
	if err != nil {
		return err
	}
	ids, end := s.instrumentsOf(heard), len(heard.Timeline.Measures)
	if len(ids) < 2 {
		s.drums = append(s.drums, drum{a, "", a.Label, joining.Sounds(heard.Timeline)})
		return nil
	}
	for _, id := range ids {
		own := a
		own.Takes = []assign.Take{{Instrument: id, To: musicxml.Position{Measure: end}}}
		heard, err := s.Listen(own)
		if err != nil {
			return err
		}
		s.drums = append(s.drums, drum{a, id, s.nameOf(a.Part, id), joining.Sounds(heard.Timeline)})
	}
	return nil
}

// instrumentsOf lists the instruments that the notes of a staff name, in the order of the
// part-list; none where a note names none, or where they are one player's kit.
func (s *section) instrumentsOf(heard *draft.Draft) []string {
	named := map[string]bool{}
	for _, ev := range heard.Timeline.Each(musicxml.Note) {
		if ev.Rest {
			continue
		}
		e := musicxml.Child(ev.Element, "instrument")
		if e == nil {
			return nil
		}
		named[musicxml.Attr(e, "id")] = true
	}
	if in := heard.Assignment.Instrument; in.Kind == "drum-set" {
		return nil
	}
	var ids []string
	for _, in := range s.score.ScoreParts[heard.Assignment.Part].Instruments {
		if named[in.ID] {
			ids = append(ids, in.ID)
		}
	}
	return ids
}

func (s *section) nameOf(part int, id string) string {
	for _, in := range s.score.ScoreParts[part].Instruments {
		if in.ID == id && strings.TrimSpace(in.Name) != "" {
			return strings.Join(strings.Fields(in.Name), " ")
		}
	}
	return id
}

// cut cuts what each instrument plays where there is time to hand it on.
func (s *section) cut() {
	type cutting struct {
		desks.Passage
		span
	}
	var all []cutting
	for d := range s.drums {
		last := -1
		for _, sound := range s.drums[d].sounds {
			from := musicxml.Position{Measure: sound.Measure, Onset: sound.From}
			to := s.Clock.Settled(musicxml.Position{Measure: sound.Measure, Onset: sound.To})
			start, _ := s.Clock.Seconds(musicxml.Position{}, from)
			end, _ := s.Clock.Seconds(musicxml.Position{}, to)
			if last >= 0 && start-all[last].To < desks.LeastSeconds {
				all[last].To, all[last].to = end, to
				all[last].Notes++
				continue
			}
			last = len(all)
			all = append(all, cutting{desks.Passage{Instrument: d, From: start, To: end, Notes: 1}, span{from, to}})
		}
	}
	slices.SortStableFunc(all, func(a, b cutting) int { return cmp.Compare(a.From, b.From) })
	for _, c := range all {
		s.passages, s.spans = append(s.passages, c.Passage), append(s.spans, c.span)
	}
}

// deal makes the players' parts, and says what nobody is free for.
func (s *section) deal(share desks.Share, players int) []assign.Assignment {
	has := make([][]int, players) // the instruments of each player
	for p, player := range share.Player {
		if d := s.passages[p].Instrument; player >= 0 && !slices.Contains(has[player], d) {
			has[player] = append(has[player], d)
		}
	}
	has = slices.DeleteFunc(has, func(drums []int) bool { return len(drums) == 0 })
	var made []assign.Assignment
	for player, drums := range has {
		slices.Sort(drums)
		var a assign.Assignment
		for i, d := range drums {
			own := s.take(d, player, share.Player)
			if i == 0 {
				a = own
			} else {
				a.With = append(a.With, own)
			}
		}
		a.StaffLabel, a.Label, a.Desk = a.Label, playerName(player), playerName(player)
		a.Has = s.list(player, has)
		made = append(made, a)
	}
	if len(made) == 0 {
		made = []assign.Assignment{s.drums[0].staff}
	}
	last := &made[len(made)-1]
	last.Warnings = append(slices.Clone(last.Warnings), s.uncovered(share.Player)...)
	return made
}

func playerName(player int) string { return fmt.Sprintf("Percussion %d", player+1) }

// take is what a player has of an instrument.
func (s *section) take(d, player int, players []int) assign.Assignment {
	a := s.drums[d].staff
	a.Label, a.StaffLabel, a.Takes = s.drums[d].label, s.drums[d].label, nil
	for p, who := range players {
		if who == player && s.passages[p].Instrument == d {
			take := assign.Take{Instrument: s.drums[d].id, From: s.spans[p].from, To: s.spans[p].to}
			take.Since, take.Last = s.around(p)
			a.Takes = append(a.Takes, take)
		}
	}
	return a
}

// around says where the staff of a passage was silent before it, and whether it is after it.
func (s *section) around(passage int) (since musicxml.Position, last bool) {
	own, staff := s.spans[passage], &s.drums[s.passages[passage].Instrument].staff
	since, last = musicxml.Position{Measure: -1}, true
	for p, other := range s.spans {
		if with := &s.drums[s.passages[p].Instrument].staff; with.ID != staff.ID || with.Player != staff.Player {
			continue
		}
		if other.from.Compare(own.from) < 0 && since.Compare(other.to) < 0 {
			since = other.to
		}
		last = last && other.to.Compare(own.to) <= 0
	}
	return since, last
}

// list names the instruments of a player, and with whom they are shared.
func (s *section) list(player int, has [][]int) string {
	var names []string
	for _, d := range has[player] {
		name := s.drums[d].label
		var with []string
		for other, drums := range has {
			if other != player && slices.Contains(drums, d) {
				with = append(with, playerName(other))
			}
		}
		if len(with) > 0 {
			name += " (with " + strings.Join(with, ", ") + ")"
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// uncovered says for which passages nobody is free.
func (s *section) uncovered(players []int) []musicxml.Warning {
	var warnings []musicxml.Warning
	for p, player := range players {
		if player >= 0 {
			continue
		}
		from, beat := s.Bars.Place(s.spans[p].from)
		last := s.spans[p].to
		if last.Onset.Sign() == 0 && s.spans[p].from.Compare(last) < 0 {
			last.Measure-- // at the end of the bar before
		}
		until := ""
		if to, _ := s.Bars.Place(last); to != from && to != "" {
			until = " until measure " + to
		}
		warnings = append(warnings, musicxml.Warning{Code: notice.MusicLost, Measure: from, Beat: beat,
			Text: fmt.Sprintf("nobody is free to play %s from here%s: more percussionists are wanted", s.drums[s.passages[p].Instrument].label, until)})
	}
	return warnings
}
