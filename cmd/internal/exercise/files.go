package exercise

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
)

// The names of the fields by which an answer says what its question was. They
// stand in <miscellaneous>, so that the file is an ordinary score. Those of a staff
// beside the first have "-2" and so on behind them.
const (
	FieldSheet      = "deskpart-sheet"
	FieldExercise   = "deskpart-exercise"
	FieldTopic      = "deskpart-topic"
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
	// FieldOctaves is AnyOctave where a player's octave is right whatever it is.
	FieldOctaves = "deskpart-octaves"
	AnyOctave    = "any"
)

// FieldOf is a field's name for a staff, counted from 1.
func FieldOf(name string, staff int) string {
	if staff == 1 {
		return name
	}
	return name + "-" + strconv.Itoa(staff)
}

// clefIsAsked reports whether the learner is to write the clef.
func (e *Exercise) clefIsAsked(s Sheet) bool { return s.Settings.WithoutClefs || e.Topic == Sight }

// printed lists what stands on an answer staff already.
func (e *Exercise) printed(s Sheet, staff *explain.Solution) string {
	var list []string
	if !e.clefIsAsked(s) {
		list = append(list, PrintedClef)
	}
	if !e.asksSignature(staff) {
		list = append(list, PrintedKey)
	}
	return strings.Join(list, " ")
}

// asksSignature reports whether the learner is to write a signature on a staff: where
// it changes, and where signatures are what is trained.
func (e *Exercise) asksSignature(staff *explain.Solution) bool {
	switch e.Topic {
	case Signature, ConcertScale, BandKey:
		return true
	}
	return !staff.WithoutSignature && staff.Moved.Fifths() != 0
}

// Question is the exercise as a score of its own.
func (e *Exercise) Question(s Sheet) ([]byte, error) {
	t := s.texts()
	sheet := explain.Sheet{Title: t.Say("exercise.title", texts.Fill{"n": e.Number}), Fields: []explain.Field{
		{Name: FieldSheet, Value: s.Code()}, {Name: FieldExercise, Value: strconv.Itoa(e.Number)}, {Name: FieldTopic, Value: string(e.Topic)},
		{Name: FieldInstrument, Value: e.ID()}, {Name: FieldFrom, Value: string(e.From)},
	}}
	for i, part := range e.asked() {
		staff := e.staffName(t, i, e.From)
		staff.Part = part
		sheet.Staves = append(sheet.Staves, staff)
	}
	return sheet.Bytes()
}

// asked are the staves of the question as music: what is given, and empty staves for
// what is to be written where that is all there is.
func (e *Exercise) asked() []*etree.Element {
	switch {
	case e.Topic == Signature && !e.Band.Shown:
		part := empty(e.Given)
		for _, k := range part.FindElements("measure/attributes/key") {
			k.Parent().RemoveChild(k)
		}
		return []*etree.Element{part}
	case e.Topic.forBand():
		list := []*etree.Element{e.Given}
		for _, s := range e.Staves()[1:] {
			list = append(list, empty(s.Given))
		}
		return list
	}
	var list []*etree.Element
	for _, s := range e.Staves() {
		part := s.Given
		if s.Instrument == nil {
			part = part.Copy()
			explain.DropTransposition(part)
		}
		list = append(list, part)
	}
	return list
}

// Key is the answer as a score of its own. It says what the question was, so that
// answers can be marked by it alone.
func (e *Exercise) Key(s Sheet) ([]byte, error) {
	t := s.texts()
	sheet := explain.Sheet{Title: t.Say("exercise.title-answer", texts.Fill{"n": e.Number}), Fields: []explain.Field{
		{Name: FieldSheet, Value: s.Code()}, {Name: FieldExercise, Value: strconv.Itoa(e.Number)}, {Name: FieldTopic, Value: string(e.Topic)},
	}}
	for i, solution := range e.Staves() {
		sheet.Fields = append(sheet.Fields, e.fields(s, i, solution)...)
		staff := e.staffName(t, i, solution.From.Other())
		staff.Part = solution.Answer
		if solution.Instrument == nil {
			staff.Part = staff.Part.Copy()
			explain.DropTransposition(staff.Part)
		}
		sheet.Staves = append(sheet.Staves, staff)
	}
	return sheet.Bytes()
}

// fields are those of one staff.
func (e *Exercise) fields(s Sheet, i int, staff *explain.Solution) []explain.Field {
	field := func(name, value string) explain.Field { return explain.Field{Name: FieldOf(name, i+1), Value: value} }
	list := []explain.Field{field(FieldInstrument, staff.ID()), field(FieldFrom, string(staff.From))}
	if staff.WithoutSignature {
		list = append(list, field(FieldSignature, NoSignature))
	}
	if e.Topic.forBand() || e.Topic == Signature {
		list = append(list, field(FieldOctaves, AnyOctave))
	}
	if e.showsGiven(i) {
		given := "none"
		if k, ok := explain.KeyOf(staff.Given); ok {
			given = strconv.Itoa(k.Fifths)
		}
		clef, _ := explain.ClefOf(staff.Given)
		list = append(list, field(FieldMoved, fmt.Sprintf("%d %d", staff.Moved.Diatonic, staff.Moved.Chromatic)), field(FieldGivenKey, given),
			field(FieldGivenClef, fmt.Sprintf("%s%d %d", clef.Sign, clef.Line, clef.OctaveChange)))
	}
	return append(list, field(FieldPrinted, e.printed(s, staff)))
}

// showsGiven reports whether the question shows notes for a staff.
func (e *Exercise) showsGiven(i int) bool {
	switch e.Topic {
	case Signature:
		return e.Band.Shown
	case BandKey:
		return i < len(e.Others) // the last staff is for the key that suits best
	}
	return true
}

// staffName is what a staff is called, and who plays it: the piano what sounds.
func (e *Exercise) staffName(t *texts.Texts, i int, side explain.Side) explain.SheetStaff {
	player := e.Staves()[i].Instrument
	piano := explain.SheetStaff{Name: t.Say("exercise.staff-sounding", nil), Sound: "keyboard.piano", Program: 1}
	switch {
	case e.Topic == BandKey && i == len(e.Others):
		piano.Name = t.Say("exercise.best-key-staff", nil)
	case player == nil:
		piano.Name = t.Say("exercise.staff-written", nil)
	case side == explain.Written:
		return explain.SheetStaff{Name: t.InstrumentTitle(player), Sound: player.Sound(), Program: player.MIDIProgram}
	case e.named():
		piano.Name = t.InstrumentTitle(player)
	}
	return piano
}

// texts are the language of a sheet.
func (s Sheet) texts() *texts.Texts { return s.Settings.Texts }
