package svg_test

import (
	"fmt"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/svg"
)

// On a page the outlines of the signs stand once, before the figures that use them.
func Example() {
	system := display.System{First: 1, Last: 1, Width: 10, Height: 6, Label: "Flute, bar 1", Staves: []display.Staff{{
		Y: 3, Lines: 5, Title: "Flute", Text: "Bar 1: clef.",
		Items: display.List{{Role: display.RoleClef, Shape: display.Sign{Name: "clef-g", At: display.Point{X: 1, Y: 1}}}}}}}
	signs := svg.Signs{}
	system.Walk(signs.Add)
	fmt.Println(strings.Count(svg.Definitions(signs), "<path"), "outline,", strings.Count(svg.Figure(&system), "<use"), "use of it")
	// Output: 1 outline, 1 use of it
}
