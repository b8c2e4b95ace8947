package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"deskpart/musicxml/collate"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/spreadsheet"
)

// WriteErrata writes the results as a list to print: each part that differs with
// its bars and beats, what stands, and what should.
func WriteErrata(w io.Writer, results []collate.Result) error {
	var b strings.Builder
	differ, differences := 0, 0
	for i := range results {
		r := &results[i]
		if !r.Agree() {
			differ++
			differences += len(r.Differences)
		}
		writeResult(r, &b)
	}
	switch {
	case len(results) == 0:
		b.WriteString("no part was there to compare\n")
	case differ == 0:
		fmt.Fprintf(&b, "%s: all agree\n", notice.Counted(len(results), "part", "parts"))
	default:
		fmt.Fprintf(&b, "%s: %d agree, %d differ, in %s\n", notice.Counted(len(results), "part", "parts"), len(results)-differ, differ, notice.Counted(differences, "place", "places"))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func writeResult(r *collate.Result, b *strings.Builder) {
	heading := Visible(partOf(r))
	if r.File != "" {
		heading += " (" + Visible(r.File) + ")"
	}
	switch {
	case r.Agree():
		b.WriteString(heading + ": agrees\n")
	case len(r.Differences) == 1 && r.Differences[0].Measure == "":
		b.WriteString(heading + ": " + Visible(r.Differences[0].Text) + "\n")
	default:
		b.WriteString(heading + ":\n")
		writeTable(r, b)
	}
	for _, remark := range r.Remarks {
		b.WriteString("    note: " + Visible(remark) + "\n")
	}
}

// partOf is a part with the movement that it is held against.
func partOf(r *collate.Result) string {
	if r.Movement == 0 {
		return r.Part
	}
	return fmt.Sprintf("movement %d, %s", r.Movement, r.Part)
}

func writeTable(r *collate.Result, b *strings.Builder) {
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "    bar\tbeat\twhat stands\twhat should stand")
	for _, d := range r.Differences {
		fmt.Fprintf(table, "    %s\t%s\t%s\t%s\n", dash(d.Measure), dash(d.Beat), dash(d.Stands), dash(d.Should))
	}
	table.Flush()
}

// dash stands where there is nothing.
func dash(text string) string {
	if text == "" {
		return "–"
	}
	return Visible(text)
}

// csvColumns head the table of WriteCSV.
var csvColumns = []string{"part", "file", "bar", "beat", "kind", "stands", "should", "text"}

// WriteCSV writes every difference as a row of a table that a spreadsheet opens.
func WriteCSV(w io.Writer, results []collate.Result) error {
	table := spreadsheet.NewWriter(w)
	table.Row(csvColumns...)
	for i := range results {
		r := &results[i]
		for _, d := range r.Differences {
			table.Row(partOf(r), r.File, d.Measure, d.Beat, string(d.Kind), d.Stands, d.Should, d.Text)
		}
	}
	return table.Flush()
}
