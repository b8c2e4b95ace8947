package exercise

import (
	"bytes"
	_ "embed" // sheet.html, sheet.css
	"fmt"
	"html/template"

	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
)

var (
	//go:embed sheet.html
	sheetTemplate string
	//go:embed sheet.css
	sheetStyle string
)

// PageOptions say how a sheet is printed.
type PageOptions struct {
	// Large is for readers of large print: larger and thicker staves, text of 24
	// points on the screen and 18 on paper, nothing stretched. Default: false.
	Large bool
}

// exerciseView is an exercise on a page.
type exerciseView struct {
	Number        int
	Heading, Asks string
	Figures       []template.HTML
	Boxes         []box
	Remarks       []string
}

// Questions is the sheet to hand out: the music over empty staves of the same bars to
// write on.
func (s Sheet) Questions(o PageOptions) ([]byte, error) {
	t := s.texts()
	title := t.Say("exercise.questions", texts.Fill{"topic": t.Pick("topic", string(s.topic()))})
	blanks := []string{t.Pick("blank", "name"), t.Pick("blank", "class"), t.Pick("blank", "date"), t.Pick("blank", "marks")}
	return s.page(title, "", blanks, o, func(e *Exercise, v *exerciseView) ([]pages.Figure, error) {
		v.Boxes = e.boxes(s)
		return e.drawQuestion(s, o)
	})
}

// Answers is the sheet to mark by: the music over its answer.
func (s Sheet) Answers(o PageOptions) ([]byte, error) {
	t := s.texts()
	title := t.Say("exercise.answers", texts.Fill{"topic": t.Pick("topic", string(s.topic()))})
	return s.page(title, t.Say("exercise.ranges", nil), nil, o, func(e *Exercise, v *exerciseView) ([]pages.Figure, error) {
		v.Remarks = e.remarks(t)
		return e.DrawAnswer(s, o)
	})
}

func (s Sheet) topic() Topic {
	if s.Settings.Topic == "" {
		return Transposition
	}
	return s.Settings.Topic
}

// page puts the exercises of a sheet on a page.
func (s Sheet) page(title, footer string, blanks []string, o PageOptions, draw func(*Exercise, *exerciseView) ([]pages.Figure, error)) ([]byte, error) {
	t := s.texts()
	sheet := t.Say("exercise.sheet", texts.Fill{"code": s.Code()})
	p := pages.Page{Texts: t, Title: title + ", " + sheet, Style: sheetStyle, Large: o.Large}
	var views []exerciseView
	for _, e := range s.Exercises {
		v := exerciseView{Number: e.Number, Heading: e.heading(t), Asks: e.Asks(t)}
		figures, err := draw(e, &v)
		if err != nil {
			return nil, fmt.Errorf("exercise %d: %w", e.Number, err)
		}
		for _, f := range figures {
			v.Figures = append(v.Figures, template.HTML(f.HTML())) // drawn by our own engraver
			p.Drawings = append(p.Drawings, f.Drawings()...)
		}
		views = append(views, v)
	}
	parsed, err := pages.Template(t, "sheet", sheetTemplate)
	if err != nil {
		return nil, err
	}
	var body bytes.Buffer
	if err := parsed.Execute(&body, map[string]any{"Title": title, "Code": s.Code(), "Source": s.Source, "Blanks": blanks, "Exercises": views, "Footer": footer}); err != nil {
		return nil, err
	}
	p.Body = body.String()
	return p.Bytes()
}
