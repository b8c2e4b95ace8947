package service

import (
	"bytes"
	"encoding/json"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Made is what became of a seated part.
type Made struct {
	Index int `json:"index"`
	report.PartRow
	Warnings []Warning `json:"warnings"` // the row's
}

// makeParts makes the parts that are asked for and tells of each as soon as it is made,
// with its file. Where all are, the manifest is the last file.
func (s *Service) makeParts(c *call, on *seated) (Reply, error) {
	names := on.names(".musicxml")
	chosen := on.request.chosen(len(on.rows))
	made := make([]Made, len(chosen))
	quick := map[string]string{}
	reports := make([]parts.Report, len(on.rows))
	for n, i := range chosen {
		data := on.makePart(&made[n].PartRow, i, names[i], &reports[i])
		made[n].Index, made[n].Warnings = i, c.warnings(made[n].PartRow.Warnings)
		told := Progress{Done: n + 1, Of: len(chosen), Made: made[n]}
		if data != nil {
			quick[made[n].File] = report.QuickSum(data)
			told.Files = []File{{made[n].File, data}}
		}
		if err := c.step(told); err != nil {
			return Reply{}, err
		}
	}
	reply := Reply{Value: struct {
		Parts int `json:"parts"`
	}{len(chosen)}}
	if len(chosen) < len(on.rows) {
		return reply, nil
	}
	for i, warnings := range on.job.Silent(reports) {
		made[i].PartRow.Warnings = append(made[i].PartRow.Warnings, warnings...)
	}
	manifest, err := on.manifest(made, quick)
	reply.Files = []File{{report.ManifestName, manifest}}
	return reply, err
}

// manifest is what extract writes beside the parts.
func (on *seated) manifest(made []Made, quick map[string]string) ([]byte, error) {
	settings, err := json.Marshal(report.NewSettings(on.options))
	if err != nil {
		return nil, err
	}
	m := report.Manifest{Tool: report.ToolName, Version: report.Version, Settings: settings, Parts: make([]report.PartRow, len(made)),
		Source: report.Source{Path: on.path, Warnings: report.MissingWarnings(on.job.Missing())}}
	m.Source.Tell(on.job.Surveyed())
	m.SourceSums(on.data, nil)
	m.Quick.Files = quick
	for i := range made {
		m.Parts[i] = made[i].PartRow
	}
	return report.JSON(m)
}

// makePart makes one part and fills its row. One that cannot be made is a row that says why.
func (on *seated) makePart(made *report.PartRow, i int, name string, told *parts.Report) []byte {
	*made = report.NewPartRow(on.rows[i], "")
	sheet, err := on.job.MakeIn(on.space, i)
	if err != nil {
		made.Fail(err)
		return nil
	}
	*told = sheet.Report
	made.Take(sheet.Report)
	if sheet.Document == nil {
		return nil
	}
	data := bytes.Clone(sheet.Bytes(musicxml.NoteALine))
	made.File, made.SHA256 = name, report.Sum(data)
	return data
}
