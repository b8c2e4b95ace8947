package exercise

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/cmd/internal/explain"
)

// The names of the fields by which an answer says what its question was. They
// stand in <miscellaneous>, so that the file is an ordinary score.
const (
	FieldSheet      = "deskpart-sheet"
	FieldExercise   = "deskpart-exercise"
	FieldInstrument = "deskpart-instrument"
	FieldFrom       = "deskpart-from"
	// FieldMoved is the steps and semitones from the question to the answer.
	FieldMoved = "deskpart-moved"
	// FieldGivenKey is the question's signature in fifths, "none" without one.
	FieldGivenKey = "deskpart-given-key"
	// FieldGivenClef is the question's clef by its sign, line and octave change.
	FieldGivenClef = "deskpart-given-clef"
	// FieldSignature is NoSignature where the answer is written without one.
	FieldSignature = "deskpart-signature"
	NoSignature    = "none"
	// FieldPrinted lists what stands on the answer staff already, and is not marked:
	// PrintedClef, PrintedKey.
	FieldPrinted = "deskpart-printed"
	PrintedClef  = "clef"
	PrintedKey   = "key"
)

// printed lists what stands on the answer staff already.
func (e *Exercise) printed(s Sheet) string {
	var list []string
	if !s.Settings.WithoutClefs {
		list = append(list, PrintedClef)
	}
	if !e.asksSignature() {
		list = append(list, PrintedKey)
	}
	return strings.Join(list, " ")
}

// asksSignature reports whether the learner is to write a signature: where it
// changes.
func (e *Exercise) asksSignature() bool { return !e.WithoutSignature && e.Moved.Fifths() != 0 }

// Question is the exercise as a score of its own.
func (e *Exercise) Question(s Sheet) ([]byte, error) {
	return explain.Sheet{Title: e.Title(), Part: e.Given, Name: e.partName(e.From), Sound: e.sound(e.From), Program: e.program(e.From), Fields: []explain.Field{
		{Name: FieldSheet, Value: s.Code()}, {Name: FieldExercise, Value: strconv.Itoa(e.Number)},
		{Name: FieldInstrument, Value: e.ID()}, {Name: FieldFrom, Value: string(e.From)},
	}}.Bytes()
}

// Key is the answer as a score of its own. It says what the question was, so that
// answers can be marked by it alone.
func (e *Exercise) Key(s Sheet) ([]byte, error) {
	to := e.From.Other()
	given := "none"
	if k, ok := explain.KeyOf(e.Given); ok {
		given = strconv.Itoa(k.Fifths)
	}
	clef, _ := explain.ClefOf(e.Given)
	var unsigned []explain.Field
	if e.WithoutSignature {
		unsigned = []explain.Field{{Name: FieldSignature, Value: NoSignature}}
	}
	return explain.Sheet{Title: e.Title() + ", answer", Part: e.Answer, Name: e.partName(to), Sound: e.sound(to), Program: e.program(to), Fields: append(unsigned, []explain.Field{
		{Name: FieldSheet, Value: s.Code()}, {Name: FieldExercise, Value: strconv.Itoa(e.Number)},
		{Name: FieldInstrument, Value: e.ID()}, {Name: FieldFrom, Value: string(e.From)},
		{Name: FieldMoved, Value: fmt.Sprintf("%d %d", e.Moved.Diatonic, e.Moved.Chromatic)},
		{Name: FieldGivenKey, Value: given},
		{Name: FieldPrinted, Value: e.printed(s)},
		{Name: FieldGivenClef, Value: fmt.Sprintf("%s%d %d", clef.Sign, clef.Line, clef.OctaveChange)},
	}...)}.Bytes()
}

// Title heads the exercise.
func (e *Exercise) Title() string { return fmt.Sprintf("Exercise %d", e.Number) }

func (e *Exercise) partName(side explain.Side) string {
	if side == explain.Sounding {
		return "Sounding pitch"
	}
	if e.Instrument == nil {
		return "Written pitch"
	}
	return e.Instrument.Name("en")
}

// sound and program are those of the instrument where it plays from the staff:
// the sounding staff is for the piano.
func (e *Exercise) sound(side explain.Side) string {
	if side == explain.Sounding {
		return "keyboard.piano"
	}
	return e.Instrument.Sound()
}

func (e *Exercise) program(side explain.Side) int {
	if side == explain.Sounding {
		return 1
	}
	return e.Instrument.MIDIProgram
}
