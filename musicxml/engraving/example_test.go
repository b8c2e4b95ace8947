package engraving_test

import (
	"fmt"

	"deskpart/musicxml/engraving"
)

func ExampleDraw() {
	m := engraving.NewMusic("Flute", engraving.Treble(), engraving.Key{Fifths: 1}, engraving.Time{Beats: "4", BeatType: "4"})
	m.AddBar(engraving.Pitched(engraving.Half, 0, 4, 4, 0), engraving.Pitched(engraving.Half, 0, 3, 4, 1))
	m.PrintAccidentals()
	drawing, err := engraving.Draw(m, engraving.Options{Width: 90})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(drawing.Systems), "line")
	fmt.Println(engraving.Describe(m, 0, 1, 1))
	// Output:
	// 1 line
	// Bar 1: treble clef, 1 sharp, 4/4 time, G 4 half, F sharp 4 half.
}
