package hearing_test

import (
	"fmt"
	"log"
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/hearing"
)

// A clarinet in B flat is written a tone above the flute that it plays in unison with.
func Example() {
	var flute, clarinet hearing.Part
	tune := []int{72, 74, 76, 77, 79, 81, 83, 84, 83, 81, 79, 77, 76, 74, 72, 67}
	for i, c := range slices.Repeat(tune, 4) {
		start, end := musicxml.NewFraction(int64(i), 1), musicxml.NewFraction(int64(i+1), 1)
		flute.Add(start, end, c)
		clarinet.Add(start, end, c+2)
	}
	ear, err := hearing.New()
	if err != nil {
		log.Fatal(err)
	}
	told := ear.Prefer([]*hearing.Part{&flute, &clarinet}, hearing.Shifts{0, -2}, hearing.Shifts{0, 0})
	fmt.Printf("in B flat %.2f, in C %.2f, clear: %t\n", told.First, told.Second, told.Clear())
	// Output: in B flat 1.00, in C -0.50, clear: true
}
