package engraving

import (
	"fmt"
	"maps"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/svg"
	"deskpart/transpose/pitch"
)

// Options say how music is drawn. The zero value is usable.
type Options struct {
	// Width is the length of a line in staff spaces; default 100 (with the
	// default size a line of an A4 or Letter page: 175 mm).
	Width display.Spaces
	// Space is the size of a staff space on paper; default 1.75 mm.
	Space display.Millimetres
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
	// RestRanges prints the numbers of the first and last bar of a multi-bar rest
	// below it.
	RestRanges bool
	// LargePrint draws thicker lines and stems, for a large Space.
	LargePrint bool
	// AsWritten leaves the page to whoever wrote the music: no accidental is said again
	// behind a tie over the line's end.
	AsWritten bool
	// Language is that in which the music is described. Default: English.
	Language pitch.Language
}

// Drawing is music laid out in lines.
type Drawing struct {
	Systems []display.System

	// signs are those of systems that are kept no longer.
	signs svg.Signs
}

// Draw lays the music out and lists what is drawn, line by line. It fails only
// where a staff has not as many measures as there are bars.
func Draw(m *Music, o Options) (*Drawing, error) {
	l, err := NewLayout(m, o)
	if err != nil {
		return nil, fmt.Errorf("draw music: %w", err)
	}
	d := &Drawing{}
	stretch := 0.0
	for _, line := range l.Break() {
		var s display.System
		s, stretch = l.Draw(line.First, line.Last, stretch)
		l.Describe(&s)
		d.Systems = append(d.Systems, s)
	}
	return d, nil
}

// Style is the style sheet of the drawings, see [svg.Style].
const Style = svg.Style

// Figures returns the <svg> elements of all lines for an HTML page that has
// Definitions and Style.
func (d *Drawing) Figures() string {
	var out strings.Builder
	for i := range d.Systems {
		out.WriteString(svg.Figure(&d.Systems[i]))
		out.WriteByte('\n')
	}
	return out.String()
}

// SVG returns all lines as one stand-alone SVG document.
func (d *Drawing) SVG() string { return svg.Sheet(d.Systems) }

// Signs returns a drawing without lines, of which [Definitions] still knows what
// signs it needs: for a page that keeps the figures alone.
func (d *Drawing) Signs() *Drawing { return &Drawing{signs: d.usedSigns()} }

func (d *Drawing) usedSigns() svg.Signs {
	used := svg.Signs{}
	maps.Copy(used, d.signs)
	for i := range d.Systems {
		d.Systems[i].Walk(used.Add)
	}
	return used
}

// Definitions returns one hidden <svg> element with the signs that these drawings
// use; it stands once on a page, before them.
func Definitions(drawings ...*Drawing) string {
	used := svg.Signs{}
	for _, d := range drawings {
		maps.Copy(used, d.usedSigns())
	}
	return svg.Definitions(used)
}
