package marked

import (
	_ "embed" // class.html
	"path/filepath"
	"strings"

	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/pages/typeset"
	"deskpart/cmd/internal/texts"
)

//go:embed class.html
var classTemplate string

// rowView is a pupil's row of the table.
type rowView struct {
	class.Pupil
	Name, Page string
	Cells      []cellView
	// All is what the pupil has in all exercises, or that nothing could be read.
	All string
}

// cellView is what a pupil has in an exercise, under its column's head.
type cellView struct{ Head, Text string }

// commonView is a mistake with who made it.
type commonView struct {
	class.Common
	Kind string
	Who  string
	Of   int
}

// rejectedView is a file that could not be marked.
type rejectedView struct{ Name, Text string }

// teachView is something to teach again.
type teachView struct{ Rule, Practise, Who string }

// mostTaught bounds what is to be taught again.
const mostTaught = 3

// classView is what stands on the page of the class.
type classView struct {
	Heads     []string
	Rows      []rowView
	Class     class.Class
	Commonest string // the heading
	Common    []commonView
	Teach     []teachView
	Rejected  []rejectedView
}

// Class makes the page of the class; links are the pupils' pages by their names.
func Class(t *texts.Texts, r class.Report, links map[string]string) Page {
	v := classView{Class: r.Class, Common: commonest(t, r), Commonest: strings.TrimRight(t.Pick("class", "commonest"), " :"), Teach: teach(t, r)}
	for _, e := range r.Summary.Exercises {
		v.Heads = append(v.Heads, r.ExerciseName(e))
	}
	for _, p := range r.Summary.Pupils {
		row := rowView{Pupil: p, Name: r.PupilName(p.Name), Page: links[p.Name], All: r.Total(p)}
		for i, e := range r.Summary.Exercises {
			row.Cells = append(row.Cells, cellView{v.Heads[i], r.Cell(p, e)})
		}
		v.Rows = append(v.Rows, row)
	}
	for _, file := range r.Rejected {
		v.Rejected = append(v.Rejected, rejectedView{filepath.Base(file.Input), file.Text})
	}
	title := t.Say("marked.class", texts.Fill{"n": len(v.Rows)})
	return Page{t: t, name: title, set: func(d *typeset.Setter) { v.set(t, d) }, html: func() ([]byte, error) {
		return pages.Page{Texts: t, Title: title, Style: style}.Fill(classTemplate, v)
	}}
}

// names lists pupils: "Anna, Ben".
func names(r class.Report, pupils []string) string {
	var list []string
	for _, p := range pupils {
		list = append(list, r.PupilName(p))
	}
	return strings.Join(list, ", ")
}

func commonest(t *texts.Texts, r class.Report) []commonView {
	var list []commonView
	for _, c := range r.Summary.Commonest[:min(class.MostCommon, len(r.Summary.Commonest))] {
		list = append(list, commonView{Common: c, Kind: t.Pick("kind", string(c.Kind)), Who: names(r, c.Pupils), Of: len(r.Summary.Pupils)})
	}
	return list
}

// teach lists what most pupils got wrong, with the rule and what trains it, each
// skill once.
func teach(t *texts.Texts, r class.Report) []teachView {
	var list []teachView
	seen := map[string]bool{}
	for _, c := range r.Summary.Commonest {
		skill := skills[c.Rule]
		if seen[skill] || len(list) == mostTaught {
			continue
		}
		seen[skill] = true
		list = append(list, teachView{Rule: t.Pick("rule", string(c.Rule)), Practise: t.Pick("practise", skill), Who: names(r, c.Pupils)})
	}
	return list
}
