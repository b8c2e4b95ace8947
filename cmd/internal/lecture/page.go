package lecture

import (
	"bytes"
	_ "embed" // lecture.html, lecture.css
	"html/template"

	"deskpart/cmd/internal/pages"
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
		for _, f := range s.Figures {
			page.Drawings = append(page.Drawings, f.Drawings()...)
		}
	}
	t, err := pages.Template(l.t, "lecture", bodyTemplate)
	if err != nil {
		return nil, err
	}
	var body bytes.Buffer
	if err := t.Execute(&body, l); err != nil {
		return nil, err
	}
	page.Body = body.String()
	return page.Bytes()
}

// Drawn are a step's figures, by our own engraver.
func (s *Step) Drawn() template.HTML {
	var out string
	for _, f := range s.Figures {
		out += f.HTML()
	}
	return template.HTML(out)
}
