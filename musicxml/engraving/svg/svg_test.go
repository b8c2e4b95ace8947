package svg_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/svg"
)

func at(x, y display.Spaces) display.Point { return display.Point{X: x, Y: y} }

// One shape of each kind as SVG: the expected text by hand from the SVG
// recommendation's path grammar, ten units to a staff space.
func TestShapes(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, want string
		item       display.Item
	}{
		{"stroke with corners", `<path class="stroke" d="M1 2V3H45L5 6"/>`,
			display.Item{Role: display.RoleEndingLine, Shape: display.Line{Points: []display.Point{at(.1, .2), at(.1, .3), at(4.5, .3), at(.5, .6)}}}},
		{"closed", `<path class="stroke" d="M0 0H10V10z"/>`,
			display.Item{Role: display.RoleRehearsalBox, Shape: display.Line{Points: []display.Point{at(0, 0), at(1, 0), at(1, 1)}, Closed: true}}},
		{"parenthesis", `<path class="fence" d="M0 0Q-3 10 0 20"/>`,
			display.Item{Role: display.RoleHeadFence, Shape: display.Curve{From: at(0, 0), Control: at(-.3, 1), To: at(0, 2)}}},
		{"wave to the right, first up", `<path class="stroke" d="M0 0q2.5 -5 5 0q2.5 5 5 0"/>`,
			display.Item{Role: display.RoleTrillLine, Shape: display.Wave{From: at(0, 0), To: at(1, 0), Depth: -.5}}},
		{"wave downwards, first right", `<path class="stroke" d="M0 0q4.5 2.5 0 5q-4.5 2.5 0 5"/>`,
			display.Item{Role: display.RoleArpeggio, Shape: display.Wave{From: at(0, 0), To: at(0, 1), Depth: -.45}}},
		{"beam", `<path class="beam" d="M0 0L20 -5v5L0 5z"/>`,
			display.Item{Role: display.RoleBeam, Shape: display.Beam{Left: at(0, 0), Right: at(2, -.5), Thickness: .5}}},
		{"box", `<path class="beam" d="M0 1H20V3H0z"/>`,
			display.Item{Role: display.RoleMultiRest, Shape: display.Box{Rect: display.Rect{Left: 0, Top: .1, Right: 2, Bottom: .3}}}},
		{"bow", `<path class="tie" d="M0 0C28 -11 72 -11 100 0C72 -9 28 -9 0 0z"/>`,
			display.Item{Role: display.RoleTie, Shape: display.Bow{From: at(0, 0), To: at(10, 0), Height: -1, Thickness: .2}}},
		{"sign", `<use href="#dp-flat" class="wrong" x="10" y="-5"/>`,
			display.Item{Role: display.RoleAccidental, Class: "wrong", Shape: display.Sign{Name: "flat", At: at(1, -.5)}}},
		{"small sign", `<use href="#dp-flat-s" class="auxiliary" x="10" y="-5"/>`,
			display.Item{Role: display.RoleAuxiliary, Shape: display.Sign{Name: "flat", At: at(1, -.5), Scale: .7}}},
		{"stretched sign", `<use href="#dp-brace" transform="translate(10 20) scale(1.5 3.25)"/>`,
			display.Item{Role: display.RoleBrace, Shape: display.Sign{Name: "brace", At: at(1, 2), Scale: 1.5, Tall: 3.25}}},
		{"text", `<text class="words" x="10" y="20" text-anchor="middle">a &lt; b</text>`,
			display.Item{Role: display.RoleWords, Shape: display.Text{Text: "a < b\x01", At: at(1, 2), Anchor: display.Middle, Face: fonts.Italic, Size: 1.75}}},
		{"bar", `<g data-bar="7" class="hot"></g>`, display.Item{Role: display.RoleBar, Class: "hot", Shape: display.Group{Number: 7}}},
	} {
		s := display.System{Frame: display.List{row.item}}
		assert.Contains(t, svg.Figure(&s), ">"+row.want+"<", row.name)
	}
}

// Straight strokes of one role that follow one another are one path; another role
// in between, or a bow, begins a new one.
func TestStrokesOfARoleAreOnePath(t *testing.T) {
	t.Parallel()
	line := func(x display.Spaces) display.Shape { return display.Line{Points: []display.Point{at(x, 0), at(x, 1)}} }
	s := display.System{Frame: display.List{
		{Role: display.RoleStem, Shape: line(0)}, {Role: display.RoleStem, Shape: line(1)}, {Role: display.RoleLedger, Shape: line(2)}, {Role: display.RoleStem, Shape: line(3)},
		{Role: display.RoleSlur, Shape: display.Bow{}}, {Role: display.RoleSlur, Shape: display.Bow{}},
	}}
	figure := svg.Figure(&s)
	assert.Contains(t, figure, `<path class="stem" d="M0 0V10M10 0V10"/><path class="ledger" d="M20 0V10"/><path class="stem" d="M30 0V10"/>`)
	assert.Contains(t, figure, `z"/><path class="slur"`)
}
