package marked

import (
	"cmp"
	"fmt"
	"strconv"

	"deskpart/cmd/internal/pages/typeset"
	"deskpart/cmd/internal/texts"
)

// set sets a pupil's page: each answer begins a sheet.
func (v pupilView) set(t *texts.Texts, d *typeset.Setter) {
	d.Title(v.Name)
	if p := v.Pupil; p.Notes > 0 {
		d.Lead(typeset.Plain(t.Say("marked.total", texts.Fill{"right": p.Right, "notes": p.Notes, "lenient": p.Lenient})))
	}
	d.Rule()
	for i, a := range v.Answers {
		if i > 0 {
			d.NewPage()
		}
		a.set(t, d)
	}
}

// set sets one answer.
func (v answerView) set(t *texts.Texts, d *typeset.Setter) {
	heading := v.FileName()
	if v.Error == "" && v.Exercise > 0 {
		heading = t.Say("marked.exercise", texts.Fill{"n": v.Exercise})
	}
	d.Heading(heading)
	if v.Error != "" {
		d.Text(typeset.Plain(v.Error))
		return
	}
	if v.Way != "" {
		d.Lead(typeset.Bold(v.Way))
	}
	d.Lead(typeset.Plain(t.Say("marked.points", texts.Fill{"right": v.Right, "notes": v.Notes, "lenient": v.Lenient})))
	if v.FitsHardly() {
		d.Lead(typeset.Bold(t.Say("marked.hardly", nil)))
	}
	for _, f := range v.Figures {
		d.Music(f.Wide)
	}
	d.Space(0.5)
	if v.All {
		d.Text(typeset.Bold(t.Say("marked.all-right", nil)))
	}
	for _, m := range v.Mistakes {
		d.Item("["+strconv.Itoa(m.Number)+"]", typeset.Bold(m.Where), typeset.Plain(" "+m.Text))
		if m.Rule != "" {
			d.Item(" ", typeset.Plain(m.Rule))
		}
		if m.Worked != "" {
			d.Item(" ", typeset.Italic(m.Worked))
		}
	}
	for _, remark := range v.Remarks {
		d.Text(typeset.Italic(remark))
	}
	for i, practise := range v.Practise {
		if i == 0 {
			d.Text(typeset.Bold(t.Say("marked.practise", nil)), typeset.Plain(" "+practise))
			continue
		}
		d.Text(typeset.Plain(practise))
	}
}

// set sets the page of the class.
func (v classView) set(t *texts.Texts, d *typeset.Setter) {
	d.Title(t.Say("marked.class", texts.Fill{"n": len(v.Rows)}))
	d.Lead(typeset.Plain(t.Say("class-marked", texts.Fill{"n": v.Class.Summary.Marked, "of": v.Class.Summary.Answers})))
	d.Rule()
	d.Heading(t.Say("marked.table", nil))
	d.Lead(typeset.Plain(t.Say("marked.table-says", nil)))
	v.setTable(t, d)
	if len(v.Common) > 0 {
		d.Heading(v.Commonest)
		for i, c := range v.Common {
			d.Item(fmt.Sprintf("%d.", i+1), typeset.Plain(t.Say("class-common", texts.Fill{"n": len(c.Pupils), "of": c.Of, "kind": c.Kind, "cause": c.Cause})), typeset.Italic(" "+c.Who))
		}
		d.Heading(t.Say("marked.teach", nil))
		for i, lesson := range v.Teach {
			d.Item(fmt.Sprintf("%d.", i+1), typeset.Plain(lesson.Rule+" "+lesson.Practise), typeset.Italic(" "+lesson.Who))
		}
	}
	if len(v.Rejected) > 0 {
		d.Heading(t.Say("marked.rejected", nil))
		for _, r := range v.Rejected {
			d.Item("•", typeset.Bold(r.Name), typeset.Plain(" "+r.Text))
		}
	}
}

// setTable sets pupils by exercises.
func (v classView) setTable(t *texts.Texts, d *typeset.Setter) {
	head := append(append([]string{t.Pick("column", "pupil")}, v.Heads...), t.Pick("class", "all"))
	var rows [][]string
	for _, r := range v.Rows {
		row := []string{r.Name}
		for _, c := range r.Cells {
			row = append(row, cmp.Or(c.Text, "–"))
		}
		rows = append(rows, append(row, r.All))
	}
	d.Table(head, rows)
}
