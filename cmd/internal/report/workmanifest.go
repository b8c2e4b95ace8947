package report

import (
	"bytes"
	"fmt"

	"deskpart/musicxml/parts"
	"deskpart/musicxml/works"
)

// WorkSum is the sum of a work, which its title and the data and titles of its movements
// make; sum is Sum or QuickSum.
func WorkSum(title string, data [][]byte, titles []string, sum func([]byte) string) string {
	var sums bytes.Buffer
	fmt.Fprintln(&sums, title)
	for i := range data {
		fmt.Fprintf(&sums, "%s %s\n", sum(data[i]), titles[i])
	}
	return sum(sums.Bytes())
}

// TellWork says what a work and its movements, which the manifest lists, were taken for.
func (m *Manifest) TellWork(w *works.Work, surveyed []*parts.Surveyed) {
	whole := &m.Source
	whole.Title = w.Title
	for i, s := range surveyed {
		of := &m.Movements[i]
		of.Title = w.Titles[i]
		of.Pitch, of.Reason = s.Pitch()
		of.ToldBy, of.Unsure = s.ToldBy(), s.Unsaid()
		if whole.Pitch != "" && whole.Pitch != of.Pitch {
			whole.Pitch = "mixed"
		} else {
			whole.Pitch = of.Pitch
		}
	}
	whole.Warnings = append(whole.Warnings, MissingWarnings(w.Missing())...)
}
