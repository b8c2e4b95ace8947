package engraving

import (
	"sort"

	"deskpart/musicxml/engraving/display"
	"deskpart/transpose/pitch"
)

// figure is an event as it is drawn: heads, stem, dots, relative to the x of its
// column, which is the left edge of an ordinary note head.
type figure struct {
	event *Event
	owner display.Owner
	staff *staffView
	// id is that of a voice that crosses from staff to staff.
	id string
	// joined says that its arpeggio is drawn with that of another staff.
	joined bool
	// voice is the index of the voice among those seen on the staff.
	voice int
	// shared is true where two or more voices share the staff in this bar; upper
	// tells whether this one is of those with stems up.
	shared, upper bool
	// byVoice lets the voice decide the stem against what the event says.
	byVoice bool
	heads   []headInk // from low to high
	dots    []sign
	// stem says whether there is one; up is its direction.
	stem, up bool
	group    *beamGroup
	// cross is the beam over several staves that it belongs to; nil for none.
	cross *crossGroup
	// dx moves the whole figure aside for another voice; x is the column's place
	// in the system, known after spacing.
	dx, x float64
	// inkLeft is the left edge of all ink of its column on the staff.
	inkLeft float64
	bar     int
	// column is where it stands; nil for centred rests.
	column *column
	// tip is the height of the stem's end.
	tip float64
	// rest is the shape of a rest and its height.
	rest sign
}

// staffView is what a figure needs to know of its staff.
type staffView struct {
	clef  Clef
	lines int
	index int
	// fretsOnly is Measure.FretsOnly.
	fretsOnly bool
}

// isTablature reports whether the figure is written by frets.
func (f *figure) isTablature() bool { return f.staff.clef.Sign == ClefTab }

// headInk is one note head.
type headInk struct {
	note *Note
	// number is the note's in the chord, from 1.
	number   int32
	position int
	dx       float64
	shape    shape
	// fret is drawn in place of the shape on a tablature staff.
	fret string
	// restated is the accidental from before the line, nil for none.
	restated *Accidental
}

func (h headInk) width() float64 {
	if h.fret != "" {
		return textWidth(display.RoleFret, h.fret)
	}
	return h.shape.width()
}

// newFigure builds an event's heads without yet knowing the stem's direction.
func newFigure(e *Event, view *staffView, voice int, upper, shared bool) *figure {
	f := &figure{event: e, staff: view, voice: voice, upper: upper, shared: shared}
	if e.IsRest() {
		f.rest = restSign(f)
		return f
	}
	for i := range e.Notes {
		n := &e.Notes[i]
		h := headInk{note: n, number: int32(i + 1), position: view.clef.Position(n.Place), shape: shape{headName(n, e.Value), f.small()}}
		if n.Middle {
			h.position = bottomLine + view.lines - 1
		}
		if view.clef.Sign == ClefTab && !n.Middle {
			h.fret, h.position = n.Fret, topLine(view.lines)-2*(n.String-1)
		}
		f.heads = append(f.heads, h)
	}
	sort.SliceStable(f.heads, func(i, j int) bool { return f.heads[i].position < f.heads[j].position })
	f.stem = e.Value.hasStem() && e.Stem != StemNone && !view.fretsOnly
	return f
}

func (f *figure) small() bool { return f.event.Grace || f.event.Small }

func (f *figure) isRest() bool { return f.event.IsRest() }

func (f *figure) lowest() int  { return f.heads[0].position }
func (f *figure) highest() int { return f.heads[len(f.heads)-1].position }

// size scales lengths that go with the notes' size.
func (f *figure) size() float64 { return f.rest.shape.orHead(f).scale() }

func (s shape) orHead(f *figure) shape {
	if len(f.heads) > 0 {
		return f.heads[0].shape
	}
	return s
}

// headWidth is the width of an ordinary head of the figure.
func (f *figure) headWidth() float64 {
	if len(f.heads) == 0 {
		return f.rest.shape.width()
	}
	return f.heads[0].width()
}

// stemDX is the stem's middle, relative to the column.
func (f *figure) stemDX() float64 {
	if f.isTablature() {
		return f.dx + f.headWidth()/2
	}
	if f.up {
		return f.dx + f.headWidth() - stemThickness/2
	}
	return f.dx + stemThickness/2
}

// stemX is the stem's middle in the system.
func (f *figure) stemX() float64 { return f.x + f.stemDX() }

// center is the middle of the ordinary head in the system.
func (f *figure) center() float64 { return f.x + f.dx + f.headWidth()/2 }

// headNames are the glyphs of the shapes for quarter notes and shorter, and for
// half notes and longer.
var headNames = map[Head][2]string{
	HeadCross: {"head-x", "head-x"}, HeadPlus: {"head-plus", "head-plus"},
	HeadCircleCross: {"head-circle-x", "head-circle-x"}, HeadDiamond: {"head-diamond", "head-diamond-half"},
	HeadSquare: {"head-square", "head-square-half"}, HeadTriangle: {"head-triangle", "head-triangle-half"},
	HeadInvertedTriangle: {"head-inverted-triangle", "head-inverted-triangle-half"},
	HeadLeftTriangle:     {"head-left-triangle", "head-left-triangle-half"},
	HeadMoon:             {"head-moon", "head-moon-half"}, HeadSlash: {"head-slash", "head-slash-half"}, HeadBeatRepeat: {"repeat-beat", "repeat-beat"},
	HeadSlashed: {"head-slashed", "head-slashed-half"}, HeadBackSlashed: {"head-back-slashed", "head-back-slashed-half"},
	HeadArrowUp: {"head-arrow-up", "head-arrow-up"}, HeadArrowDown: {"head-arrow-down", "head-arrow-down"},
}

func headName(n *Note, v Value) string {
	hollow := n.Unfilled || v <= Half && !n.Filled
	if names, ok := headNames[n.Head]; ok {
		if hollow {
			return names[1]
		}
		return names[0]
	}
	switch {
	case !hollow:
		return "head-black"
	case v <= Breve:
		return "head-breve"
	case v == Whole:
		return "head-whole"
	}
	return "head-half"
}

// autoUp is the stem's direction by the note's place: the head farthest from the
// middle line decides, and the middle line has it downwards.
func autoUp(lowest, highest int) bool { return -lowest > highest }

// chooseStem sets the direction of a figure outside a beam.
func (f *figure) chooseStem() {
	up, said := f.askedStem()
	if !said {
		up = autoUp(f.lowest(), f.highest())
	}
	f.up = up
}

// askedStem is the stem's direction where something else than the places of the heads
// decides it: the voice, the event, that it is a grace note.
func (f *figure) askedStem() (up, said bool) {
	switch {
	case f.isTablature():
		return f.shared && f.upper, true
	case f.byVoice:
		return f.upper, true
	case f.event.Stem == StemUp || f.event.Stem == StemDown:
		return f.event.Stem == StemUp, true
	case f.shared:
		return f.upper, true
	}
	return true, f.event.Grace
}

// arrangeHeads puts the heads on both sides of the stem where they are a second
// or less apart: counted from the end of the chord that the stem grows from.
func (f *figure) arrangeHeads() {
	width := f.headWidth() - stemThickness
	previous, aside := 0, false
	for i := range f.heads {
		k, side := i, width
		if !f.up && f.stem {
			k, side = len(f.heads)-1-i, -width
		}
		h := &f.heads[k]
		h.dx = 0
		aside = i > 0 && pitch.Abs(h.position-previous) <= 1 && !aside
		if aside {
			h.dx = side
		}
		previous = h.position
	}
}

// arrangeDots puts the dots into spaces, each space once.
func (f *figure) arrangeDots() {
	f.dots = nil
	if f.event.Dots == 0 || f.event.Hidden || f.staff.fretsOnly || f.isRest() && f.event.FullBar {
		return
	}
	s := shape{"dot", f.small()}
	if f.isRest() {
		height := f.rest.y - 0.5
		f.addDots(s, f.dx+f.rest.dx+f.rest.shape.width()+0.3, height)
		return
	}
	x := f.dx
	for _, h := range f.heads {
		x = max(x, f.dx+h.dx+h.width())
	}
	taken := map[int]bool{}
	for i := len(f.heads) - 1; i >= 0; i-- {
		if f.heads[i].note.Hidden {
			continue
		}
		if space := f.dotSpace(f.heads[i].position, taken); !taken[space] {
			taken[space] = true
			f.addDots(s, x+0.35, y(space))
		}
	}
}

// dotSpace is the position of the dot of a head: its own space, or the one above
// a line (below in a lower voice), or else the one below.
func (f *figure) dotSpace(position int, taken map[int]bool) int {
	if position%2 != 0 {
		return position
	}
	first, second := position+1, position-1
	if f.shared && !f.upper {
		first, second = second, first
	}
	if taken[first] {
		return second
	}
	return first
}

func (f *figure) addDots(s shape, dx, y float64) {
	for i := range f.event.Dots {
		f.dots = append(f.dots, sign{s, dx + float64(i)*(s.width()+0.2), y})
	}
}

// restNames are the rests by value.
func restName(v Value) string {
	switch {
	case v <= Long:
		return "rest-long"
	case v == Breve:
		return "rest-breve"
	case v == Whole:
		return "rest-whole"
	case v >= Value128:
		return "rest-128th"
	}
	return "rest-" + v.String()
}

// restSign places a rest: in the middle, or to the side of its voice.
func restSign(f *figure) sign {
	e := f.event
	name := restName(e.Value)
	if e.FullBar {
		name = "rest-whole"
	}
	middle := bottomLine + f.staff.lines - 1
	if f.staff.lines%2 == 0 {
		middle-- // whole and half rests need a line
	}
	position := middle
	switch {
	case e.RestPosition != nil:
		// Rests stand on whole spaces, as the staff's lines do.
		position = f.staff.clef.Position(*e.RestPosition)
		position -= ((position-middle)%2 + 2) % 2
	case f.shared && f.upper:
		position = middle + 4
	case f.shared:
		position = middle - 4
	}
	s := shape{name, f.small()}
	return sign{s, -s.box().left, y(position)}
}
