package main

import (
	"context"
	"fmt"
	"slices"

	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// book prints all that a player of a work has, each movement under its heading; a
// movement in which the player is silent is a line. The warnings are those of the parts.
func (w *readWork) book(o printing.Options, p int) (printed *printing.Printed, warnings []musicxml.Warning, err error) {
	player := &w.Players[p]
	var movements []printing.Movement
	for m, file := range player.Files {
		sheet, err := w.sheet(p, m)
		if err != nil {
			return nil, nil, err
		}
		movement := printing.Movement{Heading: w.Heading(m), Tacet: sheet.Report.Tacet}
		if sheet.Document != nil {
			movement.Root = sheet.Document.Root()
		}
		if file >= 0 {
			warnings = append(warnings, sheet.Report.Warnings...)
			if label := w.Jobs[m].Assignment(file).Label; label != player.Label && !movement.Tacet {
				movement.Heading += " (" + label + ")"
			}
		}
		movements = append(movements, movement)
	}
	printed, err = o.PrintWork(printing.Player{Label: player.Label, Instrument: player.Instruments[0]}, w.Title, movements...)
	return printed, warnings, err
}

// sheet makes what a player has of a movement, in memory of its own: a book needs all
// movements at once.
func (w *readWork) sheet(p, m int) (*parts.Part, error) {
	player := &w.Players[p]
	if file := player.Files[m]; file >= 0 {
		return w.Jobs[m].Make(file)
	}
	return w.Jobs[m].MakeTacet(nil, player.Label, player.Instruments[m])
}

// printBooks writes a PDF for each player beside the files. A player whose movements
// cannot be drawn gets a warning: the files are there.
func (j *workJob) printBooks(ctx context.Context, rows []report.PartRow) error {
	options := j.options(string(j.Language), 0)
	first := func(p int) *report.PartRow { return &rows[p*len(j.Jobs)] }
	names := make([]string, len(j.Players))
	for p := range names {
		names[p] = j.names.Unique(fmt.Sprintf("%02d %s", p+1, j.Players[p].Label), ".pdf")
	}
	return firstError(j.worker.Each(ctx, len(j.Players), func(_ context.Context, _, p int) error {
		row := first(p)
		printed, _, err := j.book(options, p)
		if err != nil {
			row.Warnings, row.Status = append(row.Warnings, report.Failure(err)), report.Failed
			return nil
		}
		data, err := printed.PDF()
		if err != nil {
			return err
		}
		row.Warnings = append(row.Warnings, printed.Warnings...)
		row.Print, row.PrintSHA256 = names[p], report.Sum(data)
		err = j.put(row.Print, data, row.PrintSHA256)
		if musicxml.ErrorCode(err) == notice.InTheWay {
			row.Warnings, row.Status = append(slices.Clone(row.Warnings), report.Failure(err)), report.Failed
			row.Print, row.PrintSHA256 = "", ""
			return nil
		}
		return err
	}))
}
