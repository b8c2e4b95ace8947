package parts_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// The parts of a score, made one after the other in one workspace.
func Example() {
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	score, err := musicxml.ReadFile("../../examples/two-ferries.musicxml", musicxml.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	surveyed, err := parts.Survey(score, catalogue, parts.DefaultOptions())
	if err != nil {
		log.Fatal(err)
	}
	job, err := surveyed.Assign()
	if err != nil {
		log.Fatal(err)
	}
	w := new(parts.Workspace)
	for i, a := range job.Assignments() {
		sheet, err := job.MakeIn(w, i)
		if err != nil {
			log.Fatal(err)
		}
		text := sheet.Bytes(musicxml.NoteALine) // to be written somewhere before the next is made
		fmt.Printf("%d %s: %d notes, %t\n", a.Number, a.Label, sheet.Report.Notes, len(text) > 0)
	}
	// Output:
	// 1 Flute: 29 notes, true
	// 2 Clarinet in B♭: 17 notes, true
	// 3 Horn in F: 16 notes, true
	// 4 Bassoon: 19 notes, true
}
