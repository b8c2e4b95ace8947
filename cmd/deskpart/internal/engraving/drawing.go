package engraving

// Options say how music is drawn. The zero value is usable.
type Options struct {
	// Width is the length of a line in staff spaces; default 100 (with the
	// default size a line of an A4 or Letter page).
	Width float64
	// Space is the size of a staff space in millimetres on paper; default 1.75.
	Space float64
	// From and To are the first and last bar to draw, counted from 1; 0 is the
	// music's own first and last. Clef and key in force at From are drawn.
	From, To int
	// Ragged leaves lines at their natural width; the default fills them, except
	// for a last line that would have to be stretched much.
	Ragged bool
	// Unnumbered leaves out bar numbers; the default prints one at each line.
	Unnumbered bool
	// AllNumbers prints the number of every bar.
	AllNumbers bool
	// BarClass gives a class name to the group of a bar (index from 0), "" none.
	BarClass func(staff, bar int) string
}

// Drawing is music laid out in lines.
type Drawing struct {
	Systems []System
	// used names the glyphs of all systems.
	used glyphSet
}

// System is one line: all staves of the bars First to Last (counted from 1).
type System struct {
	First, Last int
	// Width and Height are in staff spaces.
	Width, Height float64
	// SVG is an <svg> element whose glyphs are defined elsewhere on the page
	// (see Definitions).
	SVG string
}

type glyphSet map[string]bool
