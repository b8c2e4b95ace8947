package engraving

import "deskpart/musicxml/engraving/display"

// ink collects what is drawn. Its coordinates are staff spaces.
type ink struct {
	items display.List
	// open are the groups that are being filled, the outermost first.
	open []openGroup
	// owner is what the next items belong to.
	owner display.Owner
	// large asks for the strokes of large print.
	large bool
}

// openGroup is a group whose items are still to come; before are the items of
// the list around it.
type openGroup struct {
	item   display.Item
	number int
	before display.List
}

func (k *ink) add(role display.Role, class string, shape display.Shape) {
	k.items = append(k.items, display.Item{Role: role, Owner: k.owner, Class: class, Shape: shape})
}

// begin opens a group; number is the bar's place in the document, 0 for signs.
func (k *ink) begin(role display.Role, number int) {
	k.open = append(k.open, openGroup{display.Item{Role: role, Owner: k.owner}, number, k.items})
	k.items = nil
}

// end closes the group opened last.
func (k *ink) end() {
	last := k.open[len(k.open)-1]
	k.open = k.open[:len(k.open)-1]
	last.item.Shape = display.Group{Number: last.number, Items: k.items}
	k.items = append(last.before, last.item)
}

// of says whom the next items belong to.
func (k *ink) of(f *figure) { k.owner = f.owner }

// ofBar says which bar (from 0) the next items belong to; −1 for none.
func (k *ink) ofBar(bar int) { k.owner = display.Owner{Staff: k.owner.Staff, Bar: int32(bar + 1)} }

// place is a point in the list's type.
func place(x, y float64) display.Point {
	return display.Point{X: display.Spaces(x), Y: display.Spaces(y)}
}

// sign places a shape; class "" for none.
func (k *ink) sign(role display.Role, s shape, x, y float64, class string) {
	k.add(role, class, display.Sign{Name: s.name, At: place(x, y), Scale: s.scale()})
}

// line draws a stroke through points given as x, y pairs.
func (k *ink) line(role display.Role, xy ...float64) { k.stroke(role, false, xy) }

// outline draws a stroke through points and back to the first.
func (k *ink) outline(role display.Role, xy ...float64) { k.stroke(role, true, xy) }

func (k *ink) stroke(role display.Role, closed bool, xy []float64) {
	l := display.Line{Points: make([]display.Point, 0, len(xy)/2), Closed: closed, Thickness: k.thickness(role)}
	for i := 0; i+1 < len(xy); i += 2 {
		l.Points = append(l.Points, place(xy[i], xy[i+1]))
	}
	l.Dash, l.Gap = dashes(role)
	k.add(role, "", l)
}

// fence draws half a parenthesis: a curve that opens to the right for a positive
// depth.
func (k *ink) fence(role display.Role, x, middle, half, depth float64) {
	k.add(role, "", display.Curve{From: place(x, middle-half), Control: place(x-depth, middle), To: place(x, middle+half), Thickness: k.thickness(role)})
}

// wave draws a wavy line, see display.Wave.
func (k *ink) wave(role display.Role, x1, y1, x2, y2, depth float64) {
	k.add(role, "", display.Wave{From: place(x1, y1), To: place(x2, y2), Depth: display.Spaces(depth), Thickness: k.thickness(role)})
}

// beam draws a filled figure between upper corners.
func (k *ink) beam(role display.Role, x1, y1, x2, y2, thickness float64) {
	k.add(role, "", display.Beam{Left: place(x1, y1), Right: place(x2, y2), Thickness: display.Spaces(thickness)})
}

// box draws a filled upright rectangle.
func (k *ink) box(role display.Role, left, top, right, bottom float64) {
	k.add(role, "", display.Box{Rect: display.Rect{Left: display.Spaces(left), Top: display.Spaces(top), Right: display.Spaces(right), Bottom: display.Spaces(bottom)}})
}

// text places a line of text in the letters of its role.
func (k *ink) text(role display.Role, anchor display.Anchor, text string, x, y float64) {
	letters := lettersOf[role]
	k.add(role, "", display.Text{Text: text, At: place(x, y), Anchor: anchor, Face: letters.face, Size: display.Spaces(letters.size), Halo: display.Spaces(letters.halo)})
}

// thickness is that of a role's strokes: lines for readers of large print are
// bolder.
func (k *ink) thickness(role display.Role) display.Spaces {
	t, known := strokes[role]
	switch {
	case !known:
		return 0.11
	case k.large:
		return t.large
	}
	return t.usual
}

// strokes are the thicknesses in staff spaces that differ from the usual 0.11,
// with those of large print.
var strokes = map[display.Role]struct{ usual, large display.Spaces }{
	display.RoleStaffLine: {0.09, 0.13}, display.RoleLedger: {0.13, 0.17}, display.RoleRestLedger: {0.13, 0.17},
	display.RoleStem: {0.12, 0.17}, display.RoleTempoStem: {0.12, 0.17},
	display.RoleBarline: {0.16, 0.2}, display.RoleDashedBarline: {0.16, 0.2}, display.RoleDottedBarline: {0.16, 0.2}, display.RoleSystemLine: {0.16, 0.2},
	display.RoleThickBarline: {0.5, 0.6}, display.RoleBracket: {0.5, 0.6},
}

// dashes are the lengths of broken lines.
func dashes(role display.Role) (dash, gap display.Spaces) {
	switch role {
	case display.RoleDashes, display.RoleOctaveLine:
		return 0.6, 0.4
	case display.RoleDashedBarline:
		return 0.5, 0.4
	case display.RoleDottedBarline:
		return 0.1, 0.4
	}
	return 0, 0
}
