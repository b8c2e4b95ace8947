package printing

import (
	"bytes"
	"fmt"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/pdf"
	"deskpart/musicxml/notice"
)

// Job is everything that is to be printed of a score in one document, in the order
// in which it is added: every part as often as it has players who read it, each on a
// right-hand page of its own, so that the whole can be printed on both sides of the
// paper and taken apart.
type Job struct {
	Title    string
	Language string // as in BCP 47
	OneSided bool   // no blank pages: each page is a sheet

	parts []jobPart
}

type jobPart struct {
	*Printed
	copies int
}

// JobRow is what is said of a job, for programs.
type JobRow struct {
	File   string `json:"file"`
	Pages  int    `json:"pages"`  // with the blank ones
	Copies int    `json:"copies"` // of all parts together
}

// InWords says what is in the job, for people.
func (r *JobRow) InWords() string {
	return notice.Counted(r.Pages, "page", "pages") + ", " + notice.Counted(r.Copies, "part", "parts") + " to print"
}

// Add adds a part and how many of it are to be printed.
func (j *Job) Add(p *Printed, copies int) { j.parts = append(j.parts, jobPart{p, copies}) }

// Row counts what is in the job.
func (j *Job) Row() (row JobRow) {
	for i, p := range j.parts {
		row.Copies += p.copies
		row.Pages += p.copies * len(p.Sheets)
		if !j.OneSided && len(p.Sheets)%2 != 0 {
			row.Pages += p.copies
			if i == len(j.parts)-1 && p.copies > 0 {
				row.Pages-- // nothing follows the last
			}
		}
	}
	return row
}

// PDF is the job as a file; bookmarks lead to every copy of every part.
func (j *Job) PDF() ([]byte, error) {
	var out bytes.Buffer
	w := pdf.New(&out, pdf.Info{Title: j.Title, Language: j.Language})
	blanks := map[[2]float64]*pdf.Sheet{}
	var before *Printed // what was printed last
	for _, p := range j.parts {
		for copy := range p.copies {
			if before != nil && !j.OneSided && len(before.Sheets)%2 != 0 {
				blank, err := blankLike(blanks, before)
				if err != nil {
					return nil, err
				}
				w.Sheet(blank)
			}
			w.Section(p.bookmark(copy))
			for _, sheet := range p.Sheets {
				w.Sheet(sheet)
			}
			before = p.Printed
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

// bookmark names one copy of a part.
func (p *jobPart) bookmark(copy int) string {
	if p.copies == 1 {
		return p.Label
	}
	return fmt.Sprintf("%s (%d/%d)", p.Label, copy+1, p.copies)
}

// blankLike is an empty page of the size of a part's.
func blankLike(blanks map[[2]float64]*pdf.Sheet, p *Printed) (sheet *pdf.Sheet, err error) {
	if sheet = blanks[p.Paper]; sheet == nil {
		sheet, err = pdf.Compile(&display.Page{Width: display.Millimetres(p.Paper[0]), Height: display.Millimetres(p.Paper[1])})
		blanks[p.Paper] = sheet
	}
	return sheet, err
}
