package exercise

import (
	"fmt"
	"strconv"

	"deskpart/cmd/internal/pages/typeset"
	"deskpart/musicxml/engraving/paper"
)

// pdf sets a sheet. An exercise stays on one page where it has room.
func (s Sheet) pdf(of func(PageOptions) (sheetView, error), o PageOptions, size paper.Size) ([]byte, error) {
	v, err := of(o)
	if err != nil {
		return nil, err
	}
	d := typeset.New(typeset.Options{Paper: size, Large: o.Large, Title: s.fullTitle(v), Language: string(s.texts().Language)})
	d.Title(v.Title)
	code := s.codeText()
	if v.Source != "" {
		code += " · " + v.Source
	}
	d.Lead(typeset.Plain(code))
	d.Blanks(v.Blanks...)
	d.Rule()
	for _, e := range v.Exercises {
		d.Together(func() { e.set(d) })
	}
	if v.Footer != "" {
		d.Text(typeset.Italic(v.Footer))
	}
	return d.PDF()
}

// set sets one exercise.
func (e exerciseView) set(d *typeset.Setter) {
	d.Heading(fmt.Sprintf("%d. %s", e.Number, e.Heading))
	d.Lead(typeset.Plain(e.Asks))
	for _, f := range e.Figures {
		d.Music(f.Wide)
	}
	var marks []typeset.Mark
	for _, b := range e.Boxes {
		marks = append(marks, typeset.Mark{Name: b.Name, Of: strconv.Itoa(b.Of)})
	}
	if len(marks) > 0 {
		d.Marks(marks...)
	}
	for _, remark := range e.Remarks {
		d.Item("•", typeset.Plain(remark))
	}
	d.Space(0.8)
}
