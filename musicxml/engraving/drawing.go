package engraving

import (
	"fmt"
	"strings"
)

// Options say how music is drawn. The zero value is usable.
type Options struct {
	// Width is the length of a line in staff spaces; default 100 (with the
	// default size a line of an A4 or Letter page: 175 mm).
	Width float64
	// Space is the size of a staff space in millimetres on paper; default 1.75.
	Space float64
	// From and To are the first and last bar to draw, counted from 1; 0 is the
	// music's own first and last. Clef and key in force at From are drawn.
	From, To int
	// Ragged leaves lines at their natural width; the default fills them, except
	// for a last line that would have to be stretched much.
	Ragged bool
	// Justify fills a short last line, too. Ragged comes first. Default: it stays
	// short.
	Justify bool
	// Unnumbered leaves out bar numbers; the default prints one at each line.
	Unnumbered bool
	// AllNumbers prints the number of every bar.
	AllNumbers bool
	// Spread multiplies the distances between notes, for staves to write on or
	// beginners' eyes; default 1.
	Spread float64
	// LargePrint draws thicker lines and stems, for a large Space.
	LargePrint bool
	// BarClass gives a class name to the group of a bar (index from 0), "" none.
	BarClass func(staff, bar int) string
}

// Drawing is music laid out in lines.
type Drawing struct {
	Systems []System
}

// System is one line: all staves of the bars First to Last (counted from 1).
type System struct {
	First, Last int
	// Width and Height are in staff spaces.
	Width, Height float64
	// SVG is an <svg> element whose glyphs are defined elsewhere on the page
	// (see Definitions).
	SVG string

	used glyphSet
}

// Draw lays the music out and draws the lines. It fails only where a staff has
// not as many measures as there are bars.
func Draw(m *Music, o Options) (*Drawing, error) {
	l, err := newLayout(m, o)
	if err != nil {
		return nil, fmt.Errorf("draw music: %w", err)
	}
	d := &Drawing{}
	stretch := l.o.Spread
	for _, bars := range l.breakLines() {
		var s *system
		s, stretch = l.newSystem(bars[0], bars[1], stretch)
		d.Systems = append(d.Systems, s.draw())
	}
	return d, nil
}

// Figures returns the <svg> elements of all lines for an HTML page that has
// Definitions and Style.
func (d *Drawing) Figures() string {
	var out strings.Builder
	for _, s := range d.Systems {
		out.WriteString(s.SVG)
		out.WriteByte('\n')
	}
	return out.String()
}

// SVG returns all lines as one stand-alone SVG document.
func (d *Drawing) SVG() string {
	width, height := 0.0, 0.0
	used := glyphSet{}
	var lines strings.Builder
	for _, s := range d.Systems {
		fmt.Fprintf(&lines, "\n<svg y=\"%s\" width=\"%s\" height=\"%s\"%s", number(height), number(s.Width), number(s.Height), afterSize(s.SVG))
		width = max(width, s.Width)
		height += s.Height + 2
		used.add(s.used)
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="sheet" role="group" viewBox="0 0 %s %s"><style>%s</style>%s%s`+"\n</svg>\n",
		number(width), number(height), Style, used.definitions(), lines.String())
}

// afterSize drops the element's name and its size on paper.
func afterSize(svg string) string {
	svg = strings.TrimPrefix(svg, "<svg")
	end := strings.IndexByte(svg, '>')
	head, rest := svg[:end], svg[end:]
	if i := strings.Index(head, ` width="`); i >= 0 {
		head = head[:i]
	}
	return head + rest
}

// Definitions returns one hidden <svg> element with the glyphs that these
// drawings use; it stands once on a page, before them.
func Definitions(drawings ...*Drawing) string {
	used := glyphSet{}
	for _, d := range drawings {
		for _, s := range d.Systems {
			used.add(s.used)
		}
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0" aria-hidden="true" style="position:absolute">` + used.definitions() + `</svg>`
}

// Style is the style sheet of the drawings: everything has the colour of the
// text around it, so that pages choose light or dark, and paper is black on white.
const Style = `svg.music{display:block;max-width:100%;height:auto;fill:currentColor;break-inside:avoid}` +
	`svg.sheet{color-scheme:light dark;color:CanvasText;fill:currentColor}` +
	`.music text{font-family:"Noto Serif","Times New Roman",Times,serif;font-size:17.5px;stroke:none}` +
	`.music .lines,.music .ledger,.music .stem,.music .barline,.music .fence,.music .stroke,.music .dash{fill:none;stroke:currentColor}` +
	`.music .lines{stroke-width:.9}.music .ledger{stroke-width:1.3}.music .stem{stroke-width:1.2}` +
	`.music .barline{stroke-width:1.6}.music .thick{stroke-width:5}.music .fence,.music .stroke{stroke-width:1.1}.music .dash{stroke-width:1.1;stroke-dasharray:6 4}` +
	`.music .dashed{stroke-dasharray:5 4}.music .dotted{stroke-dasharray:1 4}` +
	`.music .lyric{font-size:17px}.music .harmony{font-size:19px;font-weight:600}.music .words{font-style:italic}` +
	`.music .tempo{font-size:19px;font-weight:700}.music .rehearsal{font-size:20px;font-weight:700}` +
	`.music .number{font-size:13px;font-style:italic}.music .figure{font-size:15px}.music .tuplet{font-size:14.5px;font-style:italic;font-weight:600}` +
	`.music .name{font-size:18px}.music .octave{font-size:14px;font-weight:600}.music .bracket{font-size:30px}.music .under{font-size:15px}` +
	`.music .ending{font-size:15px}.music .fret{font-size:15px;font-weight:600;paint-order:stroke;stroke:Canvas;stroke-width:4px}.music .count{font-size:22px;font-weight:700}.music .finger{font-size:13px}` +
	`.music.large .lines{stroke-width:1.3}.music.large .stem{stroke-width:1.7}.music.large .barline{stroke-width:2}.music.large .thick{stroke-width:6}.music.large .ledger{stroke-width:1.7}` +
	`@media print{svg.music,svg.sheet{color:#000}}`
