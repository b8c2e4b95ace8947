package verify_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose/verify"
)

func ExampleScore() {
	catalogue := must(instruments.Load())
	score := must(musicxml.ReadFile("../../examples/two-ferries.musicxml", musicxml.ReadOptions{}))
	results := must(verify.Score(score, catalogue, verify.DefaultOptions()))
	for _, r := range results {
		fmt.Println(r.Name, r.Verdict)
	}
	// Output:
	// Flute identical
	// Clarinet in B♭ identical
	// Horn in F identical
	// Bassoon identical
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
