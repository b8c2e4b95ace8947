package service

import (
	"bytes"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// The states of a part that was made, as a manifest has them.
const (
	statusWritten = "written"
	statusTacet   = "tacet"
	statusFailed  = "failed"
)

// Made is what became of a seated part.
type Made struct {
	Index int `json:"index"`
	report.PartRow
	Warnings []Warning `json:"warnings"` // the row's
}

// makeParts makes the parts that are asked for and tells of each as soon as it is made,
// with its file.
func (s *Service) makeParts(c *call) (Reply, error) {
	on, err := s.seatedOf(c)
	if err != nil {
		return Reply{}, err
	}
	names := on.partFiles()
	chosen := on.request.chosen(len(on.rows))
	for n, i := range chosen {
		made, data := on.makePart(i, names[i])
		made.Warnings = c.warnings(made.PartRow.Warnings)
		told := Progress{Done: n + 1, Of: len(chosen), Made: made}
		if data != nil {
			told.Files = []File{{made.File, data}}
		}
		if err := c.step(told); err != nil {
			return Reply{}, err
		}
	}
	return Reply{Value: struct {
		Parts int `json:"parts"`
	}{len(chosen)}}, nil
}

// partFiles are the names that extract gives the parts.
func (on *seated) partFiles() []string {
	var taken files.Names
	names := make([]string, len(on.rows))
	for i, a := range on.rows {
		names[i] = taken.Unique(report.PartName(a), ".musicxml")
	}
	return names
}

// makePart makes one part. One that cannot be made is a row that says why.
func (on *seated) makePart(i int, name string) (Made, []byte) {
	a := on.rows[i]
	made := Made{Index: i, PartRow: report.NewPartRow(a, "")}
	made.Status = statusFailed
	sheet, err := on.job.MakeIn(on.space, i)
	if err != nil {
		made.PartRow.Warnings = append(made.PartRow.Warnings, report.Failure(err))
		return made, nil
	}
	r := sheet.Report
	made.Transpose, made.Moved = r.Transpose, report.MovedValue(r.Moved)
	made.Measures, made.Notes, made.Respelled = r.Measures, r.Notes, r.Respelled
	made.PartRow.Warnings = append(made.PartRow.Warnings, r.Warnings...)
	made.Status = statusWritten
	if r.Tacet {
		made.Status = statusTacet
	}
	if sheet.Document == nil {
		return made, nil
	}
	data := bytes.Clone(sheet.Bytes(musicxml.NoteALine))
	made.File, made.SHA256 = name, report.Sum(data)
	return made, data
}
