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
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	score, err := musicxml.ReadFile("../../../examples/lanterns-on-the-quay.musicxml", musicxml.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "Timpani", Player: "Ida"}, {Part: "Percussion", Player: "Ida"}}
	o.Only = []string{"timpani"}
	for part, err := range parts.Extract(score, catalogue, o) {
		if err != nil {
			log.Fatal(err)
		}
		file, err := musicxml.Read(part.Bytes(musicxml.NoteALine), musicxml.ReadOptions{})
		if err != nil {
			log.Fatal(err)
		}
		pieces, err := apart.Pieces(file)
		if err != nil {
			log.Fatal(err)
		}
		for _, piece := range pieces {
			fmt.Println(piece.Part, piece.Player, piece.Some)
		}
	}
	// Output:
	// P13 0 false
	// P14 0 false
}
