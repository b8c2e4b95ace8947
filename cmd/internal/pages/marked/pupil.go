package marked

import (
	"bytes"
	_ "embed" // pupil.html, class.html, marked.css
	"html/template"
	"unicode"
	"unicode/utf8"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving"
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
	Figures  []template.HTML
	Mistakes []mistakeView
	Practise []string
	All      bool // everything is right
}

// mistakeView is one mistake; Where says its place and kind, Rule is told once on a page.
type mistakeView struct {
	marking.Mistake
	Number      int
	Where, Rule string
}

// begin writes a text as the beginning of a line.
func begin(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// Pupil makes the page of one pupil.
func Pupil(t *texts.Texts, r marking.Report, p marking.Pupil) ([]byte, error) {
	var answers []answerView
	var drawings []*engraving.Drawing
	told := map[marking.Rule]bool{}
	for _, a := range r.Of(p) {
		v, drawn, err := view(t, r, a, told)
		if err != nil {
			return nil, err
		}
		answers, drawings = append(answers, v), append(drawings, drawn...)
	}
	name := r.PupilName(p.Name)
	body, err := fill(t, "pupil", pupilTemplate, map[string]any{"Name": name, "Pupil": p, "Answers": answers})
	if err != nil {
		return nil, err
	}
	return pages.Page{Texts: t, Title: t.Say("marked.title", texts.Fill{"name": name}), Style: style, Drawings: drawings, Body: body}.Bytes()
}

func fill(t *texts.Texts, name, content string, data any) (string, error) {
	parsed, err := pages.Template(t, name, content)
	if err != nil {
		return "", err
	}
	var out bytes.Buffer
	err = parsed.Execute(&out, data)
	return out.String(), err
}

// view lays out one answer.
func view(t *texts.Texts, r marking.Report, a marking.Result, told map[marking.Rule]bool) (answerView, []*engraving.Drawing, error) {
	v := answerView{Result: a, All: a.Error == "" && len(a.Mistakes) == 0}
	var drawings []*engraving.Drawing
	for i, d := range a.Drawn() {
		if i == 0 && !d.Several {
			v.Way = way(t, d)
		}
		figures, err := draw(t, d)
		if err != nil {
			return v, nil, err
		}
		for _, f := range figures {
			v.Figures = append(v.Figures, template.HTML(f.HTML())) // drawn by our own engraver
			drawings = append(drawings, f.Drawings()...)
		}
	}
	for i, m := range a.Mistakes {
		view := mistakeView{Mistake: m, Number: i + 1, Where: begin(r.Where(m))}
		if !told[m.Rule] {
			view.Rule = t.Pick("rule", string(m.Rule))
			told[m.Rule] = true
		}
		v.Mistakes = append(v.Mistakes, view)
	}
	v.Practise = practise(t, a)
	return v, drawings, nil
}

// way says how the notes were to move.
func way(t *texts.Texts, d *marking.Drawn) string {
	i := d.Instrument
	if i == nil || !i.Transposes() {
		return ""
	}
	name := t.InstrumentTitle(i)
	off := t.Off(i.Interval())
	if d.From == explain.Sounding {
		return t.Say("marked.way-write", texts.Fill{"instrument": name, "off": off, "move": t.Moved(d.Moved)})
	}
	return t.Say("marked.way-sound", texts.Fill{"instrument": name, "off": off, "move": t.Moved(d.Moved)})
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
	marking.RuleNotesExtra: "copying", marking.RuleBarsExtra: "copying", marking.RuleStavesMissing: "copying", marking.RuleChord: "chords",
}

// Skill is what a rule trains, "" for an unknown one.
func Skill(rule marking.Rule) string { return skills[rule] }

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
