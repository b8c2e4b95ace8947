package verify_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose/verify"
)

func ExampleScore() {
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	score, err := musicxml.ReadFile("../../examples/two-ferries.musicxml", musicxml.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	results, err := verify.Score(score, catalogue, verify.DefaultOptions())
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range results {
		fmt.Println(r.Name, r.Verdict)
	}
	// Output:
	// Flute identical
	// Clarinet in B♭ identical
	// Horn in F identical
	// Bassoon identical
}
