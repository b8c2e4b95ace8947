package display_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

func at(x, y display.Spaces) display.Point { return display.Point{X: x, Y: y} }

// An inch is 72 points and 25.4 mm; A4 is 595.28 by 841.89 points.
func TestUnits(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, 72, float64(display.Millimetres(25.4).Points()), 1e-9)
	assert.InDelta(t, 841.89, float64(display.Millimetres(297).Points()), 0.005)
	assert.InDelta(t, 7, float64(display.Spaces(4).On(1.75)), 1e-9)
}

// Boxes by hand: a cubic curve with level control points at height h reaches
// 3h/4; a sharp's box stands in signs.csv; A is 0.722 em wide.
func TestBounds(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name  string
		shape display.Shape
		want  display.Rect
	}{
		{"line", display.Line{Points: []display.Point{at(0, 1), at(4, 0)}, Thickness: .2}, display.Rect{Left: -.1, Top: -.1, Right: 4.1, Bottom: 1.1}},
		{"beam", display.Beam{Left: at(0, 1), Right: at(4, 0), Thickness: .5}, display.Rect{Left: 0, Top: 0, Right: 4, Bottom: 1.5}},
		{"bow", display.Bow{From: at(0, 0), To: at(8, 0), Height: -2}, display.Rect{Left: 0, Top: -1.5, Right: 8, Bottom: 0}},
		{"wave", display.Wave{From: at(0, 0), To: at(5, 0), Depth: -.5}, display.Rect{Left: -.25, Top: -.25, Right: 5.25, Bottom: .25}},
		{"sign", display.Sign{Name: "sharp", At: at(1, 1)}, display.Rect{Left: 1, Top: -.38, Right: 2.15, Bottom: 2.39}},
		{"half size", display.Sign{Name: "sharp", Scale: .5}, display.Rect{Left: 0, Top: -.69, Right: .575, Bottom: .695}},
		{"text", display.Text{Text: "AA", At: at(1, 0), Anchor: display.Middle, Face: fonts.Regular, Size: 2}, display.Rect{Left: 1 - 1.444, Top: -1.52, Right: 1 + 1.444, Bottom: .48}},
		{"text to the left", display.Text{Text: "A", At: at(1, 0), Anchor: display.End, Face: fonts.Regular, Size: 1}, display.Rect{Left: .278, Top: -.76, Right: 1, Bottom: .24}},
		{"nothing", display.Group{}, display.Rect{}},
	} {
		got := row.shape.Bounds()
		assert.InDeltaSlice(t, []float64{float64(row.want.Left), float64(row.want.Top), float64(row.want.Right), float64(row.want.Bottom)},
			[]float64{float64(got.Left), float64(got.Top), float64(got.Right), float64(got.Bottom)}, 0.002, row.name)
	}
}

// Walk finds what is in groups, each staff moved to its height.
func TestWalk(t *testing.T) {
	t.Parallel()
	dot := func(x display.Spaces) display.Item {
		return display.Item{Role: display.RoleDot, Shape: display.Sign{Name: "dot", At: at(x, 0)}}
	}
	s := display.System{
		Frame:  display.List{dot(1)},
		Staves: []display.Staff{{Y: 10, Items: display.List{{Role: display.RoleBar, Shape: display.Group{Items: display.List{dot(2), dot(3)}}}, dot(4)}}},
		Over:   display.List{dot(5)},
	}
	var xs, downs []display.Spaces
	s.Walk(func(item display.Item, down display.Spaces) {
		xs, downs = append(xs, item.Shape.(display.Sign).At.X), append(downs, down)
	})
	assert.Equal(t, []display.Spaces{1, 2, 3, 4, 5}, xs)
	assert.Equal(t, []display.Spaces{0, 10, 10, 10, 0}, downs)
}
