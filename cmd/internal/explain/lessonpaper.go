package explain

import (
	"strconv"

	"deskpart/cmd/internal/pages/typeset"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving/paper"
)

// PDF is the lesson on paper. The same explanation gives the same bytes.
func (e *Explanation) PDF(size paper.Size) ([]byte, error) {
	d := typeset.New(typeset.Options{Paper: size, Title: e.Title(), Language: string(e.t.Language)})
	d.Title(e.Title())
	if e.Key != nil {
		d.Lead(typeset.Plain(e.becomes()))
	}
	d.Rule()
	if len(e.Notes) > 0 {
		figure, err := e.draw()
		if err != nil {
			return nil, err
		}
		d.Heading(e.t.Say("lesson.note-under-note", nil))
		d.Music(figure.Wide)
	}
	d.Heading(e.t.Say("lesson.rule", nil))
	for _, r := range e.ruleViews() {
		d.Text(typeset.Bold(e.t.Pick("about", r.About)), typeset.Plain(" "+r.Text))
	}
	e.setWays(d)
	if signs := e.signs(); len(signs) > 0 {
		d.Heading(e.t.Say("lesson.accidentals", nil))
		d.Text(typeset.Plain(e.t.Say("lesson.raised-stays", nil)))
		for _, s := range signs {
			d.Item("•", typeset.Bold(e.t.Say("lesson.note-number", texts.Fill{"n": s.Note})), typeset.Plain(" "+s.Text))
		}
	}
	return d.PDF()
}

// setWays sets the table of the notes' paths.
func (e *Explanation) setWays(d *typeset.Setter) {
	ways := e.wayViews()
	if len(ways) == 0 {
		return
	}
	d.Heading(e.t.Say("lesson.ways", nil))
	var rows [][]string
	for _, w := range ways {
		rows = append(rows, []string{strconv.Itoa(w.Number), w.Given, w.Answer, w.Text})
	}
	d.Table([]string{e.t.Say("lesson.column-note", nil), e.t.Say("lesson.given", nil), e.t.Say("lesson.answer", nil), e.t.Say("lesson.column-path", nil)}, rows)
}
