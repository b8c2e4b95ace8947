package report

import (
	"bytes"
	"fmt"

	"deskpart/musicxml"
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

// Tell says what a score was taken for.
func (s *Source) Tell(surveyed *parts.Surveyed) {
	s.Title = surveyed.Title()
	s.Pitch, s.Reason = surveyed.Pitch()
	s.ToldBy, s.Unsure = surveyed.ToldBy(), surveyed.Unsaid()
	s.Warnings = append(s.Warnings, ScoreWarnings(surveyed)...)
}

// ScoreWarnings tell of what was read past in a score, such as a part of the part-list that is
// not there.
func ScoreWarnings(surveyed *parts.Surveyed) []musicxml.Warning {
	var warnings []musicxml.Warning
	for _, w := range surveyed.Score().Warnings {
		warnings = append(warnings, w.Warning())
	}
	return warnings
}

// TellWork says what a work and its movements, which the manifest lists, were taken for.
func (m *Manifest) TellWork(w *works.Work, surveyed []*parts.Surveyed) {
	whole := &m.Source
	whole.Title = w.Title
	for i, s := range surveyed {
		of := &m.Movements[i]
		of.Tell(s)
		of.Title = w.Titles[i]
		if whole.Pitch != "" && whole.Pitch != of.Pitch {
			whole.Pitch = "mixed"
		} else {
			whole.Pitch = of.Pitch
		}
	}
	whole.Warnings = append(whole.Warnings, MissingWarnings(w.Missing())...)
}

// TellSilent warns in the rows of a work, which stand player by player and movement by
// movement, where the players of a shared staff are silent together in a movement; made
// are the reports of its files.
func TellSilent(w *works.Work, movement int, made []parts.Report, rows []PartRow) {
	for file, warnings := range w.Jobs[movement].Silent(made) {
		for p, player := range w.Players {
			if player.Files[movement] == file {
				row := &rows[p*len(w.Jobs)+movement]
				row.Warnings = append(row.Warnings, warnings...)
			}
		}
	}
}
