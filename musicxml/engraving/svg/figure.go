package svg

import (
	"cmp"
	"fmt"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// writer collects SVG elements.
type writer struct{ strings.Builder }

// Figure writes a system as an <svg> element whose signs are defined elsewhere on
// the page.
func Figure(s *display.System) string {
	var w writer
	class := "music"
	if s.Large {
		class = "music large"
	}
	fmt.Fprintf(&w, `<svg class="%s" xmlns="http://www.w3.org/2000/svg" role="group" aria-label="%s" viewBox="0 0 %s %s" width="%smm" height="%smm">`,
		class, escape(s.Label), number(s.Width), number(s.Height), millimetres(s.Width.On(s.Space)), millimetres(s.Height.On(s.Space)))
	w.list(s.Frame)
	for i := range s.Staves {
		w.staff(&s.Staves[i])
	}
	w.list(s.Over)
	w.WriteString("</svg>")
	return w.String()
}

// Sheet writes systems one below the other as one stand-alone SVG document.
func Sheet(systems []display.System) string {
	const gap = 2
	var width, height display.Spaces
	used := Signs{}
	var lines strings.Builder
	for i := range systems {
		s := &systems[i]
		fmt.Fprintf(&lines, "\n<svg y=\"%s\" width=\"%s\" height=\"%s\"%s", number(height), number(s.Width), number(s.Height), afterSize(Figure(s)))
		width = max(width, s.Width)
		height += s.Height + gap
		s.Walk(used.Add)
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

// staff puts a staff at its place, with its text alternative.
func (w *writer) staff(s *display.Staff) {
	fmt.Fprintf(w, `<g class="staff" role="img" transform="translate(0 %s)"><title>%s</title><desc>%s</desc>`,
		number(s.Y), escape(clean(s.Title)), escape(clean(s.Text)))
	w.list(s.Items)
	w.WriteString("</g>")
}

// list writes items in order; straight strokes and the like of one role that
// follow one another are one path, each bow is its own.
func (w *writer) list(items display.List) {
	for i := 0; i < len(items); i++ {
		item := items[i]
		switch shape := item.Shape.(type) {
		case display.Group:
			w.group(item, shape)
		case display.Sign:
			w.sign(item, shape)
		case display.Text:
			w.text(item, shape)
		default:
			d := path(shape)
			for ; i+1 < len(items) && joins(item, items[i+1]); i++ {
				d += path(items[i+1].Shape)
			}
			if d != "" {
				w.WriteString(`<path class="` + classes[item.Role] + `" d="` + d + `"/>`)
			}
		}
	}
}

// joins reports whether two items may be one path.
func joins(a, b display.Item) bool {
	if a.Role != b.Role {
		return false
	}
	switch b.Shape.(type) {
	case display.Line, display.Curve, display.Beam, display.Box:
		return true
	}
	return false
}

func (w *writer) group(item display.Item, g display.Group) {
	w.WriteString("<g")
	if g.Number > 0 {
		fmt.Fprintf(w, ` data-bar="%d"`, g.Number)
	}
	class := cmp.Or(item.Class, classes[item.Role])
	if class != "" {
		w.WriteString(` class="` + escape(class) + `"`)
	}
	w.WriteString(">")
	w.list(g.Items)
	w.WriteString("</g>")
}

func (w *writer) sign(item display.Item, s display.Sign) {
	if s.Tall != 0 && s.Tall != s.Scale {
		fmt.Fprintf(w, `<use href="#%s" transform="translate(%s %s) scale(%s %s)"/>`,
			idPrefix+s.Name, number(s.At.X), number(s.At.Y), decimal(s.Scale), decimal(s.Tall))
		return
	}
	class := cmp.Or(item.Class, signClass(item.Role))
	w.WriteString(`<use href="#` + formOf(s).id() + `"`)
	if class != "" {
		w.WriteString(` class="` + escape(class) + `"`)
	}
	w.WriteString(` x="` + number(s.At.X) + `" y="` + number(s.At.Y) + `"/>`)
}

var anchors = map[display.Anchor]string{display.Middle: "middle", display.End: "end"}

func (w *writer) text(item display.Item, t display.Text) {
	var styles []string
	if t.Face != faces[item.Role] {
		styles = append(styles, faceStyles[t.Face])
	}
	if t.Small {
		styles = append(styles, "font-size:"+number(t.Size)+"px")
	}
	w.letters(` class="`+classes[item.Role]+`"`, t, styles...)
}

// letters writes a text with the styles that it does not have of its class.
func (w *writer) letters(class string, t display.Text, styles ...string) {
	w.WriteString("<text" + class + ` x="` + number(t.At.X) + `" y="` + number(t.At.Y) + `"`)
	if anchor := anchors[t.Anchor]; anchor != "" {
		w.WriteString(` text-anchor="` + anchor + `"`)
	}
	if len(styles) > 0 {
		w.WriteString(` style="` + strings.Join(styles, ";") + `"`)
	}
	w.WriteString(">" + escape(clean(t.Text)) + "</text>")
}
