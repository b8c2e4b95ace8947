package collision_test

import (
	"fmt"

	"deskpart/musicxml/engraving/collision"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

func ExampleIn() {
	text := func(x display.Spaces, letters string) display.Item {
		return display.Item{Role: display.RoleWords, Shape: display.Text{Text: letters, At: display.Point{X: x, Y: 2}, Face: fonts.Italic, Size: 1.5}}
	}
	system := display.System{Width: 40, Height: 8, Over: display.List{text(5, "espressivo"), text(7, "dolce"), text(20, "legato")}}
	for _, class := range collision.In(&system) {
		fmt.Println(class)
	}
	// Output: text on text
}
