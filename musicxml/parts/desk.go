package parts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/transpose/words"
)

// PlanError is what is wrong with a plan, a line for each of its rows: what no catalogue
// knows, what fits no part of the score, what no one can play.
type PlanError = assign.PlanError

// desk is what one player has of several staves of the score.
type desk struct {
	staves []assign.Assignment // in score order
	layout desks.Layout
	clock  *desks.Clock
	wide   []bool // beside staves: a part of the score on several staves
	bars   []bar  // of the longest
}

// bar is how musicians name places in a measure.
type bar struct{ number, beatType string }

// place names a place as musicians do.
func (d *desk) place(p musicxml.Position) (measure, beat string) {
	if p.Measure >= len(d.bars) {
		return "", ""
	}
	m := musicxml.Measure{BeatType: d.bars[p.Measure].beatType}
	return d.bars[p.Measure].number, m.Beat(p.Onset)
}

// layDesks finds out for every player with several staves when which of them sounds.
func (j *Job) layDesks() error {
	j.desks = make([]*desk, len(j.assignments))
	for i := range j.assignments {
		if len(j.assignments[i].With) == 0 || j.assignments[i].OneStaff != "" {
			continue
		}
		var err error
		if j.desks[i], err = j.layDesk(&j.assignments[i]); err != nil {
			return err
		}
	}
	return nil
}

func (j *Job) layDesk(a *assign.Assignment) (*desk, error) {
	own := *a
	own.With, own.Label = nil, a.StaffLabel
	d := &desk{staves: append([]assign.Assignment{own}, a.With...)}
	slices.SortStableFunc(d.staves, func(a, b assign.Assignment) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Player, b.Player))
	})
	var sounds []desks.Sounds
	w := new(Workspace)
	for i, staff := range d.staves {
		heard, err := j.hear(w, staff)
		if err != nil {
			return nil, err
		}
		sounds = append(sounds, joining.Sounds(heard.Timeline))
		d.wide = append(d.wide, heard.Staves > 1)
		for k := len(d.bars); k < len(heard.Timeline.Measures); k++ {
			d.bars = append(d.bars, bar{heard.Timeline.Measures[k].Number, heard.Timeline.Measures[k].BeatType})
		}
		if i == 0 {
			d.clock = desks.NewClock(j.stages.Lengths, joining.Tempos(heard.Timeline))
			d.clock.Plays(joining.Way(heard.Timeline))
		}
	}
	d.layout = desks.Lay(sounds, d.clock, func(a, b int) bool { return d.apart(a, b, sounds) })
	return d, nil
}

// hear makes a staff as far as to know when it sounds.
func (j *Job) hear(w *Workspace, a assign.Assignment) (*draft.Draft, error) {
	w.begin(j.surveyed.score.Music)
	d := draft.New(&j.surveyed.score, a, &w.slabs, &w.timeline)
	return d, j.surveyed.score.Locate(j.stages.Hear(d, &w.stages), a.Part)
}

// apart reports whether two staves need a staff each although they never sound at once:
// one is on several staves itself, or they are percussion that stands side by side and is
// gone to and fro between.
func (d *desk) apart(a, b int, sounds []desks.Sounds) bool {
	if d.wide[a] || d.wide[b] || d.staves[a].Sings && d.staves[b].Sings {
		return true
	}
	if !assign.AtOnce(d.staves[a].Instrument, d.staves[b].Instrument) {
		return false
	}
	turns := desks.TakeTurns([]desks.Sounds{sounds[a], sounds[b]}, d.clock)
	return slices.ContainsFunc(turns.All(), func(c desks.Change) bool { return c.Seconds < desks.NoTime })
}

// wrong lists what the player cannot do.
func (d *desk) wrong() []musicxml.Warning {
	var all []musicxml.Warning
	said := map[string]bool{}
	for i, c := range d.layout.Clashes {
		a, b := &d.staves[c.A], &d.staves[c.B]
		if a.Sings && b.Sings || assign.AtOnce(a.Instrument, b.Instrument) && !d.third(i) {
			continue
		}
		measure, beat := d.place(musicxml.Position{Measure: c.Measure, Onset: c.From})
		if key := fmt.Sprint(c.Measure, c.A, c.B); !said[key] {
			said[key] = true
			all = append(all, musicxml.Warning{Code: notice.TwoAtOnce, Measure: measure, Beat: beat,
				Text: fmt.Sprintf("the player has %s and %s at once", a.Label, b.Label)})
		}
	}
	return append(all, d.hasty()...)
}

// third reports whether a third staff sounds with the two of a clash.
func (d *desk) third(i int) bool {
	c := d.layout.Clashes[i]
	return slices.ContainsFunc(d.layout.Clashes, func(o desks.Clash) bool {
		return o.Measure == c.Measure && (o.A != c.A || o.B != c.B) && (o.A == c.A || o.A == c.B || o.B == c.A || o.B == c.B) &&
			o.From.Less(c.To) && c.From.Less(o.To)
	})
}

// hasty lists the changes for which there is little time.
func (d *desk) hasty() []musicxml.Warning {
	var all []musicxml.Warning
	for r, turns := range d.layout.Turns {
		for i, c := range turns.All() {
			if !c.Hasty() {
				continue
			}
			measure, beat := d.place(c.Entry)
			code := notice.HastyChange
			if c.Impossible() {
				code = notice.NoTimeToChange
			}
			tempo := ""
			if !c.Said {
				tempo = " at an assumed tempo of 120 quarter notes a minute"
			}
			when := ""
			if i >= len(turns.Changes) {
				when = "where the music leads back or on to here "
			}
			all = append(all, musicxml.Warning{Code: code, Measure: measure, Beat: beat,
				Text: fmt.Sprintf("%sthe player has %s%s to change from %s to %s; under %d seconds are risky", when, joining.SecondsOf(c.Seconds), tempo,
					d.at(r, c.From).Label, d.at(r, c.To).Label, desks.LeastSeconds)})
		}
	}
	return all
}

// at is a staff by its row and its place there.
func (d *desk) at(row, place int) *assign.Assignment { return &d.staves[d.layout.Rows[row][place]] }

// checkDesks refuses players who have what nobody can do, a line for each row of the plan,
// and rows that fit no part, where that is asked for.
func (j *Job) checkDesks(wrong *PlanError) {
	if j.surveyed.options.WholePlan {
		for _, m := range j.missing {
			if m.Row != nil {
				wrong.Add(m.Row.Line, m.Row.Part, "no part of the score is called so; "+m.Hint())
			}
		}
	}
	for i, d := range j.desks {
		if d != nil && !j.surveyed.options.Force {
			j.checkDesk(&j.assignments[i], d, wrong)
		}
	}
}

// checkDesk says of each staff of a player what cannot be done beside those before it.
func (j *Job) checkDesk(a *assign.Assignment, d *desk, wrong *PlanError) {
	atOnce, noTime := map[[2]int][]string{}, map[[2]int][]string{}
	for i, c := range d.layout.Clashes {
		if d.staves[c.A].Sings && d.staves[c.B].Sings {
			continue
		}
		if !assign.AtOnce(d.staves[c.A].Instrument, d.staves[c.B].Instrument) || d.third(i) {
			key := [2]int{c.A, c.B}
			measure, _ := d.place(musicxml.Position{Measure: c.Measure})
			if bars := atOnce[key]; len(bars) == 0 || bars[len(bars)-1] != measure {
				atOnce[key] = append(bars, measure)
			}
		}
	}
	for r, turns := range d.layout.Turns {
		for _, c := range turns.All() {
			if c.Impossible() {
				x, y := d.layout.Rows[r][c.From], d.layout.Rows[r][c.To]
				key := [2]int{min(x, y), max(x, y)}
				measure, _ := d.place(c.Entry)
				noTime[key] = append(noTime[key], measure)
			}
		}
	}
	for y := range d.staves {
		for x := range y {
			key := [2]int{x, y}
			row := &d.staves[y]
			if row.PlanPart == "" {
				row = &d.staves[x]
			}
			if bars := atOnce[key]; len(bars) > 0 {
				wrong.Add(row.PlanLine, row.PlanPart, fmt.Sprintf("player %q has %s and %s at once in %s; give one of them to another player",
					a.Desk, d.staves[x].Label, d.staves[y].Label, inBars(bars)))
			}
			if bars := noTime[key]; len(bars) > 0 {
				wrong.Add(row.PlanLine, row.PlanPart, fmt.Sprintf("player %q has less than %d seconds to change between %s and %s before %s; give one of them to another player, or take it with --force",
					a.Desk, desks.NoTime, d.staves[x].Label, d.staves[y].Label, inBars(bars)))
			}
		}
	}
}

// inBars lists bars: "bar 12", "bars 12, 14 to 16".
func inBars(numbers []string) string {
	if len(numbers) == 1 {
		return "bar " + numbers[0]
	}
	list := words.InRuns(numbers, func(from, to string) string { return from + " to " + to })
	return "bars " + strings.Join(list, ", ")
}
