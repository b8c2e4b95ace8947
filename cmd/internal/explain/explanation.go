package explain

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// What a step is about, in the order in which an explanation goes.
const (
	AboutDirection  = "direction"
	AboutInterval   = "interval"
	AboutKey        = "key"
	AboutClef       = "clef"
	AboutOctave     = "octave"
	AboutNote       = "note"
	AboutAccidental = "accidental"
	AboutRange      = "range"
)

// Step is one thought of an explanation.
type Step struct {
	About string `json:"about"`
	// Note counts the notes from 1; 0 for a step that is about all of them.
	Note int    `json:"note,omitempty"`
	From string `json:"given,omitempty"`
	To   string `json:"answer,omitempty"`
	Text string `json:"text"`
}

// Explanation is a transposition worked aloud. Its fields are those of --json.
type Explanation struct {
	Instrument string `json:"instrument"`
	Name       string `json:"name"`
	From       Side   `json:"from"`
	// Interval is the move from the given notes to the answer, without its
	// direction: "perfect fifth"; Direction is up, down or none.
	Interval  string `json:"interval"`
	Direction string `json:"direction"`
	// Key and AnswerKey are in fifths, null where no key was given.
	Key           *int   `json:"key"`
	KeyName       string `json:"key_name,omitempty"`
	AnswerKey     *int   `json:"answer_key"`
	AnswerKeyName string `json:"answer_key_name,omitempty"`
	Respelled     bool   `json:"respelled"`
	Clef          string `json:"clef"`
	AnswerClef    string `json:"answer_clef"`
	// Notes and Answer are scientific pitch in ASCII.
	Notes  []string `json:"notes"`
	Answer []string `json:"answer"`
	Steps  []Step   `json:"steps"`

	// Solution is what was explained.
	Solution *Solution `json:"-"`
	t        *texts.Texts
	octaves  int   // by which what is given was moved from its score
	paths    []way // each note's way, ready for a page
}

// Explain works a task out, in the words of a language. The given music is a <part> on the task's side; it
// may be of any length, without any note, or without a key.
func Explain(t Task, given Passage, x *texts.Texts) (*Explanation, error) {
	solution, err := t.Solve(given.Part)
	if err != nil {
		return nil, err
	}
	e := &Explanation{
		t: x, octaves: given.Octaves, Instrument: t.ID(), Name: t.NameIn(x), From: t.From, Respelled: solution.Respelled, Solution: solution,
		Interval: solution.Moved.Name(), Direction: direction(solution.Moved), Notes: []string{}, Answer: []string{},
	}
	e.keys()
	givenClef, _ := ClefOf(solution.Given)
	answerClef, _ := ClefOf(solution.Answer)
	e.Clef, e.AnswerClef = givenClef.Name(), answerClef.Name()
	for _, p := range solution.Pairs {
		e.Notes = append(e.Notes, p.From.String())
		e.Answer = append(e.Answer, p.To.String())
	}
	e.explain()
	return e, nil
}

// keys fills in both keys where the music has one.
func (e *Explanation) keys() {
	given, said := KeyOf(e.Solution.Given)
	if !said {
		return
	}
	// The answer's mode is the given one's: a signature does not tell it.
	answer := given.Moved(e.Solution.Moved)
	e.Key, e.AnswerKey = &given.Fifths, &answer.Fifths
	e.KeyName, e.AnswerKeyName = e.t.Key(given), e.t.Key(answer)
}

// direction is up, down, or none where nothing moves.
func direction(i pitch.Interval) string {
	switch {
	case i == pitch.Interval{}:
		return "none"
	case i.IsDown():
		return "down"
	}
	return "up"
}

// explain takes the steps one after another.
func (e *Explanation) explain() {
	e.say(AboutDirection, e.directionText())
	e.say(AboutInterval, e.intervalText())
	if e.Key != nil {
		text := e.keyText()
		if len(e.fifthsLine()) > 0 {
			text += " " + e.fifthsText()
		}
		e.say(AboutKey, text)
	}
	e.say(AboutClef, e.clefText())
	e.say(AboutOctave, e.octaveText())
	e.explainNotes()
	e.explainAccidentals()
	if text := e.rangeText(); text != "" {
		e.say(AboutRange, text)
	}
}

func (e *Explanation) say(about, text string) {
	e.Steps = append(e.Steps, Step{About: about, Text: text})
}
