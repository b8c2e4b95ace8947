package exercise

import (
	"cmp"
	_ "embed" // sheet.html, sheet.css
	"fmt"

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
	Figures       []pages.Figure
	Boxes         []box
	Remarks       []string
}

// sheetView is what stands on a sheet, in whatever form it is written.
type sheetView struct {
	Title, Code, Source, Footer string
	Blanks                      []string
	Exercises                   []exerciseView
}

// Questions is the page to hand out: the music over empty staves of the same bars to
// write on.
func (s Sheet) Questions(o PageOptions) ([]byte, error) { return s.html(s.questions, o) }

// Answers is the page to mark by: the music over its answer.
func (s Sheet) Answers(o PageOptions) ([]byte, error) { return s.html(s.answers, o) }

func (s Sheet) questions(o PageOptions) (sheetView, error) {
	t := s.texts()
	title := t.Say("exercise.questions", texts.Fill{"topic": t.Pick("topic", string(s.topic()))})
	blanks := []string{t.Pick("blank", "name"), t.Pick("blank", "class"), t.Pick("blank", "date"), t.Pick("blank", "marks")}
	return s.view(sheetView{Title: title, Blanks: blanks}, func(e *Exercise, v *exerciseView) ([]pages.Figure, error) {
		v.Boxes = e.boxes(s)
		return e.drawQuestion(s, o)
	})
}

func (s Sheet) answers(o PageOptions) (sheetView, error) {
	t := s.texts()
	title := t.Say("exercise.answers", texts.Fill{"topic": t.Pick("topic", string(s.topic()))})
	return s.view(sheetView{Title: title, Footer: t.Say("exercise.ranges", nil)}, func(e *Exercise, v *exerciseView) ([]pages.Figure, error) {
		v.Remarks = e.remarks(t)
		return e.DrawAnswer(s, o)
	})
}

func (s Sheet) topic() Topic { return cmp.Or(s.Settings.Topic, Transposition) }

// view adds the exercises to a sheet.
func (s Sheet) view(v sheetView, draw func(*Exercise, *exerciseView) ([]pages.Figure, error)) (sheetView, error) {
	v.Code, v.Source = s.Code(), s.Source
	for _, e := range s.Exercises {
		one := exerciseView{Number: e.Number, Heading: e.heading(s.texts()), Asks: e.Asks(s.texts())}
		var err error
		if one.Figures, err = draw(e, &one); err != nil {
			return v, fmt.Errorf("exercise %d: %w", e.Number, err)
		}
		v.Exercises = append(v.Exercises, one)
	}
	return v, nil
}

// fullTitle names a sheet by what it is and its code.
func (s Sheet) fullTitle(v sheetView) string { return v.Title + ", " + s.codeText() }

func (s Sheet) codeText() string {
	return s.texts().Say("exercise.sheet", texts.Fill{"code": s.Code()})
}

// html makes a page of a sheet.
func (s Sheet) html(of func(PageOptions) (sheetView, error), o PageOptions) ([]byte, error) {
	v, err := of(o)
	if err != nil {
		return nil, err
	}
	p := pages.Page{Texts: s.texts(), Title: s.fullTitle(v), Style: sheetStyle, Large: o.Large}
	for _, e := range v.Exercises {
		p.AddFigures(e.Figures...)
	}
	return p.Fill(sheetTemplate, v)
}
