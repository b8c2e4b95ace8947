package musicxml_test

import (
	"fmt"

	"deskpart/musicxml"
)

func Example() {
	score, err := musicxml.ReadFile("testdata/timewise.musicxml", musicxml.ReadOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, entry := range score.ScoreParts() {
		part, err := score.ReadPart(i, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(entry.Name, len(musicxml.Children(part, "measure")), "measures")
	}
	// Output:
	// Flute 3 measures
	// Horn in F 3 measures
	// Timpani 3 measures
}
