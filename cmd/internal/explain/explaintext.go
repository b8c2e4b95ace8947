package explain

import (
	"slices"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// middleC is written C4.
var middleC = pitch.Pitch{Step: pitch.C, Octave: 4}

// name is what the instrument is called, or the interval.
func (e *Explanation) name() string { return e.Solution.Task.NameIn(e.t) }

// NameIn is what the task is called in a language: the instrument, with its notation
// where it has several, or the interval.
func (t Task) NameIn(x *texts.Texts) string {
	if t.Instrument == nil {
		return x.Moved(t.Plain)
	}
	return x.InstrumentTitle(t.Instrument)
}

// Title heads an explanation.
func (e *Explanation) Title() string {
	switch fill := (texts.Fill{"name": e.name()}); {
	case e.Solution.Instrument == nil:
		return texts.UpperFirst(e.name())
	case e.From == Sounding:
		return e.t.Say("explain.title-written", fill)
	default:
		return e.t.Say("explain.title-sounding", fill)
	}
}

func (e *Explanation) directionText() string {
	task := e.Solution.Task
	if task.Instrument == nil {
		return e.plainDirection()
	}
	by := task.Transposition().Interval()
	if by == (pitch.Interval{}) {
		return task.Reads(e.t)
	}
	return task.Reads(e.t) + " " + e.whyThatWay(by)
}

// Reads says what the instrument's written C sounds.
func (t Task) Reads(x *texts.Texts) string {
	by := t.Transposition().Interval()
	if by == (pitch.Interval{}) {
		return x.Say("explain.as-written", texts.Fill{"instrument": t.NameIn(x)})
	}
	return x.Say("explain.reads-c", texts.Fill{"instrument": t.NameIn(x), "c": x.Pitch(middleC), "heard": x.Pitch(by.Apply(middleC)), "off": x.Off(by)})
}

// whyThatWay says why the notes go up or down.
func (e *Explanation) whyThatWay(by pitch.Interval) string {
	switch lower := direction(by) == "down"; {
	case e.From == Sounding && lower:
		return e.t.Say("explain.page-higher", nil)
	case e.From == Sounding:
		return e.t.Say("explain.page-lower", nil)
	case lower:
		return e.t.Say("explain.sound-lower", nil)
	}
	return e.t.Say("explain.sound-higher", nil)
}

func (e *Explanation) plainDirection() string {
	switch back := e.From == Sounding; {
	case e.Direction == "none":
		return e.t.Say("explain.plain-none", nil)
	case back && e.Direction == "up":
		return e.t.Say("explain.back-up", nil)
	case back:
		return e.t.Say("explain.back-down", nil)
	case e.Direction == "up":
		return e.t.Say("explain.plain-up", nil)
	}
	return e.t.Say("explain.plain-down", nil)
}

func (e *Explanation) intervalText() string {
	moved := e.Solution.Moved
	if e.Direction == "none" {
		return e.t.Say("explain.no-interval", nil)
	}
	text := e.moveText(texts.Fill{"move": e.t.Moved(moved), "n": pitch.Abs(moved.Diatonic), "m": pitch.Abs(moved.Chromatic)})
	if rest, octaves := withinOctave(moved); octaves > 0 && rest != (pitch.Interval{}) {
		text += " " + e.t.Say("explain.compound", texts.Fill{"octaves": e.t.Interval(pitch.Octaves(octaves)), "rest": e.t.Interval(rest)})
	}
	if e.Respelled {
		text += " " + e.t.Say("explain.interval-respelled", texts.Fill{"interval": e.t.Interval(e.Solution.Interval())})
	}
	return text
}

func (e *Explanation) moveText(fill texts.Fill) string {
	switch {
	case e.Solution.Instrument == nil:
		return e.t.Say("explain.interval-plain", fill)
	case e.From == Sounding:
		return e.t.Say("explain.interval-written", fill)
	}
	return e.t.Say("explain.interval-sounding", fill)
}

// withinOctave parts whole octaves from an interval.
func withinOctave(i pitch.Interval) (rest pitch.Interval, octaves int) {
	if i.Diatonic < 0 {
		rest, octaves = withinOctave(i.Negate())
		return rest.Negate(), octaves
	}
	octaves = i.Diatonic / 7
	return i.Sub(pitch.Octaves(octaves)), octaves
}

// spell says a signature with its notes: "3 sharps (F♯ C♯ G♯)".
func spell(t *texts.Texts, fifths int) string {
	if fifths == 0 {
		return t.Signature(0)
	}
	return t.Say("explain.signature-with-notes", texts.Fill{"signature": t.Signature(fifths), "notes": t.SignatureNotes(fifths)})
}

func (e *Explanation) keyText() string {
	by := e.Solution.Moved.Fifths()
	from, _ := KeyOf(e.Solution.Given)
	to := from.Moved(e.Solution.Moved)
	stays := texts.Fill{"key": e.t.Key(from), "signature": spell(e.t, from.Fifths)}
	switch {
	case e.Direction == "none":
		return e.t.Say("explain.key-stays", stays)
	case by == 0:
		return e.t.Say("explain.key-octaves", stays)
	}
	text := e.keyMoves(by, from, to)
	if e.Solution.WithoutSignature && e.From == Sounding {
		text += " " + e.t.Say("explain.key-unsigned", nil)
	}
	return text
}

// keyMoves says where the key goes on the line of fifths, and by its twin.
func (e *Explanation) keyMoves(by int, from, to pitch.Key) string {
	if e.Respelled {
		exact := from.Moved(e.Solution.Interval())
		return e.t.Say("explain.key-twin", texts.Fill{"from": e.t.Key(from), "fromsign": spell(e.t, from.Fifths), "exact": e.t.Key(exact), "exactsign": e.t.Signature(exact.Fifths),
			"limit": e.Solution.limit(e.From.Other()), "to": e.t.Key(to), "tosign": spell(e.t, to.Fifths), "interval": e.t.Interval(e.Solution.Moved)})
	}
	fill := texts.Fill{"move": e.t.Moved(e.Solution.Moved), "n": pitch.Abs(by), "from": e.t.Key(from), "fromsign": spell(e.t, from.Fifths),
		"to": e.t.Key(to), "tosign": spell(e.t, to.Fifths)}
	if by > 0 {
		return e.t.Say("explain.key-sharps", fill)
	}
	return e.t.Say("explain.key-flats", fill)
}

// fifth is a place on the line of fifths between two keys.
type fifth struct {
	Name          string
	Given, Answer bool
}

// fifthsLine is the stretch of the line of fifths that the move covers, with a place
// on either side; none where nothing moves on it.
func (e *Explanation) fifthsLine() []fifth {
	if e.Key == nil || e.Solution.Moved.Fifths() == 0 {
		return nil
	}
	from, to := *e.Key, *e.AnswerKey
	var line []fifth
	for place := min(from, to) - 1; place <= max(from, to)+1; place++ {
		line = append(line, fifth{e.t.Note(words.OnLineOfFifths(place)), place == from, place == to})
	}
	return line
}

// fifthsText draws the line for a terminal, the two keys in brackets.
func (e *Explanation) fifthsText() string {
	var names []string
	for _, f := range e.fifthsLine() {
		if f.Given || f.Answer {
			f.Name = "[" + f.Name + "]"
		}
		names = append(names, f.Name)
	}
	return e.t.Say("explain.line-of-fifths", texts.Fill{"line": strings.Join(names, " ")})
}

func (e *Explanation) clefText() string {
	given, _ := e.t.Clef(e.Clef)
	answer, _ := e.t.Clef(e.AnswerClef)
	changes := texts.Fill{"from": given, "to": answer}
	switch {
	case e.Clef == e.AnswerClef:
		return e.t.Say("explain.clef-stays", texts.Fill{"clef": answer})
	case e.From == Sounding:
		return e.t.Say("explain.clef-reads", changes)
	}
	return e.t.Say("explain.clef-holds", changes)
}

func (e *Explanation) octaveText() string {
	by := e.Solution.Task.Transposition().Interval()
	check := texts.Fill{"c": e.t.Pitch(middleC), "heard": e.t.Pitch(by.Apply(middleC))}
	text := e.t.Say("explain.octave-check", check)
	if e.Solution.Instrument == nil {
		by = e.Solution.Moved
		check["heard"] = e.t.Pitch(by.Apply(middleC))
		text = e.t.Say("explain.octave-check-plain", check)
	}
	switch rest, octaves := withinOctave(by); {
	case octaves > 0 && rest == (pitch.Interval{}):
		text += " " + e.t.Say("explain.octave-only", nil)
	case octaves > 0:
		text += " " + e.t.Say("explain.octave-on-top", texts.Fill{"octaves": e.t.Interval(pitch.Octaves(octaves)), "rest": e.t.Interval(rest)})
	}
	text += " " + e.t.Say("explain.octave-number", texts.Fill{"c": e.t.Pitch(middleC)})
	if e.octaves != 0 {
		text += " " + e.t.Say("exercise.octave-of-score", texts.Fill{"off": e.t.Off(pitch.Octaves(-e.octaves))})
	}
	return text
}

// rangeText says which answers lie outside the instrument's range.
func (e *Explanation) rangeText() string {
	i := e.Solution.Instrument
	if i == nil {
		return ""
	}
	r, ok := i.Range(instruments.Professional)
	if !ok {
		return ""
	}
	var outside []string
	for _, p := range e.Solution.Pairs {
		written := p.To
		if e.From == Written {
			written = p.From
		}
		n, _ := written.MIDI().Whole()
		if name := e.t.Pitch(written); !r.Written.Contains(n) && !slices.Contains(outside, name) {
			outside = append(outside, name)
		}
	}
	if len(outside) == 0 {
		return ""
	}
	return e.t.Say("explain.outside", texts.Fill{"notes": strings.Join(outside, ", "), "low": e.t.Pitch(r.Written.Low), "high": e.t.Pitch(r.Written.High)})
}
