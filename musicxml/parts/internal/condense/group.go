package condense

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/plan"
)

// mostSharers bounds how many players share a staff that is put together.
const mostSharers = 3

// Group are parts that are put on one staff, as a flag or a row of the plan says.
type Group struct {
	Words []string
	Row   *plan.Row // nil for a flag
}

// Groups takes the rows out of a plan that put parts on one staff ("Flute 1 + Flute 2"); what
// such a row says of the instrument becomes a row for each part.
func Groups(assigner *assign.Assigner, given []plan.Row) (rows []plan.Row, groups []Group) {
	for _, row := range given {
		words := strings.Split(row.Part, "+")
		if len(words) < 2 || len(words) > mostSharers || assigner.Means(row.Part) {
			rows = append(rows, row)
			continue
		}
		for i := range words {
			words[i] = strings.TrimSpace(words[i])
			if row.Instrument+row.Octave+row.Clef == "" || !assigner.Means(words[i]) {
				continue // as usual, or Sharing.share says what is wrong
			}
			rows = append(rows, plan.Row{Part: words[i], Instrument: row.Instrument, Octave: row.Octave, Clef: row.Clef, Line: row.Line})
		}
		if !strings.EqualFold(strings.TrimSpace(row.Instrument), "none") {
			groups = append(groups, Group{words, &row})
		}
	}
	return rows, groups
}

// Sharing puts part files on staves that several players share.
type Sharing struct {
	Score    *stages.Score
	Assigner *assign.Assigner
	Files    []assign.Assignment
}

// Share puts groups of players on one staff each, and says what is wrong with them.
func (s *Sharing) Share(groups []Group, wrong *plan.Error) {
	for _, g := range groups {
		err := s.share(g)
		switch {
		case err != nil && g.Row != nil:
			wrong.Add(g.Row.Line, g.Row.Part, err.Error())
		case err != nil:
			wrong.Rows = append(wrong.Rows, fmt.Sprintf("--share %q: %s", strings.Join(g.Words, ", "), err))
		}
	}
}

func (s *Sharing) share(group Group) error {
	at, err := s.find(group)
	if err != nil {
		return err
	}
	shared := s.Files[at[0]]
	var numbers []string
	for _, i := range at {
		a := &s.Files[i]
		if err := s.canShare(a, &shared); err != nil {
			return err
		}
		if n := s.Score.Surveyed.Parts[a.Part].Match.Players; len(n) == 1 {
			numbers = append(numbers, strconv.Itoa(n[0]))
		}
		if i != at[0] {
			shared.With = append(shared.With, *a)
		}
	}
	if len(numbers) != len(at) {
		return fmt.Errorf("the names of the parts do not number their players, as in \"Flute 1\"; number them in the score")
	}
	shared.OneStaff, shared.StaffLabel = strings.Join(numbers, ","), shared.Label
	shared.Label = shared.Instrument.Label(s.Score.Language, shared.OneStaff)
	if row := group.Row; row != nil {
		if row.Label != "" {
			shared.Label = row.Label
		}
		if copies, err := strconv.Atoi(row.Copies); err == nil {
			shared.Copies = copies
		}
	}
	s.Files[at[0]] = shared
	s.Files = deleteAll(s.Files, at[1:])
	return nil
}

// find finds the part files of a group, in the order of its words.
func (s *Sharing) find(group Group) ([]int, error) {
	words := group.Words
	if group.Row != nil && group.Row.Player != "" {
		return nil, fmt.Errorf("a staff that several share has no one player; leave the column player empty")
	}
	if len(words) < 2 || len(words) > mostSharers {
		return nil, fmt.Errorf("%s named; two or three share a staff", notice.Counted(len(words), "part is", "parts are"))
	}
	var at []int
	for _, w := range words {
		i, err := s.Assigner.Choose(s.Files, w, 0)
		if err != nil {
			return nil, err
		}
		if k := slices.Index(at, i); k >= 0 && !strings.EqualFold(words[k], w) {
			return nil, fmt.Errorf("%q and %q are on one staff already, that of %s", words[k], w, s.Files[i].Name)
		} else if k >= 0 {
			return nil, fmt.Errorf("%q is named twice", w)
		}
		at = append(at, i)
	}
	return at, nil
}

// canShare says why a part cannot share a staff with another.
func (s *Sharing) canShare(a, with *assign.Assignment) error {
	cannot := func(why string, of ...any) error {
		return fmt.Errorf(why+"; leave %s a part of its own", append(of, a.Label)...)
	}
	switch {
	case len(a.With) > 0 || a.Player > 0 || a.Edition != "":
		return cannot("%s is not one player's whole part", a.Label)
	case a.Instrument == nil:
		return fmt.Errorf("no instrument is known by the name %q; give it its instrument in a plan", a.Label)
	case a.Instrument != with.Instrument:
		return cannot("%s and %s are not for the same instrument", with.Label, a.Label)
	case len(s.Score.Surveyed.Parts[a.Part].Measures) != len(s.Score.Surveyed.Parts[with.Part].Measures):
		return cannot("%s and %s have not the same number of bars", with.Label, a.Label)
	}
	heard, err := doubling.NewListener(s.Score).Listen(*a)
	if err != nil {
		return err
	}
	if len(heard.Changes) > 0 {
		return cannot("the player of %s changes instrument", a.Label)
	}
	if bars := severalAtOnce(heard); len(bars) > 0 {
		return cannot("%s has several notes at once in %s", a.Label, doubling.InBars(bars))
	}
	return nil
}

// severalAtOnce lists the bars in which one player has chords or several voices.
func severalAtOnce(d *draft.Draft) []string {
	var bars []string
	for i := range d.Timeline.Measures {
		m := &d.Timeline.Measures[i]
		voice := ""
		if slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
			if ev.Kind != musicxml.Note || ev.Rest {
				return false
			}
			several := ev.Chord || voice != "" && voice != ev.Voice || ev.Staff > 1
			voice = ev.Voice
			return several
		}) {
			bars = append(bars, m.Number)
		}
	}
	return bars
}

func deleteAll(list []assign.Assignment, places []int) []assign.Assignment {
	var left []assign.Assignment
	for i, a := range list {
		if !slices.Contains(places, i) {
			left = append(left, a)
		}
	}
	return left
}
