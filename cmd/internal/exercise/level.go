package exercise

import (
	"fmt"
	"slices"

	"deskpart/instruments"
)

// Shown is how much of the move a question tells.
type Shown int

// What a question tells.
const (
	ShowsInterval  Shown = iota // interval and direction
	ShowsDirection              // the direction alone
	ShowsNothing                // the learner knows the instrument
)

// Level is what is asked at one level (trade/teaching.md, section 2). Sizes of
// leaps and of the compass are in letter steps: a third is 2, an octave 7.
type Level struct {
	Number int
	// Instruments that are taken where none is asked for, by the catalogue's id.
	Instruments []string
	Shown       Shown
	// Fifths is the most sharps or flats of either key.
	Fifths  int
	Minor   bool
	Bars    []int
	Metres  []string
	Upbeat  bool
	Leap    int
	Compass int
	// Signs is how many accidentals, at least and at most; Changes of them change
	// their kind when they move.
	SignsFrom, SignsTo int
	Changes            int
	// Neighbours keeps accidentals to neighbouring notes and the raised seventh.
	Neighbours bool
	// Holds has one accidental hold on within its bar; Raised67 has the raised
	// sixth and seventh together in minor; Modulates closes the first half in
	// another key.
	Holds, Raised67, Modulates bool
	// DoubleSigns allows double sharps and double flats.
	DoubleSigns bool
	// Grade is the grade of the school range that holds the written notes, "" for
	// the professional range. Where it has no room (a horn of grade 1 has an octave,
	// of which the sound lies below the treble staff), the next one is taken.
	Grade string
	// Clefs of the sounding side beside the instrument's own.
	Clefs []string
	// RespelledOneIn is how often a key is taken by its twin; 0 is never.
	RespelledOneIn int
	// TwoPartsOneIn is how often four bars in two parts are asked for; 0 is never.
	TwoPartsOneIn int
}

// Instruments lists the ids of those that the levels have, the most common first.
func Instruments() []string { return slices.Clone(fifthInstruments) }

// Levels is the number of levels.
const Levels = 5

var firstInstruments = []string{"clarinet-bflat", "trumpet-bflat"}

var secondInstruments = append(append([]string{}, firstInstruments...), "horn-f", "english-horn", "clarinet-a")

// Instruments that move by octaves alone leave the signature as it is. They come in
// where there is enough else, so that no sheet is made of them.
var thirdInstruments = append(append([]string{}, secondInstruments...), "alto-saxophone-eflat", "clarinet-eflat", "alto-flute-g", "piccolo", "double-bass")

var fourthInstruments = append(append([]string{}, thirdInstruments...), "tenor-saxophone-bflat", "baritone-saxophone-eflat", "bass-clarinet-bflat", "clarinet-d")

var fifthInstruments = append(append([]string{}, fourthInstruments...), "horn-e", "horn-eflat", "horn-d", "trumpet-d", "trumpet-f")

// levels is the table of trade/teaching.md, section 2.
var levels = [Levels]Level{
	{Number: 1, Instruments: firstInstruments, Shown: ShowsInterval, Fifths: 2, Bars: []int{4},
		Metres: []string{"2/4", "3/4", "4/4"}, Leap: 2, Compass: 7, Grade: firstGrade},
	{Number: 2, Instruments: secondInstruments, Shown: ShowsInterval, Fifths: 3, Minor: true, Bars: []int{4},
		Metres: []string{"2/4", "3/4", "4/4"}, Leap: 4, Compass: 7, SignsFrom: 1, SignsTo: 1, Neighbours: true, Grade: firstGrade},
	{Number: 3, Instruments: thirdInstruments, Shown: ShowsDirection, Fifths: 4, Minor: true, Bars: []int{8},
		Metres: []string{"2/4", "3/4", "4/4", "6/8"}, Upbeat: true, Leap: 5, Compass: 8, SignsFrom: 2, SignsTo: 2, Changes: 1,
		Grade: secondGrade, Clefs: []string{"treble", "bass"}},
	{Number: 4, Instruments: fourthInstruments, Shown: ShowsNothing, Fifths: 5, Minor: true, Bars: []int{8},
		Metres: []string{"2/4", "3/4", "4/4", "6/8", "2/2", "3/8", "9/8"}, Upbeat: true, Leap: 7, Compass: 9, SignsFrom: 3, SignsTo: 4,
		Changes: 2, Holds: true, Raised67: true, Modulates: true, Clefs: []string{"treble", "bass", "alto", "tenor"}},
	{Number: 5, Instruments: fifthInstruments, Shown: ShowsNothing, Fifths: 6, Minor: true, Bars: []int{8, 12},
		Metres: []string{"2/4", "3/4", "4/4", "6/8", "2/2", "3/8", "9/8", "12/8", "5/4"}, Upbeat: true, Leap: 7, Compass: 9,
		SignsFrom: 3, SignsTo: 4, Changes: 2, Holds: true, Raised67: true, DoubleSigns: true,
		Clefs: []string{"treble", "bass", "alto", "tenor", "soprano"}, RespelledOneIn: 3, TwoPartsOneIn: 4},
}

// LevelOf returns a level by its number, 1 to 5.
func LevelOf(number int) (Level, error) {
	if number < 1 || number > Levels {
		return Level{}, fmt.Errorf("level %d is not one of 1 to %d", number, Levels)
	}
	return levels[number-1], nil
}

// The school grades of the ranges.
const firstGrade, secondGrade = "1", "2"

// writtenRange is the compass in which the player's notes are written, as MIDI
// numbers. The third result is false where the instrument has none.
func (d demands) writtenRange(i *instruments.Instrument) (low, high int, ok bool) {
	r, ok := rangeOf(i, d.grade)
	if d.strict {
		return r.Written.ComfortableLow.NoteNumber(), r.Written.ComfortableHigh.NoteNumber(), ok
	}
	return r.Written.Low.NoteNumber(), r.Written.High.NoteNumber(), ok
}

func rangeOf(i *instruments.Instrument, grade string) (instruments.Range, bool) {
	for _, r := range i.Ranges() {
		if grade != "" && r.Level == instruments.School && r.Grade == grade {
			return r, true
		}
	}
	if grade != "" {
		return i.Range(instruments.School)
	}
	return i.Range(instruments.Professional)
}
