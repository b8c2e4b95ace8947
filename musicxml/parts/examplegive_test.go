package parts_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// One part for another player, as a row of a plan would have it.
func ExampleJob_Give() {
	catalogue := must(instruments.Load())
	score := must(musicxml.ReadFile("../../examples/two-ferries.musicxml", musicxml.ReadOptions{}))
	surveyed := must(parts.Survey(score, catalogue, parts.DefaultOptions()))
	job := must(surveyed.Assign())
	given := must(job.Give(0, parts.PlanRow{Instrument: "alto-saxophone-eflat", Octave: "auto"}))
	sheet := must(given.Make(0))
	fmt.Println(job.Assignment(0).Label, "→", given.Assignment(0).Label, "written", sheet.Report.Moved)
	// Output:
	// Flute → Alto Saxophone written minor third down
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
