package display

// Owner says what an item belongs to. All are counted from 1, 0 is none.
type Owner struct {
	// Staff counts from the top of the system, Bar through the music that was
	// drawn, Voice within the bar, Event within the voice, Note within the chord.
	Staff, Bar, Voice, Event, Note int32
}

// Item is one thing that is drawn.
type Item struct {
	Role  Role
	Owner Owner
	// Class is a name that the caller gave the note, for colour by a style
	// sheet; default none.
	Class string
	Shape Shape
}

// List is what is drawn, in the order of drawing.
type List []Item

// Group holds the items of a bar (RoleBar) or of a sign that is put together
// (clef, signatures, the number of a multi-bar rest).
type Group struct {
	// Number is the place of the bar among the measures of its document, from 1;
	// 0 for other groups.
	Number int
	Items  List
}

// Bounds is the box of all items; the zero box where there are none.
func (g Group) Bounds() Rect {
	if len(g.Items) == 0 {
		return Rect{}
	}
	box := g.Items[0].Shape.Bounds()
	for _, item := range g.Items[1:] {
		box = box.Union(item.Shape.Bounds())
	}
	return box
}

// Walk calls visit with every item that is no group, those in groups as well, in
// the order of drawing.
func (l List) Walk(visit func(Item)) {
	for _, item := range l {
		if g, ok := item.Shape.(Group); ok {
			g.Items.Walk(visit)
			continue
		}
		visit(item)
	}
}

// System is one line of music: all staves of the bars First to Last.
type System struct {
	// First and Last are bars of the music that was drawn, counted from 1.
	First, Last int
	// Width and Height bound all ink, with a little air above and below.
	Width, Height Spaces
	// Label names the line for somebody who hears the page.
	Label string
	// Large asks for the style of large print; Space is the size of a staff space
	// that the caller wanted.
	Large bool
	Space Millimetres
	// Frame joins the staves: the line at the left, braces, names, the strokes of
	// barlines between staves.
	Frame  List
	Staves []Staff
	// Over is what reaches from staff to staff.
	Over List
}

// Staff is one staff of a system.
type Staff struct {
	// Y is the height of the middle line of five, from the system's top edge.
	Y Spaces
	// Lines is the number of staff lines where the system begins; the lowest of
	// them is two spaces below Y.
	Lines int
	// Title and Text are the text alternative: the notes in words.
	Title, Text string
	Items       List
}

// Walk calls visit with every item of the system that is no group and how far it
// is to be moved down, so that heights count from the system's top edge.
func (s *System) Walk(visit func(item Item, down Spaces)) {
	s.Frame.Walk(func(i Item) { visit(i, 0) })
	for _, staff := range s.Staves {
		staff.Items.Walk(func(i Item) { visit(i, staff.Y) })
	}
	s.Over.Walk(func(i Item) { visit(i, 0) })
}
