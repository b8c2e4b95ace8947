package service

import (
	"fmt"
	"path"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
)

// Drawn is what became of a part on pages to look at.
type Drawn struct {
	printing.Row
	Warnings []Warning `json:"warnings"` // the row's
}

// draw draws one part as the pages that are printed, each a drawing of its own.
func (s *Service) draw(c *call, on *seated) (Reply, error) {
	on.printing.SVG = true
	row, printed := on.printPart(on.request.Part)
	return c.drawn(row, printed, on.names("")[on.request.Part]), nil
}

// drawn are the pages of a part, each a file; nil for none.
func (c *call) drawn(row printing.Row, printed *printing.Printed, name string) Reply {
	reply := Reply{Value: Drawn{row, c.warnings(row.Warnings)}}
	if printed != nil {
		for n, drawing := range printed.Drawings {
			reply.Files = append(reply.Files, File{fmt.Sprintf("%s %02d.svg", name, n+1), []byte(drawing)})
		}
	}
	return reply
}

// printPart lays out one part. One that cannot be printed is a row that says why; one
// that is silent and not wanted is a row without pages.
func (on *seated) printPart(i int) (printing.Row, *printing.Printed) {
	a := on.rows[i]
	row := printing.NewRow(a.Label, a.ID)
	root, warnings, err := printing.Document(on.job, i, on.asIs(), on.space)
	if err == nil && root == nil {
		row.Warnings = append(row.Warnings, warnings...)
		return row, nil
	}
	var printed *printing.Printed
	if err == nil {
		player := printing.Player{Instrument: a.Instrument}
		if !on.asIs() {
			player.Label = a.Label
		}
		printed, err = on.printing.Print(player, root, warnings...)
	}
	if err != nil {
		row.Failed, row.Warnings = true, append(row.Warnings, report.Failure(err))
		return row, nil
	}
	printed.SourcePart = a.ID
	return printed.Row, printed
}

func (on *seated) asIs() bool { return printing.AsItIs(on.source, on.options) }

// printNames are the names that print gives the parts, without their endings: a part file
// keeps its own.
func (on *seated) printNames() []string {
	if !on.asIs() {
		return on.names("")
	}
	var taken files.Names
	base := path.Base(on.path)
	names := make([]string, len(on.rows))
	for i := range names {
		names[i] = taken.Unique(strings.TrimSuffix(base, path.Ext(base)), "")
	}
	return names
}

// Printed is what became of a part on paper.
type Printed struct {
	Index int `json:"index"`
	Drawn
}

// print makes a PDF of each part that is asked for and tells of each as soon as it is
// there; with "copies" in the request, one of them all for the printer instead.
func (s *Service) print(c *call, on *seated) (Reply, error) {
	job := printing.Job{Title: on.job.Surveyed().Title(), Language: string(on.options.Language), OneSided: on.request.Settings.OneSided}
	return c.printAll(on.request.chosen(len(on.rows)), on.request.Copies, on.printNames(), &job, on.printPart)
}

// printAll prints what was chosen, each as a document or all as one, where there are
// copies of any.
func (c *call) printAll(chosen, copies []int, names []string, job *printing.Job, lay func(int) (printing.Row, *printing.Printed)) (Reply, error) {
	wantsJob := len(copies) > 0
	for n, i := range chosen {
		row, printed := lay(i)
		told := Progress{Done: n + 1, Of: len(chosen)}
		switch {
		case printed == nil:
		case wantsJob:
			job.Add(printed, copiesAt(copies, i))
		default:
			data, err := printed.PDF()
			if err != nil {
				return Reply{}, err
			}
			row.File = names[i] + ".pdf"
			told.Files = []File{{row.File, data}}
		}
		told.Made = Printed{i, Drawn{row, c.warnings(row.Warnings)}}
		if err := c.step(told); err != nil {
			return Reply{}, err
		}
	}
	if !wantsJob {
		return Reply{Value: struct{}{}}, nil
	}
	return jobReply(job)
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
