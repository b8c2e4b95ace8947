// Package lecture explains the topics that exercises train: why instruments transpose,
// clefs, intervals, signatures, a scale or a key for a mixed band, reading a score and
// reading at sight. Where package explain works one passage aloud, a lecture says the
// rule, shows it in notes and tables, and gives an example.
//
// [Make] makes a [Lecture] in one of the five languages; it is written as text, as JSON
// or, with its notes drawn, as a page.
package lecture

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// Question is what a lecture is to be about.
type Question struct {
	Topic exercise.Topic
	// Instrument is whom transposition and sight are shown on. Default: the horn in F
	// for its crooks, and the clarinet in B flat.
	Instrument *instruments.Instrument
	// Band are the players of concert-scale and band-key. Default: a usual small band.
	Band []*instruments.Instrument
	// Key is the concert key of concert-scale and band-key. Default: B flat major, and
	// the key that suits the band best.
	Key *pitch.Key
}

// Lecture is a topic explained. Its fields are those of --json.
type Lecture struct {
	Topic exercise.Topic `json:"topic"`
	Title string         `json:"title"`
	Steps []*Step        `json:"steps"`

	t *texts.Texts
}

// Step is one thought of a lecture.
type Step struct {
	About string   `json:"about"`
	Title string   `json:"title"`
	Text  []string `json:"text"`
	Table *Table   `json:"table,omitempty"`
	// Rows name the notes or keys that a page draws.
	Rows []Row `json:"rows,omitempty"`
	// Figures stand under the text, on a page alone.
	Figures []pages.Figure `json:"-"`

	language pitch.Language
}

// Row is a staff in words.
type Row struct {
	Name  string   `json:"name"`
	Notes []string `json:"notes"`
}

// Table is what a lecture lays out in columns.
type Table struct {
	Head []string   `json:"head"`
	Rows [][]string `json:"rows"`
}

// maker makes a lecture.
type maker struct {
	*Lecture
	Question
	catalogue *instruments.Catalogue
}

// Make explains a topic in a language.
func Make(catalogue *instruments.Catalogue, q Question, t *texts.Texts) (*Lecture, error) {
	m := &maker{&Lecture{Topic: q.Topic, t: t}, q, catalogue}
	if err := m.asked(); err != nil {
		return nil, err
	}
	m.Title = t.Pick("lecture-title", string(q.Topic))
	lectures := map[exercise.Topic]func() error{
		exercise.Transposition: m.transposition, exercise.ClefTopic: m.clefs, exercise.IntervalTopic: m.intervals, exercise.Signature: m.signatures,
		exercise.ConcertScale: m.concertScale, exercise.BandKey: m.bandKey, exercise.ScoreReading: m.scoreReading, exercise.Sight: m.sight,
	}
	return m.Lecture, lectures[q.Topic]()
}

// asked refuses what a topic is not about.
func (m *maker) asked() error {
	forOne := m.Question.Topic == exercise.Transposition || m.Question.Topic == exercise.Sight
	forBand := m.Question.Topic == exercise.ConcertScale || m.Question.Topic == exercise.BandKey
	switch {
	case m.Instrument != nil && !forOne:
		return fmt.Errorf("the topic %s is about no single instrument; leave it out", m.Question.Topic)
	case m.Key != nil && !forBand:
		return fmt.Errorf("the topic %s asks for no key; leave it out", m.Question.Topic)
	case len(m.Band) > 0 && !forBand:
		return fmt.Errorf("the topic %s is about no band; leave it out", m.Question.Topic)
	}
	return nil
}

// step adds a step.
func (m *maker) step(about, title string, text ...string) *Step {
	s := &Step{About: about, Title: texts.UpperFirst(title), Text: text, language: m.t.Language}
	m.Steps = append(m.Steps, s)
	return s
}

// example adds an exercise of the topic with its answer.
func (m *maker) example(level int) (*exercise.Exercise, error) {
	sheets, err := exercise.Make(m.catalogue, exercise.Settings{Topic: m.Question.Topic, Texts: m.t, From: explain.Sounding, Count: 1, Seed: 1, Level: level, Versions: 1})
	if err != nil {
		return nil, err
	}
	e := sheets[0].Exercises[0]
	figures, err := e.DrawAnswer(sheets[0], exercise.PageOptions{})
	if err != nil {
		return nil, err
	}
	s := m.step("example", m.t.Say("lecture.example", nil), e.Asks(m.t))
	s.Figures = figures
	m.name(s, e)
	return e, nil
}

// name names what is given in an example, and its answer.
func (m *maker) name(s *Step, e *exercise.Exercise) {
	switch m.Question.Topic {
	case exercise.ScoreReading: // a table of its own
	case exercise.Signature:
		given, answer := Row{Name: m.t.Say("lesson.given", nil)}, Row{Name: m.t.Say("lesson.answer", nil)}
		for _, k := range e.Band.Keys {
			given.Notes, answer.Notes = append(given.Notes, m.t.Key(k)), append(answer.Notes, m.t.Key(k.Moved(e.Interval())))
		}
		s.Rows = []Row{given, answer}
	default:
		var given, answer []pitch.Pitch
		for _, p := range e.Pairs {
			given, answer = append(given, p.From), append(answer, p.To)
		}
		s.Rows = []Row{m.row(m.t.Say("lesson.given", nil), given), m.row(m.t.Say("lesson.answer", nil), answer)}
	}
}

// row names notes.
func (m *maker) row(name string, pitches []pitch.Pitch) Row {
	r := Row{Name: name}
	for _, p := range pitches {
		r.Notes = append(r.Notes, m.t.Pitch(p))
	}
	return r
}

// WriteText writes the lecture for a terminal or a printer.
func (l *Lecture) WriteText(w io.Writer) error {
	var out bytes.Buffer
	out.WriteString(l.Title + "\n")
	for _, s := range l.Steps {
		fmt.Fprintf(&out, "\n%s\n", s.Title)
		for _, text := range s.Text {
			explain.WriteHanging(&out, "  ", text)
		}
		if s.Table != nil {
			s.Table.write(&out)
		}
		for _, r := range s.Rows {
			explain.WriteHanging(&out, "  "+r.Name+"  ", strings.Join(r.Notes, ", "))
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}

// write writes a table in columns.
func (t *Table) write(out *bytes.Buffer) {
	rows := append([][]string{t.Head}, t.Rows...)
	width := make([]int, len(t.Head))
	for _, row := range rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			line.WriteString("  " + cell + strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell)))
		}
		out.WriteString("  " + strings.TrimRight(line.String(), " ") + "\n")
	}
}
