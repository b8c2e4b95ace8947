package collate_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/parts"
)

// A horn part in which a note was changed by hand is held against its score.
func Example() {
	catalogue := must(instruments.Load())
	score := must(musicxml.ReadFile("../../examples/two-ferries.musicxml", musicxml.ReadOptions{}))
	o := parts.DefaultOptions()
	o.Only = []string{"horn"}
	var given []*collate.Part
	for part, err := range parts.Extract(score, catalogue, o) {
		if err != nil {
			log.Fatal(err)
		}
		musicxml.SetText(part.Document.FindElement("//measure[@number='2']/note/pitch/step"), "B")
		file := must(musicxml.Read(part.Bytes(musicxml.NoteALine), musicxml.ReadOptions{Name: "horn.musicxml"}))
		given = must(collate.ReadFile("horn.musicxml", "", file, catalogue, nil))
	}
	against := must(collate.ReadScore(score, catalogue, o.Input, nil))
	results := must(against.Collate(given, collate.Options{}, nil))
	for _, r := range results {
		for _, d := range r.Differences {
			fmt.Printf("%s, measure %s, beat %s: stands %s, should be %s\n", r.Part, d.Measure, d.Beat, d.Stands, d.Should)
		}
	}
	// Output: Horn in F, measure 2, beat 1: stands B4, should be C4
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
