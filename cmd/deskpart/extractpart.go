package main

import (
	"slices"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// part makes one part and fills its row. A part that cannot be made is a row
// that says so; only what concerns the whole run is an error.
func (j *scoreJob) part(i int, row *report.PartRow, space *parts.Workspace) error {
	sheet, err := j.sheets.MakeIn(space, i)
	if err != nil {
		row.Fail(err)
		return nil
	}
	j.reports[i] = sheet.Report
	return j.keepSheet(i, sheet, row)
}

// keepSheet writes a part that was made and fills its row.
func (j *scoreJob) keepSheet(i int, sheet *parts.Part, row *report.PartRow) error {
	row.Take(sheet.Report)
	switch {
	case sheet.Document == nil:
		row.File = ""
		return nil
	case j.bundle:
		j.pack(i, sheet, row)
		return nil
	}
	data, err := packedFor(row.File, sheet.Bytes(layout))
	if err != nil {
		return err
	}
	row.SHA256 = report.Sum(data)
	if err := j.put(row.File, data, row.SHA256); err != nil {
		if musicxml.ErrorCode(err) != notice.InTheWay {
			return err
		}
		row.Fail(err)
		return nil
	}
	if j.onPaper && !j.ofWork {
		return j.printBeside(i, sheet, row)
	}
	return nil
}

// put writes a file of that SHA-256.
func (j *scoreJob) put(name string, data []byte, sum string) error {
	changed := !j.force && j.folder.Changed(j.old, name)
	wrote, err := j.folder.Write(name, data, files.Origin{Sum: sum})
	if wrote {
		j.written.Add(1)
	}
	if wrote && changed {
		j.changed.Add(1)
	}
	return err
}

// printBeside writes a part as pages beside its file. A part that cannot be drawn is
// a warning: its file is there.
func (j *scoreJob) printBeside(i int, sheet *parts.Part, row *report.PartRow) error {
	a := &j.assignments[i]
	printed, err := j.options(string(j.Language), 0).Print(printing.Player{Label: a.Label, Instrument: a.Instrument}, sheet.Document.Root())
	if err != nil {
		row.NotPrinted(err)
		return nil
	}
	return j.putPrint(row, strings.TrimSuffix(row.File, j.extension())+".pdf", printed)
}

// putPrint writes pages under a name. Where something stands in the way, the row says so.
func (j *scoreJob) putPrint(row *report.PartRow, name string, printed *printing.Printed) error {
	data, err := printed.PDF()
	if err != nil {
		return err
	}
	row.Warnings = append(slices.Clone(row.Warnings), printed.Warnings...)
	row.Print, row.PrintSHA256 = name, report.Sum(data)
	err = j.put(row.Print, data, row.PrintSHA256)
	if musicxml.ErrorCode(err) == notice.InTheWay {
		row.NotPrinted(err)
		return nil
	}
	return err
}

// extension is the ending of a part's file name. Inside a bundle parts are not
// packed once more.
func (j *scoreJob) extension() string {
	if j.bundle {
		return ".musicxml"
	}
	return "." + j.format
}
