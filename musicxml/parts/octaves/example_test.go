package octaves_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml/parts/octaves"
)

// A cello's line for a flute: whole phrases go up, as far as each needs.
func Example() {
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	compass, ok := octaves.CompassOf(catalogue.ByID("flute"), instruments.Professional)
	if !ok {
		log.Fatal("no range of the flute is known")
	}
	phrases := []octaves.Phrase{
		{Sounds: []int{36, 43, 48}},                                   // C2 G2 C3
		{Before: octaves.AtRest, Leap: 12, Sounds: []int{60, 64, 67}}, // C4 E4 G4
	}
	chosen := octaves.Choose(phrases, compass)
	lie := octaves.Weigh(phrases, chosen, compass)
	fmt.Println(chosen, "missing", lie.Missing, "of", lie.Notes)
	// Output: [2 1] missing 0 of 6
}
