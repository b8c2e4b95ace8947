package marked

import (
	_ "embed" // pupil.html, class.html, marked.css
	"path/filepath"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/pages/typeset"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving/paper"
)

//go:embed pupil.html
var pupilTemplate string

//go:embed marked.css
var style string

// answerView is one answer on a pupil's page.
type answerView struct {
	marking.Result
	// Way says how the notes were to move, "" where the key does not tell.
	Way      string
	Figures  []pages.Figure
	Mistakes []mistakeView
	Practise []string
	All      bool // everything is right
}

// FileName is that of the answer, without its folders.
func (v answerView) FileName() string { return filepath.Base(v.File) }

// mistakeView is one mistake; Where says its place and kind, Rule is told once on a page,
// with the place worked aloud.
type mistakeView struct {
	marking.Mistake
	Number              int
	Where, Rule, Worked string
}

// Page is a page of marked answers, in whatever form it is written: the methods make
// it.
type Page struct {
	t    *texts.Texts
	html func() ([]byte, error)
	set  func(d *typeset.Setter)
	name string // its title
}

// HTML is the page for a browser.
func (p Page) HTML() ([]byte, error) { return p.html() }

// PDF is the page on paper.
func (p Page) PDF(size paper.Size) ([]byte, error) {
	d := typeset.New(typeset.Options{Paper: size, Title: p.name, Language: string(p.t.Language)})
	p.set(d)
	return d.PDF()
}

// pupilView is what stands on a pupil's page.
type pupilView struct {
	Name    string
	Pupil   class.Pupil
	Answers []answerView
}

// Pupil makes the page of one pupil.
func Pupil(t *texts.Texts, r class.Report, p class.Pupil) (Page, error) {
	v := pupilView{Name: r.PupilName(p.Name), Pupil: p}
	told := map[marking.Rule]bool{}
	for _, a := range r.Of(p) {
		one, err := view(t, r, a, told)
		if err != nil {
			return Page{}, err
		}
		v.Answers = append(v.Answers, one)
	}
	title := t.Say("marked.title", texts.Fill{"name": v.Name})
	return Page{t: t, name: title, html: func() ([]byte, error) { return v.html(t, title) }, set: func(d *typeset.Setter) { v.set(t, d) }}, nil
}

func (v pupilView) html(t *texts.Texts, title string) ([]byte, error) {
	page := pages.Page{Texts: t, Title: title, Style: style}
	for _, a := range v.Answers {
		page.AddFigures(a.Figures...)
	}
	return page.Fill(pupilTemplate, v)
}

// view lays out one answer.
func view(t *texts.Texts, r class.Report, a marking.Result, told map[marking.Rule]bool) (answerView, error) {
	v := answerView{Result: a, All: a.Error == "" && len(a.Mistakes) == 0}
	drawn := a.Drawn()
	for i, d := range drawn {
		if i == 0 && !d.Several {
			v.Way = way(t, d)
		}
		figures, err := draw(t, d)
		if err != nil {
			return v, err
		}
		v.Figures = append(v.Figures, figures...)
	}
	for i, m := range a.Mistakes {
		view := mistakeView{Mistake: m, Number: i + 1, Where: texts.UpperFirst(r.Where(m))}
		if !told[m.Rule] {
			view.Rule = t.Pick("rule", string(m.Rule))
			if len(drawn) == 1 {
				view.Worked = worked(t, drawn[0], i, m.Rule)
			}
			told[m.Rule] = true
		}
		v.Mistakes = append(v.Mistakes, view)
	}
	v.Practise = practise(t, a)
	return v, nil
}

// way says how the notes were to move.
func way(t *texts.Texts, d *marking.Drawn) string {
	i := d.Instrument
	if i == nil || !i.Transposes() {
		return ""
	}
	fill := texts.Fill{"instrument": t.InstrumentTitle(i), "off": t.Off(i.Interval()), "move": t.Moved(d.Moved)}
	if d.From == explain.Sounding {
		return t.Say("marked.way-write", fill)
	}
	return t.Say("marked.way-sound", fill)
}

// skills are what the rules train, by their texts.
var skills = map[marking.Rule]string{
	marking.RuleCopied: "moving", marking.RuleDirection: "moving", marking.RuleInterval: "moving", marking.RuleOctave: "moving", marking.RuleNote: "moving",
	marking.RuleSpelling: "letters", marking.RuleClef: "clefs",
	marking.RuleSignatureMissing: "signatures", marking.RuleSignatureUnmoved: "signatures", marking.RuleSignatureOpposite: "signatures",
	marking.RuleSignatureMode: "signatures", marking.RuleSignatureWrong: "signatures", marking.RuleSignatureSurplus: "signatures", marking.RuleSignatureChange: "signatures",
	marking.RuleAccidentalCopied: "accidentals", marking.RuleAccidentalMissing: "accidentals", marking.RuleAccidentalSurplus: "accidentals",
	marking.RuleAccidentalHolds: "accidentals", marking.RuleAccidentalWrong: "accidentals",
	marking.RuleRhythm: "copying", marking.RuleTie: "copying", marking.RuleRest: "copying", marking.RuleNotesMissing: "copying", marking.RuleBarsMissing: "copying",
	marking.RuleNotesExtra: "copying", marking.RuleBarsExtra: "copying", marking.RuleBarsSwapped: "copying", marking.RuleStavesMissing: "copying", marking.RuleChord: "chords",
}

// mostSkills bounds what a pupil is told to practise.
const mostSkills = 2

// practise says what to practise, by the weightiest mistakes.
func practise(t *texts.Texts, a marking.Result) []string {
	var list []string
	seen := map[string]bool{}
	for _, rule := range marking.Rules {
		skill := skills[rule]
		for _, m := range a.Mistakes {
			if m.Rule == rule && !seen[skill] && len(list) < mostSkills {
				seen[skill] = true
				list = append(list, t.Pick("practise", skill))
			}
		}
	}
	return list
}
