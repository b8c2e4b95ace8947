package explain

import (
	_ "embed" // lesson.html, lesson.css, lesson.js
	"encoding/json"
	"strconv"

	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/transpose/pitch"
)

var (
	//go:embed lesson.html
	lessonTemplate string
	//go:embed lesson.css
	lessonStyle string
	//go:embed lesson.js
	lessonScript string
)

// ruleView is a step that holds for all notes.
type ruleView struct {
	Step
	Fifths []fifth
}

// wayView is one note's path.
type wayView struct {
	Number              int
	Given, Answer, Text string
}

// Page makes a lesson page of the explanation. The same explanation gives the
// same bytes.
func (e *Explanation) Page() ([]byte, error) {
	page := pages.Page{Texts: e.t, Title: e.Title(), Style: lessonStyle}
	view := map[string]any{"Title": e.Title(), "Tempo": e.tempo(), "Rule": e.ruleViews(), "Ways": e.wayViews(), "Signs": e.signs()}
	if e.Key != nil {
		view["Becomes"] = e.becomes()
	}
	if len(e.Notes) > 0 {
		figure, err := e.draw()
		if err != nil {
			return nil, err
		}
		view["Figure"] = figure.HTML()
		page.Drawings = figure.Drawings()
		if page.Script, err = e.script(); err != nil {
			return nil, err
		}
	}
	return page.Fill(lessonTemplate, view)
}

// draw puts the staff that sounds over the staff that is read.
func (e *Explanation) draw() (pages.Figure, error) {
	names := map[Side]string{Sounding: e.t.Say("lesson.sounds", nil), Written: e.t.Say("lesson.written", nil)}
	if e.Solution.Instrument == nil {
		names = map[Side]string{e.From: e.t.Say("lesson.given", nil), e.From.Other(): e.t.Say("lesson.answer", nil)}
	}
	given, err := notate.Part(e.Solution.Given, notate.Options{Name: names[e.From]})
	if err != nil {
		return pages.Figure{}, err
	}
	answer, err := notate.Part(e.Solution.Answer, notate.Options{Name: names[e.From.Other()]})
	if err != nil {
		return pages.Figure{}, err
	}
	e.nameNotes(given, func(p Pair) pitch.Pitch { return p.From })
	e.nameNotes(answer, func(p Pair) pitch.Pitch { return p.To })
	both, err := engraving.Stack(given, answer)
	if err != nil {
		return pages.Figure{}, err
	}
	both.Groups = []engraving.Group{{From: 0, To: 1, Symbol: engraving.Bracket, Barlines: true}}
	return pages.Draw(both, engraving.Options{Width: 96, Ragged: e.unmeasured(), Unnumbered: e.unmeasured(), Language: e.t.Language})
}

// unmeasured reports whether the music is a row of notes without rhythm.
func (e *Explanation) unmeasured() bool {
	return e.Solution.Given.FindElement("measure/attributes/time/senza-misura") != nil
}

// nameNotes writes each note's name under it, so that the path is read downwards.
func (e *Explanation) nameNotes(m *engraving.Music, side func(Pair) pitch.Pitch) {
	for _, p := range e.Solution.Pairs {
		measure := &m.Staves[0].Measures[p.Bar]
		if p.Chord || p.TieStop {
			continue
		}
		measure.Marks = append(measure.Marks, engraving.Mark{Onset: p.Onset, Kind: engraving.MarkNote, Text: e.t.Note(side(p))})
	}
}

// ruleViews are the steps that hold for all notes; the line of fifths is drawn.
func (e *Explanation) ruleViews() []ruleView {
	var list []ruleView
	for _, s := range e.Steps {
		switch s.About {
		case AboutNote, AboutAccidental:
		case AboutKey:
			s.Text = e.keyText()
			list = append(list, ruleView{s, e.fifthsLine()})
		default:
			list = append(list, ruleView{Step: s})
		}
	}
	return list
}

func (e *Explanation) wayViews() []wayView {
	var list []wayView
	for i, w := range e.paths {
		list = append(list, wayView{i + 1, e.t.Pitch(w.pair.From), e.t.Pitch(w.pair.To), e.wayText(w)})
	}
	return list
}

// signs are the steps about accidentals.
func (e *Explanation) signs() []Step {
	var list []Step
	for _, s := range e.Steps {
		if s.About == AboutAccidental {
			list = append(list, s)
		}
	}
	return list
}

// HeardNote is a note for the script: where it stands in time, both pitches as
// MIDI numbers, and its bar.
type HeardNote struct {
	Start    float64 `json:"start"`
	Length   float64 `json:"length"`
	Written  float64 `json:"written"`
	Sounding float64 `json:"sounding"`
	Bar      int     `json:"bar"`
	Chord    bool    `json:"chord"`
}

// heardMetre is a bar for the count-in, in quarter notes.
type heardMetre struct {
	Bar    float64 `json:"bar"`
	Beat   float64 `json:"beat"`
	Upbeat float64 `json:"upbeat"`
}

// script gives the script its notes, in quarter notes; unmeasured notes are a
// quarter long.
func (e *Explanation) script() (string, error) {
	data, err := json.Marshal(map[string]any{
		"notes": e.Heard(), "given": e.From, "metre": e.metre(),
		"says": map[string]string{
			"written": e.t.Say("lesson.playing-written", nil), "sounding": e.t.Say("lesson.playing-sounding", nil),
			"both": e.t.Say("lesson.playing-both", nil), "tempo": e.t.Say("lesson.tempo", texts.Fill{"n": "#"}),
		},
	})
	return "const lesson = " + string(data) + ";\n" + lessonScript, err
}

// Heard are the notes as they are played, in quarter notes; notes without rhythm are a
// quarter long, and one that is tied to the note before has no length.
func (e *Explanation) Heard() []HeardNote {
	var notes []HeardNote
	for i, p := range e.Solution.Pairs {
		n := HeardNote{Start: p.Start.Float(), Length: p.Duration.Float(), Bar: p.Bar + 1, Chord: p.Chord}
		if e.unmeasured() {
			n.Start, n.Length = float64(i), 1
		}
		n.Written, n.Sounding = midi(p.To), midi(p.From)
		if e.From == Written {
			n.Written, n.Sounding = midi(p.From), midi(p.To)
		}
		if p.TieStop {
			lengthen(notes, n, p.Duration)
			n.Length = 0
		}
		notes = append(notes, n)
	}
	return notes
}

// lengthen adds the end of a tie to the note that sounds.
func lengthen(notes []HeardNote, end HeardNote, by musicxml.Fraction) {
	for i := len(notes) - 1; i >= 0; i-- {
		if n := &notes[i]; n.Written == end.Written && n.Length > 0 {
			n.Length += by.Float()
			return
		}
	}
}

func midi(p pitch.Pitch) float64 { return float64(p.MIDI()) / float64(pitch.Semitone) }

// metre is the bar that a count-in counts: four quarter notes where there is none.
func (e *Explanation) metre() heardMetre {
	m := heardMetre{Bar: 4, Beat: 1}
	beats, _ := strconv.Atoi(TextAt(e.Solution.Given, "measure/attributes/time/beats"))
	unit, _ := strconv.Atoi(TextAt(e.Solution.Given, "measure/attributes/time/beat-type"))
	if beats < 1 || unit < 1 || e.unmeasured() {
		return m
	}
	m.Beat = 4 / float64(unit)
	m.Bar = float64(beats) * m.Beat
	if beats > 3 && beats%3 == 0 {
		m.Beat *= 3
	}
	if first := musicxml.Children(e.Solution.Given, "measure")[0]; musicxml.Attr(first, "implicit") == "yes" {
		if timeline, err := musicxml.NewTimeline(e.Solution.Given); err == nil {
			m.Upbeat = timeline.Measures[0].Length.Float()
		}
	}
	return m
}

// becomes says what the key becomes.
func (e *Explanation) becomes() string {
	return texts.UpperFirst(e.t.Say("explain.becomes", texts.Fill{"from": e.KeyName, "to": e.AnswerKeyName}))
}
