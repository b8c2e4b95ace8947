package texts

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// Listener is who is told: what to do is said in the words of their tool.
type Listener int

// The listeners.
const (
	AtCommand Listener = iota // has flags to give
	AtPage                    // has a page and no command line
)

// Told is a warning or a refusal as people read it in one language.
type Told struct {
	Where string `json:"where"` // "part “Horn in F” (P7), bar 12, beat 3"; "" is the whole
	Says  string `json:"says"`  // what is wrong
	Do    string `json:"do"`    // what to do about it; "" where nothing is known
	// Exact are the words that name notes, numbers and names, which are English; "" where
	// Says are these words.
	Exact string `json:"exact"`
	Line  string `json:"line"` // the file of a refusal, where, what is wrong and what to do in one line
}

// Warning says a warning. In English its own words are said, in another language those
// of its code.
func (t *Texts) Warning(w musicxml.Warning, to Listener) Told {
	return t.tell(musicxml.Error{PartName: w.SourceName, PartID: w.SourcePart, Measure: w.Measure, Beat: w.Beat, Code: w.Code, Err: errors.New(w.Text)}, to)
}

// Refusal says an error. One without a code is said to have kept something from being
// done, with its own words behind it.
func (t *Texts) Refusal(err error, to Listener) Told {
	if problem, ok := errors.AsType[*Problem](err); ok {
		return t.problem(problem)
	}
	var known *musicxml.Error
	if !errors.As(err, &known) || known.Err == nil {
		return t.unknown(err)
	}
	return t.tell(*known, to)
}

func (t *Texts) tell(e musicxml.Error, to Listener) Told {
	n, registered := notice.Lookup(e.Code)
	if !registered {
		told := t.unknown(e.Err)
		told.Where = t.Place(&e)
		return t.line(told, e.File)
	}
	told := Told{Where: t.Place(&e), Says: e.Err.Error(), Do: t.remedy(n, e.Hint, to)}
	if t.Language != pitch.English {
		told.Says, told.Exact = t.translated(n, told.Says, e.Hint)
	}
	return t.line(told, e.File)
}

// translated says English words in the language, exactly where the tables have them; else
// what their code means, with the words themselves as exact.
func (t *Texts) translated(n notice.Notice, english, hint string) (says, exact string) {
	if says = t.detail(n.Code, english); says != "" {
		return says, ""
	}
	says = t.notices.In(t.Language, n.Key(), nil)
	switch {
	case english == n.Meaning:
		return says, ""
	case hint != "":
		english += "; " + hint
	}
	return says, english
}

// remedy is what to do about it: what the error itself says, or what is usual.
func (t *Texts) remedy(n notice.Notice, hint string, to Listener) string {
	switch {
	case t.Language == pitch.English && hint != "" && (to == AtCommand || !strings.Contains(hint, "--")):
		return hint
	case to == AtPage && t.notices.Has(n.PageKey()):
		return t.notices.In(t.Language, n.PageKey(), nil)
	}
	return t.notices.In(t.Language, n.RemedyKey(), nil)
}

// unknown says what has no code.
func (t *Texts) unknown(err error) Told {
	if t.Language == pitch.English {
		return t.line(Told{Says: err.Error()})
	}
	return t.line(Told{Says: t.Say("told.not-done", nil), Exact: err.Error()})
}

// Line is a warning or a refusal in one line of a command's messages: in English, which
// nil stands for, as it says itself, in another language as its code is said there, with
// the exact English words in brackets.
func Line(said *Texts, err error) string {
	if said == nil {
		return err.Error()
	}
	told := said.Refusal(err, AtCommand)
	if told.Exact == "" {
		return told.Line
	}
	return told.Line + " [" + told.Exact + "]"
}

// Meaning says what a code means, and Remedy what to do about it.
func (t *Texts) Meaning(n notice.Notice) string { return t.notices.In(t.Language, n.Key(), nil) }

// Remedy says what to do about a code.
func (t *Texts) Remedy(n notice.Notice, to Listener) string { return t.remedy(n, "", to) }

// line puts the pieces together, the file's name in front where there is one.
func (t *Texts) line(told Told, file ...string) Told {
	told.Line = told.Says
	if told.Do != "" {
		told.Line = t.Then(told.Says, told.Do)
	}
	for _, where := range []string{told.Where, strings.Join(file, "")} {
		if where != "" {
			told.Line = t.Say("told.at", Fill{"where": where, "says": told.Line})
		}
	}
	return told
}

// Then puts sentences one behind another, with semicolons as the language sets them.
func (t *Texts) Then(sentences ...string) string {
	all := sentences[0]
	for _, next := range sentences[1:] {
		all = t.Say("told.then", Fill{"says": all, "do": next})
	}
	return all
}

// Place names the part, bar, beat and line of an error.
func (t *Texts) Place(e *musicxml.Error) string {
	var places []string
	switch {
	case e.PartName != "" && e.PartID != "":
		places = append(places, t.Say("told.part", Fill{"name": e.PartName, "id": e.PartID}))
	case e.PartName != "" || e.PartID != "":
		places = append(places, t.Say("told.part-named", Fill{"name": e.PartName + e.PartID}))
	}
	if e.Measure != "" {
		places = append(places, t.Bars([]string{e.Measure}))
	}
	if e.Beat != "" {
		places = append(places, t.beat(e.Beat))
	}
	if e.Line > 0 {
		places = append(places, t.Say("told.in-line", Fill{"n": e.Line}))
	}
	return strings.Join(places, ", ")
}

// beat says a beat that is named by a number from 1 on with at most three decimals, as
// musicxml.Measure.Beat names it.
func (t *Texts) beat(name string) string {
	at, err := strconv.ParseFloat(name, 64)
	if err != nil || at < 1 || at > math.MaxInt32 {
		return name
	}
	const parts = 12 // halves, thirds and quarters of a beat
	num := math.Round((at - 1) * parts)
	if math.Abs(num/parts-(at-1)) > 0.001 {
		num = math.Floor(at-1)*parts + 1 // some other part of it: shortly after
	}
	return t.Beat(int64(num), parts, words.Metre{})
}

// Problem is an error that is said in every language.
type Problem struct {
	Say func(*Texts) string
	Err error // what is behind it, in English, which names it exactly. Default: nothing
}

// Error says it in English.
func (p *Problem) Error() string {
	if p.Err != nil {
		return p.Err.Error()
	}
	english, err := In(pitch.English)
	if err != nil {
		return err.Error()
	}
	return p.Say(english)
}

// Unwrap returns what is behind it.
func (p *Problem) Unwrap() error { return p.Err }

// problem says a problem.
func (t *Texts) problem(p *Problem) Told {
	switch {
	case p.Err == nil:
		return t.line(Told{Says: p.Say(t)})
	case t.Language == pitch.English:
		return t.line(Told{Says: p.Err.Error()})
	}
	return t.line(Told{Says: p.Say(t), Exact: p.Err.Error()})
}
