package service

import (
	"fmt"

	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// draw draws one part as the pages that are printed, each a drawing of its own.
func (s *Service) draw(c *call) (Reply, error) {
	on, err := s.seatedOf(c)
	if err != nil {
		return Reply{}, err
	}
	on.printing.SVG = true
	row, printed := on.printPart(on.request.Part)
	reply := Reply{Value: row}
	if printed != nil {
		for n, drawing := range printed.Drawings {
			reply.Files = append(reply.Files, File{fmt.Sprintf("%s %02d.svg", on.names()[on.request.Part], n+1), []byte(drawing)})
		}
	}
	return reply, nil
}

// printPart lays out one part. One that cannot be printed is a row that says why; one
// that is silent and not wanted is a row without pages.
func (on *seated) printPart(i int) (printing.Row, *printing.Printed) {
	a := on.rows[i]
	row := printing.Row{Label: a.Label, SourcePart: a.ID, Pages: []printing.Page{}, Turns: []printing.Turn{},
		NotDrawn: []printing.NotDrawn{}, Warnings: []musicxml.Warning{}}
	sheet, err := on.job.MakeIn(on.space, i)
	if err == nil && sheet.Document == nil {
		row.Warnings = append(row.Warnings, sheet.Report.Warnings...)
		return row, nil
	}
	var printed *printing.Printed
	if err == nil {
		printed, err = on.printing.Print(printing.Player{Label: a.Label, Instrument: a.Instrument}, sheet.Document.Root())
	}
	if err != nil {
		row.Failed, row.Warnings = true, append(row.Warnings, report.Failure(err))
		return row, nil
	}
	printed.SourcePart = a.ID
	printed.Warnings = append(append([]musicxml.Warning{}, sheet.Report.Warnings...), printed.Warnings...)
	return printed.Row, printed
}

// Printed is what became of a part on paper.
type Printed struct {
	Index int `json:"index"`
	printing.Row
}

// print makes a PDF of each part that is asked for and tells of each as soon as it is
// there; with "copies" in the request, one of them all for the printer instead.
func (s *Service) print(c *call) (Reply, error) {
	on, err := s.seatedOf(c)
	if err != nil {
		return Reply{}, err
	}
	chosen := on.request.chosen(len(on.rows))
	wantsJob := len(on.request.Copies) > 0
	job := printing.Job{Title: on.job.Surveyed().Title(), Language: string(on.options.Language), OneSided: on.request.Settings.OneSided}
	names := on.names()
	for n, i := range chosen {
		row, printed := on.printPart(i)
		told := Progress{Done: n + 1, Of: len(chosen)}
		switch {
		case printed == nil:
		case wantsJob:
			job.Add(printed, copiesAt(on.request.Copies, i))
		default:
			data, err := printed.PDF()
			if err != nil {
				return Reply{}, err
			}
			row.File = names[i] + ".pdf"
			told.Files = []File{{row.File, data}}
		}
		told.Made = Printed{i, row}
		if err := c.step(told); err != nil {
			return Reply{}, err
		}
	}
	if !wantsJob {
		return Reply{Value: struct{}{}}, nil
	}
	return jobReply(&job)
}

// copiesAt is how many prints of a part are wanted, one where the request does not say.
func copiesAt(copies []int, i int) int {
	if i < len(copies) {
		return max(0, copies[i])
	}
	return 1
}

// jobName is the file of a print job, as the command names it.
const jobName = "00 print job.pdf"

func jobReply(job *printing.Job) (Reply, error) {
	row := job.Row()
	if row.Copies == 0 {
		return Reply{Value: row}, nil
	}
	data, err := job.PDF()
	row.File = jobName
	return Reply{Value: row, Files: []File{{jobName, data}}}, err
}
