package works_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/works"
	"deskpart/transpose/pitch"
)

// The players of two pieces that are played as one work.
func ExampleFind() {
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	o := parts.DefaultOptions()
	o.Work = true
	var movements []*parts.Surveyed
	for _, name := range []string{"two-ferries", "lanterns-on-the-quay"} {
		score, err := musicxml.ReadFile("../../examples/"+name+".musicxml", musicxml.ReadOptions{})
		if err != nil {
			log.Fatal(err)
		}
		surveyed, err := parts.Survey(score, catalogue, o)
		if err != nil {
			log.Fatal(err)
		}
		movements = append(movements, surveyed)
	}
	work, err := works.Find(catalogue, pitch.English, movements)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range work.Players {
		if p.Files[0] >= 0 && p.Files[1] >= 0 { // plays in both
			fmt.Println(p.Label, p.Files)
		}
	}
	// Output:
	// Flutes 1, 2 [0 1]
	// Clarinet in B♭ [1 4]
	// Horn in F [2 8]
}
