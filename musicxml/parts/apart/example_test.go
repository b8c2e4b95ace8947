package apart_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/apart"
)

// Timpani and percussion for one player, and taken to pieces again.
func ExamplePieces() {
	catalogue := must(instruments.Load())
	score := must(musicxml.ReadFile("../../../examples/lanterns-on-the-quay.musicxml", musicxml.ReadOptions{}))
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "Timpani", Player: "Ida"}, {Part: "Percussion", Player: "Ida"}}
	o.Only = []string{"timpani"}
	for part, err := range parts.Extract(score, catalogue, o) {
		if err != nil {
			log.Fatal(err)
		}
		file := must(musicxml.Read(part.Bytes(musicxml.NoteALine), musicxml.ReadOptions{}))
		pieces := must(apart.Pieces(file))
		for _, piece := range pieces {
			fmt.Println(piece.Part, piece.Player, piece.Some)
		}
	}
	// Output:
	// P13 0 false
	// P14 0 false
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
