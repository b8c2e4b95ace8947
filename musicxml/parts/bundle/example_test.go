package bundle_test

import (
	"fmt"
	"log"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/bundle"
)

// A score and one part of it in one container, to be written by musicxml.WriteContainer.
func ExampleFiles() {
	score, err := musicxml.ReadFile("../../../examples/two-ferries.musicxml", musicxml.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	flute := bundle.Part{File: musicxml.File{Name: "parts/01 Flute.musicxml"}, PartIDs: []string{"P1"}, Label: "Flute"}
	files, err := bundle.Files(score, "score.musicxml", []bundle.Part{flute}, nil, musicxml.NoteALine)
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range files {
		fmt.Println(f.Name)
	}
	// Output:
	// score.musicxml
	// parts/01 Flute.musicxml
}
