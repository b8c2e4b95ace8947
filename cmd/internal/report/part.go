package report

import (
	"errors"
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
	"deskpart/musicxml/works"
)

// PartName is what the file of a part is called, without its ending: its place in the
// score and what the player calls it.
func PartName(a parts.Assignment) string { return fmt.Sprintf("%02d %s", a.Number, a.Label) }

// NewPartRow is the row of a part that is to be made, and the file that it will have.
func NewPartRow(a parts.Assignment, file string) PartRow {
	row := PartRow{SourcePart: a.ID, SourceName: a.Name, Label: a.Label, RecognisedBy: a.RecognisedBy,
		Assumed: a.Assumed, Edition: a.Edition, StandsFor: a.StandsFor, File: file, Staves: stavesOf(a), Warnings: []musicxml.Warning{}}
	if a.Instrument != nil && a.Edition == "" {
		row.Instrument = a.Instrument.ID
	}
	return row
}

// NewWorkRow is the row of what a player of a work has of a movement, both counted from 0.
func NewWorkRow(w *works.Work, player, movement int, file string) PartRow {
	p := &w.Players[player]
	row := PartRow{Label: p.Label, RecognisedBy: parts.ByNone, Warnings: []musicxml.Warning{}}
	switch {
	case p.Files[movement] >= 0:
		row = NewPartRow(w.Jobs[movement].Assignment(p.Files[movement]), "")
	case p.Instruments[movement] != nil:
		row.RecognisedBy = parts.ByPlan
	}
	row.Player, row.Movement, row.File = p.Label, movement+1, file
	return row
}

// The states of a part in the manifest.
const (
	Written = "written"
	Tacet   = "tacet"
	Failed  = "failed"
)

// Take fills in what came of making the part.
func (r *PartRow) Take(made parts.Report) {
	r.Transpose, r.Moved = made.Transpose, MovedValue(made.Moved)
	r.Measures, r.Notes, r.Respelled = made.Measures, made.Notes, made.Respelled
	r.Warnings = append(r.Warnings, made.Warnings...)
	r.Status = Written
	if made.Tacet {
		r.Status = Tacet
	}
}

// Fail says in the row why the part was not made.
func (r *PartRow) Fail(err error) {
	r.File, r.SHA256, r.Status = "", "", Failed
	r.Warnings = append(r.Warnings, Failure(err))
}

// NotPrinted says in the row why the part, whose file is there, is on no pages.
func (r *PartRow) NotPrinted(err error) {
	r.Print, r.PrintSHA256, r.Status = "", "", Failed
	r.Warnings = append(r.Warnings, Failure(err))
}

// Failure says of a part why it was not made.
func Failure(err error) musicxml.Warning {
	w := musicxml.Warning{Code: notice.Failed, Text: err.Error()}
	if known, ok := errors.AsType[*musicxml.Error](err); ok {
		if known.Code == notice.InTheWay {
			w.Code = known.Code
		}
		w.Measure, w.Beat = known.Measure, known.Beat
		if known.Err != nil {
			w.Text = known.Err.Error()
		}
	}
	return w
}

// MissingWarnings tell of rows of the plan and of patterns that name no part.
func MissingWarnings(missing []plan.Missing) []musicxml.Warning {
	var warnings []musicxml.Warning
	for _, m := range missing {
		w := musicxml.Warning{Code: notice.NoSuchPart, Text: m.Error()}
		if m.Row != nil {
			line := ""
			if m.Row.Line > 0 {
				line = fmt.Sprintf(", line %d,", m.Row.Line)
			}
			w = musicxml.Warning{Code: notice.PlanRowUnused, Text: fmt.Sprintf("the plan's row for %q%s names no part of the score; %s", m.Words, line, m.Hint())}
		}
		warnings = append(warnings, w)
	}
	return warnings
}
