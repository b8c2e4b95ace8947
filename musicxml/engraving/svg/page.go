package svg

import (
	"fmt"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// Page writes a page as one stand-alone SVG document of the paper's size.
func Page(p *display.Page) string {
	used := Signs{}
	var blocks strings.Builder
	for i := range p.Blocks {
		b := &p.Blocks[i]
		b.Walk(used.Add)
		blocks.WriteString(block(b))
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="sheet" role="group" width="%smm" height="%smm" viewBox="0 0 %s %s"><style>%s</style>%s%s`+"\n</svg>\n",
		millimetres(p.Width), millimetres(p.Height), millimetres(p.Width), millimetres(p.Height), Style, used.definitions(), blocks.String())
}

// block puts a block at its place on the page, whose unit is a millimetre.
func block(b *display.Block) string {
	at := func(width, height display.Spaces) string {
		return fmt.Sprintf("\n"+`<svg x="%s" y="%s" width="%s" height="%s"`, decimal(float64(b.Left)), decimal(float64(b.Top)),
			decimal(float64(width.On(b.Space))), decimal(float64(height.On(b.Space))))
	}
	if s := b.System; s != nil {
		return at(s.Width, s.Height) + afterSize(Figure(s))
	}
	const size = 1 // nothing is cut off
	var w writer
	w.WriteString(at(size, size) + ` class="music" overflow="visible" viewBox="0 0 ` + number(size) + " " + number(size) + `">`)
	for _, item := range b.Items {
		if t, ok := item.Shape.(display.Text); ok {
			w.letters("", t, faceStyles[t.Face], "font-size:"+number(t.Size)+"px") // its own face and size, not those of a role
		}
	}
	w.WriteString("</svg>")
	return w.String()
}
