package naming_test

import (
	"fmt"
	"log"

	"deskpart/instruments"
	"deskpart/musicxml/parts/naming"
)

func Example() {
	catalogue, err := instruments.Load()
	if err != nil {
		log.Fatal(err)
	}
	r := naming.New(catalogue, []naming.Part{
		{IDs: []string{"P1"}, Names: []string{"Flute"}, Instrument: catalogue.ByID("flute")},
		{IDs: []string{"P2"}, Names: []string{"Clarinet in B♭"}, Instrument: catalogue.ByID("clarinet-bflat")},
	})
	for _, words := range []string{"Klarinette in B", "woodwind", "P1", "flutte"} {
		fmt.Println(words, r.Find(words))
	}
	_, err = r.One("flutte")
	fmt.Println(err)
	// Output:
	// Klarinette in B [1]
	// woodwind [0 1]
	// P1 [0]
	// flutte []
	// no part is called "flutte"; did you mean Flute?
}
