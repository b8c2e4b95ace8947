package reading

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// letters are the steps from C up; a step's index is its place in this string.
const letters = "CDEFGAB"

// letter is a step by its letter, -1 for anything else.
func letter(text string) int {
	if len(text) != 1 {
		return -1
	}
	return strings.Index(letters, text)
}

// semitones above C of each natural step.
var semitones = [7]int64{0, 2, 4, 5, 7, 9, 11}

// Pitch is a spelled pitch. The octave number changes at C; C4 is middle C.
type Pitch struct {
	Step   int               // 0 is C, 6 is B
	Alter  musicxml.Fraction // in semitones, sharps positive; 1/2 is a quarter tone sharp
	Octave int
}

// place counts letter steps from C0.
func (p Pitch) place() int { return 7*p.Octave + p.Step }

// pitchAt returns the natural pitch that lies place letter steps above C0.
func pitchAt(place int) Pitch {
	step := ((place % 7) + 7) % 7
	return Pitch{Step: step, Octave: (place - step) / 7}
}

// MIDI returns the semitones above MIDI note 0 (MIDI 1.0: middle C is 60).
func (p Pitch) MIDI() musicxml.Fraction {
	return whole(12*(int64(p.Octave)+1) + semitones[p.Step]).Add(p.Alter)
}

// String writes scientific pitch in ASCII (C4, F#3, Bb4, C##5, Ebb2); a
// microtone stands in brackets, in semitones: C(1/2)4.
func (p Pitch) String() string {
	return fmt.Sprintf("%c%s%d", letters[p.Step], alteration(p.Alter), p.Octave)
}

func alteration(alter musicxml.Fraction) string {
	switch n := alter.Num(); {
	case alter.Den() != 1 || n < -4 || n > 4:
		return "(" + alter.String() + ")"
	case n < 0:
		return strings.Repeat("b", int(-n))
	default:
		return strings.Repeat("#", int(n))
	}
}

func whole(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }

var (
	errStep   = errors.New("a note letter that is not A to G")
	errOctave = errors.New("an octave that is not 0 to 9")
	errAlter  = errors.New("an alteration that is not a number of semitones")
)

// readPitch reads <pitch>, or the display position of <unpitched>, whose tags
// begin with prefix "display-".
func readPitch(e *etree.Element, prefix string) (Pitch, error) {
	step := letter(musicxml.ChildText(e, prefix+"step"))
	if step < 0 {
		return Pitch{}, errStep
	}
	octave, err := strconv.Atoi(musicxml.ChildText(e, prefix+"octave"))
	if err != nil || octave < 0 || octave > 9 {
		return Pitch{}, errOctave
	}
	alter, err := readAlter(musicxml.ChildText(e, prefix+"alter"))
	return Pitch{step, alter, octave}, err
}

func readAlter(text string) (musicxml.Fraction, error) {
	if text == "" {
		return musicxml.Fraction{}, nil
	}
	alter, err := musicxml.ParseFraction(text)
	if err != nil || alter.Cmp(whole(100)) > 0 || alter.Cmp(whole(-100)) < 0 {
		return musicxml.Fraction{}, errAlter
	}
	return alter, nil
}
