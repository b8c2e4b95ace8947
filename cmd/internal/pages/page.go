package pages

import (
	"bytes"
	_ "embed" // page.html, page.css
	"html/template"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// A Page is one HTML file that needs nothing else: no network, no fonts, no
// files beside it. It reads from the keyboard and with a screen reader, follows
// the reader's light or dark setting or takes the one chosen on it, and prints on
// A4 and Letter.
type Page struct {
	// Texts are the language of the page. Default, for nil: English.
	Texts *texts.Texts
	Title string
	// Style is added to the style of all pages.
	Style string
	// Script is the page's own, "" for none.
	Script string
	// Drawings are the music on the page, whose glyphs it must hold.
	Drawings []*engraving.Drawing
	Body     string
	// Large is for readers of large print.
	Large bool
}

//go:embed page.html
var frame string

//go:embed page.css
var style string

// Bytes writes the page.
func (p Page) Bytes() ([]byte, error) {
	if p.Texts == nil {
		english, err := texts.In(pitch.English)
		if err != nil {
			return nil, err
		}
		p.Texts = english
	}
	t, err := parse(p.Texts, frame)
	if err != nil {
		return nil, err
	}
	script := "'none'"
	if p.Script != "" {
		script = "'unsafe-inline'"
	}
	var out bytes.Buffer
	err = t.Execute(&out, map[string]any{
		"Language": string(p.Texts.Language), "Title": p.Title, "Large": p.Large, "Policy": script,
		"Style":       template.CSS(engraving.Style + "\n" + style + p.Style), // our own, not a reader's
		"Definitions": template.HTML(engraving.Definitions(p.Drawings...)),
		"Body":        template.HTML(p.Body), // of a template that has escaped what comes from outside
		"Script":      template.JS(p.Script),
		"Papers":      []string{"none", "cream", "blue", "green"},
		"Lights":      []string{"device", "light", "dark"},
	})
	return out.Bytes(), err
}

// AddFigures notes the drawings of figures that stand in the body.
func (p *Page) AddFigures(figures ...Figure) {
	for _, f := range figures {
		p.Drawings = append(p.Drawings, f.Drawings()...)
	}
}

// Fill writes the page with a body that a template makes of data. In the template
// {{say "key" "name" value}} is a text of the page's language, {{pick "kind" name}} one of
// a kind.
func (p Page) Fill(body string, data any) ([]byte, error) {
	t, err := parse(p.Texts, body)
	if err != nil {
		return nil, err
	}
	var out strings.Builder
	if err := t.Execute(&out, data); err != nil {
		return nil, err
	}
	p.Body = out.String()
	return p.Bytes()
}

func parse(t *texts.Texts, content string) (*template.Template, error) {
	return template.New("page").Funcs(template.FuncMap{
		"say":  func(key string, fill ...any) string { return t.Say(key, fillOf(fill)) },
		"pick": t.Pick,
	}).Parse(content)
}

// fillOf makes a fill of names and values in turn.
func fillOf(list []any) texts.Fill {
	fill := texts.Fill{}
	for i := 0; i+1 < len(list); i += 2 {
		if name, ok := list[i].(string); ok {
			fill[name] = list[i+1]
		}
	}
	return fill
}
