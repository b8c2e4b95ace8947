package display_test

import (
	"fmt"

	"deskpart/musicxml/engraving/display"
)

// Whatever is drawn has a box, in staff spaces, y downwards.
func Example() {
	note := display.Group{Items: display.List{
		{Role: display.RoleStem, Shape: display.Line{Points: []display.Point{{X: 2, Y: 1}, {X: 2, Y: -2.5}}, Thickness: 0.2}},
		{Role: display.RoleHead, Shape: display.Sign{Name: "head-black", At: display.Point{X: 0.9, Y: 1}}},
	}}
	box := note.Bounds()
	fmt.Printf("%.2f spaces wide, %.1f mm high on a staff of 7 mm\n", box.Width(), box.Height().On(7.0/4))
	// Output: 1.22 spaces wide, 7.3 mm high on a staff of 7 mm
}
