package doubling

import (
	"cmp"
	"fmt"
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/plan"
)

// Desk is what one player has of several staves of the score.
type Desk struct {
	Staves []assign.Assignment // in score order
	Layout desks.Layout
	wide   []bool // beside Staves: a part of the score on several staves
	bars   Bars   // of the longest
}

// Lay finds out for every player with several staves when which of them sounds. The desks
// are beside the part files; nil for a player of one staff, and for players who share one.
func Lay(s *stages.Score, files []assign.Assignment) ([]*Desk, error) {
	all := make([]*Desk, len(files))
	for i := range files {
		if len(files[i].With) == 0 || files[i].OneStaff != "" {
			continue
		}
		var err error
		if all[i], err = lay(s, &files[i]); err != nil {
			return nil, err
		}
	}
	return all, nil
}

func lay(s *stages.Score, a *assign.Assignment) (*Desk, error) {
	own := *a
	own.With, own.Label = nil, a.StaffLabel
	d := &Desk{Staves: append([]assign.Assignment{own}, a.With...)}
	slices.SortStableFunc(d.Staves, func(a, b assign.Assignment) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Player, b.Player))
	})
	heard := NewListener(s)
	var sounds []desks.Sounds
	for _, staff := range d.Staves {
		h, err := heard.Listen(staff)
		if err != nil {
			return nil, err
		}
		sounds = append(sounds, joining.Sounds(h.Timeline))
		d.wide = append(d.wide, h.Staves > 1)
	}
	d.bars = heard.Bars
	d.Layout = desks.Lay(sounds, heard.Clock, func(a, b int) bool { return d.apart(a, b, sounds, heard.Clock) })
	return d, nil
}

// apart reports whether two staves need a staff each although they never sound at once:
// one is on several staves itself, or they are percussion that stands side by side and is
// gone to and fro between.
func (d *Desk) apart(a, b int, sounds []desks.Sounds, clock *desks.Clock) bool {
	if d.wide[a] || d.wide[b] || d.Staves[a].Sings && d.Staves[b].Sings {
		return true
	}
	if !assign.AtOnce(d.Staves[a].Instrument, d.Staves[b].Instrument) {
		return false
	}
	turns := desks.TakeTurns([]desks.Sounds{sounds[a], sounds[b]}, clock)
	return slices.ContainsFunc(turns.All(), func(c desks.Change) bool { return c.Seconds < desks.NoTime })
}

// Wrong lists what the player cannot do.
func (d *Desk) Wrong() []musicxml.Warning {
	var all []musicxml.Warning
	said := map[string]bool{}
	for i, c := range d.Layout.Clashes {
		a, b := &d.Staves[c.A], &d.Staves[c.B]
		if a.Sings && b.Sings || assign.AtOnce(a.Instrument, b.Instrument) && !d.third(i) {
			continue
		}
		measure, beat := d.bars.Place(musicxml.Position{Measure: c.Measure, Onset: c.From})
		if key := fmt.Sprint(c.Measure, c.A, c.B); !said[key] {
			said[key] = true
			all = append(all, musicxml.Warning{Code: notice.TwoAtOnce, Measure: measure, Beat: beat,
				Text: fmt.Sprintf("the player has %s and %s at once", a.Label, b.Label)})
		}
	}
	return append(all, d.hasty()...)
}

// third reports whether a third staff sounds with the two of a clash.
func (d *Desk) third(i int) bool {
	c := d.Layout.Clashes[i]
	return slices.ContainsFunc(d.Layout.Clashes, func(o desks.Clash) bool {
		return o.Measure == c.Measure && (o.A != c.A || o.B != c.B) && (o.A == c.A || o.A == c.B || o.B == c.A || o.B == c.B) &&
			o.From.Less(c.To) && c.From.Less(o.To)
	})
}

// hasty lists the changes for which there is little time.
func (d *Desk) hasty() []musicxml.Warning {
	var all []musicxml.Warning
	for r, turns := range d.Layout.Turns {
		for i, c := range turns.All() {
			if !c.Hasty() {
				continue
			}
			measure, beat := d.bars.Place(c.Entry)
			code := notice.HastyChange
			if c.Impossible() {
				code = notice.NoTimeToChange
			}
			tempo := ""
			if !c.Said && c.Seconds > 0 {
				tempo = " at an assumed tempo of 120 quarter notes a minute"
			}
			when := ""
			if i >= len(turns.Changes) {
				when = "where the music leads back or on to here "
			}
			all = append(all, musicxml.Warning{Code: code, Measure: measure, Beat: beat,
				Text: fmt.Sprintf("%sthe player has %s%s to change from %s to %s; under %d seconds are risky", when, joining.SecondsOf(c.Seconds), tempo,
					d.At(r, c.From).Label, d.At(r, c.To).Label, desks.LeastSeconds)})
		}
	}
	return all
}

// At is a staff by its row and its place there.
func (d *Desk) At(row, place int) *assign.Assignment { return &d.Staves[d.Layout.Rows[row][place]] }

// Refuse says of each staff what the player of a part file cannot do beside those before
// it, a line for each row of the plan.
func (d *Desk) Refuse(a *assign.Assignment, wrong *plan.Error) {
	atOnce, noTime := map[[2]int][]string{}, map[[2]int][]string{}
	for i, c := range d.Layout.Clashes {
		if d.Staves[c.A].Sings && d.Staves[c.B].Sings {
			continue
		}
		if !assign.AtOnce(d.Staves[c.A].Instrument, d.Staves[c.B].Instrument) || d.third(i) {
			key := [2]int{c.A, c.B}
			measure, _ := d.bars.Place(musicxml.Position{Measure: c.Measure})
			if bars := atOnce[key]; len(bars) == 0 || bars[len(bars)-1] != measure {
				atOnce[key] = append(bars, measure)
			}
		}
	}
	for r, turns := range d.Layout.Turns {
		for _, c := range turns.All() {
			if c.Impossible() {
				x, y := d.Layout.Rows[r][c.From], d.Layout.Rows[r][c.To]
				key := [2]int{min(x, y), max(x, y)}
				measure, _ := d.bars.Place(c.Entry)
				noTime[key] = append(noTime[key], measure)
			}
		}
	}
	for y := range d.Staves {
		for x := range y {
			key := [2]int{x, y}
			row := &d.Staves[y]
			if row.PlanPart == "" {
				row = &d.Staves[x]
			}
			if bars := atOnce[key]; len(bars) > 0 {
				wrong.Add(row.PlanLine, row.PlanPart, fmt.Sprintf("player %q has %s and %s at once in %s; give one of them to another player",
					a.Desk, d.Staves[x].Label, d.Staves[y].Label, InBars(bars)))
			}
			if bars := noTime[key]; len(bars) > 0 {
				wrong.Add(row.PlanLine, row.PlanPart, fmt.Sprintf("player %q has less than %d seconds to change between %s and %s before %s; give one of them to another player, or take it with --force",
					a.Desk, desks.NoTime, d.Staves[x].Label, d.Staves[y].Label, InBars(bars)))
			}
		}
	}
}
