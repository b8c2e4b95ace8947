package lecture

import (
	_ "embed" // lecture.html, lecture.css

	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/pages/typeset"
	"deskpart/musicxml/engraving/paper"
)

var (
	//go:embed lecture.html
	bodyTemplate string
	//go:embed lecture.css
	style string
)

// Page makes a page of the lecture. The same lecture gives the same bytes.
func (l *Lecture) Page() ([]byte, error) {
	page := pages.Page{Texts: l.t, Title: l.Title, Style: style}
	for _, s := range l.Steps {
		page.AddFigures(s.Figures...)
	}
	return page.Fill(bodyTemplate, l)
}

// PDF is the lecture on paper. The same lecture gives the same bytes.
func (l *Lecture) PDF(size paper.Size) ([]byte, error) {
	d := typeset.New(typeset.Options{Paper: size, Title: l.Title, Language: string(l.t.Language)})
	d.Title(l.Title)
	d.Rule()
	for _, s := range l.Steps {
		d.Heading(s.Title)
		for i, text := range s.Text {
			if i == len(s.Text)-1 && (len(s.Figures) > 0 || s.Table != nil) {
				d.Lead(typeset.Plain(text))
				continue
			}
			d.Text(typeset.Plain(text))
		}
		for _, f := range s.Figures {
			d.Music(f.Wide)
		}
		if s.Table != nil {
			d.Table(s.Table.Head, s.Table.Rows)
		}
	}
	return d.PDF()
}
