package assign

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// plannedRow is a row of the plan with its instrument looked up.
type plannedRow struct {
	plan.Row
	instrument *instruments.Instrument
	leaveOut   bool
	copies     int
	index      int // among the rows
}

// apply gives the music of a chair what the rows of the plan say that name the part or
// the player; the usual where none does.
func (c *Assigner) apply(rows []plannedRow, named []names, chairs []chair, i int) []Assignment {
	var planned []Assignment
	any, leftOut := false, false
	player := chairs[i].player
	for k, row := range rows {
		if !named[k].players[i] && !named[k].wholes[i] {
			continue
		}
		any = true
		if leftOut = leftOut || row.leaveOut; !row.leaveOut {
			planned = append(planned, c.giveRow(player, row, named[k].players[i] && !named[k].wholes[i]))
		}
	}
	switch {
	case leftOut:
		return nil
	case any:
		return planned
	}
	return []Assignment{player}
}

// Heard names who plays each part of the score, for whoever listens for it: as the score
// has it where the plan leaves the instrument alone, else the first player that the plan
// gives it to; "" where nobody plays it.
func (c *Assigner) Heard() []string {
	rows, _ := planned(c.options.Plan, c.Catalogue)
	chairs := c.chairs()
	named, _ := c.named(rows, chairs)
	heard := make([]string, len(c.Parts))
	for i := range chairs {
		usual := &chairs[i].whole
		for _, a := range c.apply(rows, named, chairs, i) {
			switch {
			case heard[usual.Part] != "":
			case a.Instrument == usual.Instrument:
				heard[usual.Part] = usual.Label
			default:
				heard[usual.Part] = a.Label
			}
		}
	}
	return heard
}

// englishLabel is the label by which a plan may name a player, whatever language
// the sheets are headed in.
func (c *Assigner) englishLabel(a Assignment) string {
	english := *c
	english.options.Language = "en"
	return english.playerLabel(a, *a.OnePlayer())
}

// Give hands an assignment to another player, as a row of a plan does: its
// instrument, octave, clef and label. The row's part is not looked at.
func (c *Assigner) Give(a Assignment, row plan.Row) (Assignment, error) {
	planned, faults := lookUp(c.Catalogue, row)
	if len(faults) > 0 {
		return a, faults[0]
	}
	return c.giveRow(a, planned, true), nil
}

// giveRow does what a row of the plan says. own: it is for this sheet alone, so
// that its label is the sheet's; that of a whole part gets the player's number.
func (c *Assigner) giveRow(a Assignment, row plannedRow, own bool) Assignment {
	a.Octave, a.Clef, a.Copies = row.Octave, row.Clef, row.copies
	a.Desk, a.PlanLine, a.PlanPart, a.planIndex = row.Player, row.Line, row.Part, row.index
	// For another kind of instrument than the score's the octave is taken that suits. A
	// clarinet in another key keeps the octave that the composer wrote; what an unknown part
	// is for the plan only says.
	if from, to := a.Instrument, row.instrument; a.Octave == "" && from != nil && to != nil && from.Kind != to.Kind {
		a.Octave = "auto"
	}
	other := row.instrument != nil && row.instrument != a.Instrument
	c.give(&a, row.instrument)
	if a.Player > 0 && other {
		a.Sharers = slices.Clone(a.Sharers)
		if d := a.OnePlayer(); d.Instrument != nil {
			d.Instrument = row.instrument
		}
		a.Label = c.playerLabel(a, *a.OnePlayer())
	}
	if row.Label == "" {
		return a
	}
	a.Label, a.planLabel = row.Label, true
	if a.Player > 0 && !own && a.OnePlayer().Instrument == nil {
		a.Label = c.playerLabel(a, *a.OnePlayer())
	}
	return a
}

// give hands an assignment to the instrument that the plan names, for the whole
// part, also where the score changes instrument on the way. Naming the one that a
// part is for throughout confirms what was assumed and changes nothing else; an
// octave that the score leaves unsaid stays so.
func (c *Assigner) give(a *Assignment, to *instruments.Instrument) {
	switch {
	case to == nil:
		return
	case to != a.Instrument:
		a.Label = to.Label(c.options.Language, c.Parts[a.Part].Match.Number)
		a.Instrument, a.RecognisedBy = to, ByPlan
	case survey.Transposes(to):
		a.RecognisedBy = ByPlan
	}
	a.Assumed = false
	a.Warnings = withoutDoubts(a.Warnings)
}

// withoutDoubts leaves out what was asked about a part's own instrument.
func withoutDoubts(warnings []musicxml.Warning) []musicxml.Warning {
	return slices.DeleteFunc(slices.Clone(warnings), func(w musicxml.Warning) bool {
		return w.Code == notice.AssumedKey || w.Code == notice.UnrecognisedPart || w.Code == notice.WhichInstrument
	})
}

// CheckPlan says what is wrong with a plan, all of it, a line for each row.
func CheckPlan(rows []plan.Row, catalogue *instruments.Catalogue) error {
	if _, wrong := planned(rows, catalogue); len(wrong.Rows) > 0 {
		return wrong
	}
	return nil
}

// planned looks a plan's instruments and players up, and says what is wrong with rows.
func planned(given []plan.Row, catalogue *instruments.Catalogue) ([]plannedRow, *plan.Error) {
	var rows []plannedRow
	wrong := &plan.Error{}
	for _, r := range given {
		row, faults := lookUp(catalogue, r)
		for _, fault := range faults {
			wrong.Add(r.Line, r.Part, fault.Error())
		}
		row.index = len(rows)
		rows = append(rows, row)
	}
	followPlayers(rows, wrong)
	return rows, wrong
}

// MostCopies bounds how many prints of a part may be asked for.
const MostCopies = 999

// lookUp finds the instrument of a row of a plan and checks its octave, copies and clef.
// The faults are those of all its cells.
func lookUp(catalogue *instruments.Catalogue, r plan.Row) (row plannedRow, faults []error) {
	row = plannedRow{Row: r, leaveOut: strings.EqualFold(strings.TrimSpace(r.Instrument), "none")}
	row.Octave = strings.TrimSpace(r.Octave)
	if name := strings.TrimSpace(r.Instrument); name != "" && !row.leaveOut {
		if row.instrument = catalogue.ByID(name); row.instrument == nil {
			found := catalogue.Find(name)
			if len(found) == 0 || len(catalogue.Match(instruments.Query{Name: name}).Unknown) > 0 {
				faults = append(faults, catalogue.NotFound(name))
			} else {
				row.instrument = found[0]
			}
		}
	}
	if row.Octave != "" && row.Octave != "auto" {
		if n, err := strconv.Atoi(row.Octave); err != nil || n < -5 || n > 5 {
			faults = append(faults, fmt.Errorf("octave %q is not a whole number from -5 to 5 or auto", row.Octave))
		}
	}
	if r.Copies != "" {
		n, err := strconv.Atoi(r.Copies)
		if err != nil || n < 1 || n > MostCopies {
			faults = append(faults, fmt.Errorf("copies %q is not a whole number from 1 to %d", r.Copies, MostCopies))
		} else {
			row.copies = n
		}
	}
	if _, ok := ClefsNamed(r.Clef); !ok && strings.TrimSpace(r.Clef) != "" {
		faults = append(faults, fmt.Errorf("%q is no clef; the clefs are %s", r.Clef, clefNames))
	}
	return row, faults
}
