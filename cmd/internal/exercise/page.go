package exercise

import (
	"fmt"
	"html"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/pages"
	"deskpart/musicxml/engraving"
)

// PageOptions say how a sheet is printed.
type PageOptions struct {
	// Large is for readers of large print: larger and thicker staves, text of 24
	// points on the screen and 18 on paper, nothing stretched. Default: false.
	Large bool
}

// Questions is the sheet to hand out: each melody over an empty staff of the same
// bars to write on.
func (s Sheet) Questions(o PageOptions) ([]byte, error) {
	return s.page("Transposition: exercises", o, func(b *strings.Builder, e *Exercise) (*engraving.Drawing, error) {
		drawing, err := e.drawQuestion(s, o)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(b, "<p>%s</p>\n%s<p class=\"marks\">%s</p>\n", e.asks(), drawing.Figures(), e.marks(s))
		return drawing, nil
	})
}

// Answers is the sheet to mark by: each melody over its answer.
func (s Sheet) Answers(o PageOptions) ([]byte, error) {
	return s.page("Transposition: answers", o, func(b *strings.Builder, e *Exercise) (*engraving.Drawing, error) {
		drawing, err := e.drawAnswer(o)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(b, "<p>%s</p>\n%s%s", e.asks(), drawing.Figures(), e.remarks())
		return drawing, nil
	})
}

// page puts the exercises of a sheet on a page.
func (s Sheet) page(title string, o PageOptions, write func(*strings.Builder, *Exercise) (*engraving.Drawing, error)) ([]byte, error) {
	var b strings.Builder
	p := pages.Page{Title: fmt.Sprintf("%s, sheet %s", title, s.Code()), Style: sheetStyle, Large: o.Large}
	s.head(&b, title)
	b.WriteString("<main>\n")
	for _, e := range s.Exercises {
		fmt.Fprintf(&b, "<section class=\"exercise\" aria-labelledby=\"e%d\">\n<h2 id=\"e%d\">%d. %s</h2>\n", e.Number, e.Number, e.Number, html.EscapeString(e.heading()))
		drawing, err := write(&b, e)
		if err != nil {
			return nil, fmt.Errorf("exercise %d: %w", e.Number, err)
		}
		p.Drawings = append(p.Drawings, drawing)
		b.WriteString("</section>\n")
	}
	b.WriteString("</main>\n")
	if strings.Contains(title, "answers") {
		b.WriteString("<footer class=\"soft\"><p>Ranges that the exercises keep to are a guide; for young players their teacher decides.</p></footer>\n")
	}
	p.Body = b.String()
	return p.Bytes()
}

const sheetStyle = `.head{border-bottom:2px solid var(--ink);padding-bottom:.5em;margin-bottom:.8em}
.blanks{display:flex;flex-wrap:wrap;gap:.4em 1.6em;margin:.5em 0 0;padding:0;list-style:none}
.blanks li{display:flex;flex:1 1 9em;gap:.4em;align-items:flex-end}.blanks li span{flex:1;border-bottom:1.5px solid var(--ink);min-width:4em;height:1.7em}
.code{font-family:ui-monospace,"Noto Sans Mono",monospace;font-weight:700}
.exercise{break-inside:avoid;margin:0 0 1.6em}
.exercise h2{margin:.8em 0 .1em}
.marks{display:flex;flex-wrap:wrap;justify-content:flex-end;gap:.3em 1.2em;margin:.2em 0 0}
.marks .box{display:inline-block;border:1.5px solid var(--ink);min-width:2.6em;height:1.8em;line-height:1.7em;text-align:right;padding:0 .3em;border-radius:.2em}
.large .exercise{margin-bottom:2.4em}
`

// head is the top of a page: title, what the learner fills in, and the code that
// joins questions and answers.
func (s Sheet) head(b *strings.Builder, title string) {
	fmt.Fprintf(b, "<header class=\"head\">\n<h1>%s</h1>\n<p>Sheet <span class=\"code\">%s</span>", html.EscapeString(title), html.EscapeString(s.Code()))
	if s.Source != "" {
		b.WriteString(" · " + html.EscapeString(s.Source))
	}
	b.WriteString("</p>\n")
	if !strings.Contains(title, "answers") {
		b.WriteString("<ul class=\"blanks\"><li>Name <span></span></li><li>Class <span></span></li><li>Date <span></span></li><li>Marks <span></span></li></ul>\n")
	}
	b.WriteString("</header>\n")
}

// drawQuestion draws the melody over an empty staff.
func (e *Exercise) drawQuestion(s Sheet, o PageOptions) (*engraving.Drawing, error) {
	given, err := engraving.FromPart(e.Given, engraving.PartOptions{})
	if err != nil {
		return nil, err
	}
	return drawPair(given, e.emptyStaff(given, s), o)
}

// drawAnswer draws the melody over its answer.
func (e *Exercise) drawAnswer(o PageOptions) (*engraving.Drawing, error) {
	given, err := engraving.FromPart(e.Given, engraving.PartOptions{Name: "Given"})
	if err != nil {
		return nil, err
	}
	answer, err := engraving.FromPart(e.Answer, engraving.PartOptions{Name: "Answer"})
	if err != nil {
		return nil, err
	}
	return drawPair(given, answer, o)
}

// The lines of a sheet: their length in staff spaces and the size of a space in
// millimetres, so that they fit both A4 and Letter paper.
const (
	lineWidth, lineSpace   = 84, 2.1
	largeWidth, largeSpace = 58, 3.0
)

func drawPair(upper, lower *engraving.Music, o PageOptions) (*engraving.Drawing, error) {
	both, err := engraving.Stack(upper, lower)
	if err != nil {
		return nil, err
	}
	options := engraving.Options{Width: lineWidth, Space: lineSpace, Unnumbered: len(both.Bars) <= 4, Justify: true}
	most := 13
	if o.Large {
		options.Width, options.Space, options.LargePrint, most = largeWidth, largeSpace, true, 9
	}
	breakWide(both, most)
	return engraving.Draw(both, options)
}

// breakWide begins new lines so that at most so many notes, and at most four bars,
// stand on one: room is left to write. The lines are about equally full.
func breakWide(m *engraving.Music, most int) {
	notes := make([]int, len(m.Bars))
	for i := range m.Bars {
		for _, v := range m.Staves[0].Measures[i].Voices {
			notes[i] += len(v.Events)
		}
	}
	// The fewest lines first; then the smallest number of notes that makes no more.
	lines := len(fillLines(notes, most))
	for fewer := most - 1; fewer > 0 && len(fillLines(notes, fewer)) == lines; fewer-- {
		most = fewer
	}
	for _, begins := range fillLines(notes, most)[1:] {
		m.Bars[begins].NewLine = true
	}
}

// fillLines returns the bars with which lines begin.
func fillLines(notes []int, most int) []int {
	begins := []int{0}
	on, bars := 0, 0
	for i, n := range notes {
		if bars > 0 && (on+n > most || bars == 4) {
			begins = append(begins, i)
			on, bars = 0, 0
		}
		on += n
		bars++
	}
	return begins
}

// signatureRoom is how many accidentals have room at the head of an empty staff,
// whatever the answer's signature, so that the sheet does not give it away.
const signatureRoom = 6

// emptyStaff has the bars of the melody, and what is not for the learner to write:
// the clef, and a signature that stays.
func (e *Exercise) emptyStaff(given *engraving.Music, s Sheet) *engraving.Music {
	m := &engraving.Music{Bars: given.Bars, Staves: []engraving.Staff{{Measures: make([]engraving.Measure, len(given.Bars))}}}
	change := engraving.Change{}
	if !s.Settings.WithoutClefs {
		c, _ := explain.ClefOf(e.Answer)
		clef := engraving.Clef{Sign: clefSigns[c.Sign], Line: c.Line, Octave: c.OctaveChange}
		change.Clef = &clef
	}
	if key, known := explain.KeyOf(e.Answer); known && !e.asksSignature() {
		change.Key = &engraving.Key{Fifths: key.Fifths}
	} else if !e.WithoutSignature {
		change.Key = &engraving.Key{Room: signatureRoom}
	}
	if len(m.Bars) > 0 {
		m.Staves[0].Measures[0].Changes = []engraving.Change{change}
	}
	return m
}

var clefSigns = map[string]engraving.ClefSign{"G": engraving.ClefG, "F": engraving.ClefF, "C": engraving.ClefC}
