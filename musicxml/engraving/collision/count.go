package collision

import (
	"cmp"
	"math"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// touch is how far boxes may lie over one another, in staff spaces: outlines are
// rounder than their boxes.
const touch = 0.12

// near is how close to a slur's end a stem is that of its own note.
const near = 1.4

// ink is an item with the boxes that its ink fills.
type ink struct {
	item   display.Item
	kind   kind
	bounds display.Rect
	cells  []display.Rect
}

// In finds the collisions of a system.
func In(s *display.System) []Class {
	var found []Class
	var list []ink
	s.Walk(func(item display.Item, down display.Spaces) {
		k := kinds[item.Role]
		if k == other && item.Role != display.RoleStaffName {
			return
		}
		bounds := item.Shape.Bounds().Moved(0, down)
		if _, letters := item.Shape.(display.Text); letters && (bounds.Left < -touch || bounds.Right > s.Width+touch) {
			found = append(found, TextOutside)
		}
		list = append(list, ink{item, k, bounds, cells(item.Shape, down)})
	})
	slices.SortStableFunc(list, func(a, b ink) int { return cmp.Compare(a.bounds.Left, b.bounds.Left) })
	for i := range list {
		for j := i + 1; j < len(list) && list[j].bounds.Left < list[i].bounds.Right; j++ {
			if c := meeting(&list[i], &list[j]); c != "" {
				found = append(found, c)
			}
		}
	}
	return found
}

// meeting is what it is called that two things lie over one another, "" where that is no
// fault or they do not.
func meeting(a, b *ink) Class {
	c, fault := class(a.kind, b.kind)
	if !fault || !a.bounds.Meets(b.bounds) || together(a.item, b.item) || !meet(a.cells, b.cells) {
		return ""
	}
	if c == SlurOnNote {
		if a.kind == slur {
			a, b = b, a
		}
		c = slurClass(a, b)
	}
	return c
}

// together tells that two items are one thing: letters of a word, the signs at one
// place that are set as a row.
func together(a, b display.Item) bool {
	note := func(o display.Owner) display.Owner { o.Note = 0; return o }
	switch {
	case kinds[a.Role].note() && kinds[b.Role].note() && a.Owner.Event > 0 && note(a.Owner) == note(b.Owner):
		return true
	case a.Role == b.Role && (a.Role == display.RoleTupletBracket || a.Role == display.RoleDynamic || a.Role == display.RoleRestCount || a.Role == display.RoleTempoNote):
		return a.Owner == b.Owner
	case a.Role == display.RoleTempo && b.Role == display.RoleTempoNote, a.Role == display.RoleTempoNote && b.Role == display.RoleTempo:
		return a.Owner == b.Owner
	case a.Role == display.RoleBeam || b.Role == display.RoleBeam:
		return a.Owner.Bar == b.Owner.Bar && a.Owner.Voice == b.Owner.Voice && a.Owner.Staff == b.Owner.Staff
	}
	return false
}

// slurClass tells the stems of a slur's own end notes from all else that it runs
// through.
func slurClass(note, bow *ink) Class {
	shape := bow.item.Shape.(display.Bow)
	x := (note.bounds.Left + note.bounds.Right) / 2
	if note.kind == stem && (x-shape.From.X < near || shape.To.X-x < near) {
		return SlurOnOwnStem
	}
	return SlurOnNote
}

// meet reports whether two figures lie over one another by more than a touch.
func meet(a, b []display.Rect) bool {
	for _, p := range a {
		for _, q := range b {
			if least(p)+least(q) == 0 {
				continue
			}
			if p.Grown(-min(touch, least(p)/2)).Meets(q.Grown(-min(touch, least(q)/2))) {
				return true
			}
		}
	}
	return false
}

// least is a quarter of a box's shorter side: thin ink is not shrunk away.
func least(r display.Rect) display.Spaces { return min(r.Width(), r.Height()) / 4 }

// piece is the width of the boxes that slanting ink is cut into.
const piece = 0.25

// cells are boxes that a shape's ink fills.
func cells(shape display.Shape, down display.Spaces) []display.Rect {
	switch s := shape.(type) {
	case display.Line:
		return lineCells(s, down)
	case display.Bow:
		return bowCells(s, down)
	case display.Beam:
		return slantCells(s.Left, s.Right, 0, s.Thickness, down)
	}
	return []display.Rect{shape.Bounds().Moved(0, down)}
}

func lineCells(l display.Line, down display.Spaces) []display.Rect {
	var list []display.Rect
	half := l.Thickness / 2
	points := l.Points
	if l.Closed {
		points = append(append([]display.Point(nil), points...), points[0])
	}
	for i := range points[1:] {
		a, b := points[i], points[i+1]
		if a.X == b.X || a.Y == b.Y {
			list = append(list, display.Line{Points: []display.Point{a, b}, Thickness: l.Thickness}.Bounds().Moved(0, down))
			continue
		}
		list = append(list, slantCells(a, b, -half, half, down)...)
	}
	return list
}

// slantCells cuts a slanting band, from above to below the line a to b.
func slantCells(a, b display.Point, above, below, down display.Spaces) []display.Rect {
	if b.X < a.X {
		a, b = b, a
	}
	n := max(1, int(math.Ceil(float64(b.X-a.X)/piece)))
	var list []display.Rect
	for i := range n {
		t1, t2 := display.Spaces(i)/display.Spaces(n), display.Spaces(i+1)/display.Spaces(n)
		y1, y2 := a.Y+(b.Y-a.Y)*t1, a.Y+(b.Y-a.Y)*t2
		list = append(list, display.Rect{Left: a.X + (b.X-a.X)*t1, Right: a.X + (b.X-a.X)*t2, Top: min(y1, y2) + above + down, Bottom: max(y1, y2) + below + down})
	}
	return list
}

func bowCells(b display.Bow, down display.Spaces) []display.Rect {
	n := max(4, int(math.Ceil(float64(b.To.X-b.From.X)/piece)))
	var list []display.Rect
	before := b.From
	for i := 1; i <= n; i++ {
		p := b.At(float64(i) / float64(n))
		list = append(list, slantCells(before, p, -b.Thickness/4, b.Thickness/4, down)...)
		before = p
	}
	return list
}
