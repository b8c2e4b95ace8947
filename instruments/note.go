package instruments

import (
	"fmt"
	"strconv"
	"strings"
)

// A Note is a spelled pitch as the catalogue's tables write it: C4 is middle C,
// octave numbers change at C, Alter counts semitones (-1 flat, 1 sharp).
type Note struct {
	Step   int // 0 is C, 6 is B
	Alter  int
	Octave int
}

const stepLetters = "CDEFGAB"

// semitones above C of the natural notes C to B.
var stepSemitones = [7]int{0, 2, 4, 5, 7, 9, 11}

// ParseNote reads scientific pitch in ASCII: "C4", "F#3", "Bb1", "C##5", "Ebb2".
func ParseNote(text string) (Note, error) {
	if text == "" {
		return Note{}, fmt.Errorf("empty note name")
	}
	step := strings.IndexByte(stepLetters, text[0])
	if step < 0 {
		return Note{}, fmt.Errorf("note %q does not begin with a letter from A to G", text)
	}
	rest := strings.TrimLeft(text[1:], "#b")
	signs := text[1 : len(text)-len(rest)]
	alter := strings.Count(signs, "#") - strings.Count(signs, "b")
	if len(signs) > 2 || len(signs) != abs(alter) {
		return Note{}, fmt.Errorf("note %q has an accidental that is none of #, ##, b, bb", text)
	}
	octave, err := strconv.Atoi(rest)
	if err != nil || octave < -1 || octave > 10 {
		return Note{}, fmt.Errorf("note %q does not end with an octave number", text)
	}
	return Note{Step: step, Alter: alter, Octave: octave}, nil
}

// String is the inverse of ParseNote.
func (n Note) String() string {
	sign := strings.Repeat("#", max(n.Alter, 0)) + strings.Repeat("b", max(-n.Alter, 0))
	return fmt.Sprintf("%c%s%d", stepLetters[n.Step], sign, n.Octave)
}

// MIDI returns the MIDI note number: 60 is middle C.
func (n Note) MIDI() int {
	return 12*(n.Octave+1) + stepSemitones[n.Step] + n.Alter
}

// Moved returns the note that lies the given number of steps and semitones away,
// both signed, octaves counted in (7 and 12).
func (n Note) Moved(diatonic, chromatic int) Note {
	place := n.Octave*7 + n.Step + diatonic
	octave := floorDiv(place, 7)
	moved := Note{Step: place - 7*octave, Octave: octave}
	moved.Alter = n.MIDI() + chromatic - moved.MIDI()
	return moved
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
