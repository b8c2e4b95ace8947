package pitch

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Step is a letter name, counted from C = 0 to B = 6 (MusicXML 4.0, step).
type Step int

// The seven steps.
const (
	C Step = iota
	D
	E
	F
	G
	A
	B
)

const letters = "CDEFGAB"

// semitonesAbove[s] is how far the natural step s lies above C, in semitones.
var semitonesAbove = [7]int{0, 2, 4, 5, 7, 9, 11}

// String returns the letter.
func (s Step) String() string {
	if s < C || s > B {
		return "?"
	}
	return letters[s : s+1]
}

// ParseStep reads a capital letter A to G.
func ParseStep(text string) (Step, error) {
	if len(text) == 1 {
		if i := strings.IndexByte(letters, text[0]); i >= 0 {
			return Step(i), nil
		}
	}
	return 0, fmt.Errorf("%q is not a note letter from A to G", text)
}

// Pitch is a spelled pitch. The octave number changes at C; middle C is C4
// (MusicXML 4.0, octave).
type Pitch struct {
	Step   Step
	Alter  Alter
	Octave int
}

// Place returns the letter steps from C0.
func (p Pitch) Place() int { return p.Octave*7 + int(p.Step) }

// At is the natural pitch that many letter steps from C0.
func At(place int) Pitch {
	octave := FloorDiv(place, 7)
	return Pitch{Step: Step(place - 7*octave), Octave: octave}
}

// MIDI returns the number of semitones from MIDI note 0 (60 is middle C, MIDI
// 1.0), exact for microtones.
func (p Pitch) MIDI() Alter {
	return Semitones(12*(p.Octave+1)+semitonesAbove[p.Step]) + p.Alter
}

// NoteNumber returns the MIDI note number, 60 for middle C; of a microtone that of
// the note below it.
func (p Pitch) NoteNumber() int {
	n, whole := p.MIDI().Whole()
	if !whole && p.MIDI() < 0 {
		n--
	}
	return n
}

// String writes scientific pitch in ASCII: C4, F#3, Bb4, C##5, Ebb2; a
// microtone is written as the letter with its decimal, "C(0.5)4".
func (p Pitch) String() string {
	n, whole := p.Alter.Whole()
	if !whole {
		return fmt.Sprintf("%s(%s)%d", p.Step, p.Alter, p.Octave)
	}
	return p.Step.String() + signs(n) + strconv.Itoa(p.Octave)
}

var (
	errPitchText = errors.New("not a pitch such as C4, F#3 or Bb4")
	errName      = errors.New("not a note such as C, F# or Bb")
)

// Parse reads scientific pitch in ASCII as String writes it; x stands for
// a double sharp, and a small first letter is understood.
func Parse(text string) (Pitch, error) {
	name := strings.TrimRight(text, "-0123456789")
	octave, err := strconv.Atoi(text[len(name):])
	p, nameErr := ParseName(name)
	if err != nil || nameErr != nil || octave < -9 || octave > 99 {
		return Pitch{}, fmt.Errorf("%q: %w", text, errPitchText)
	}
	p.Octave = octave
	return p, nil
}

// ParseName reads a note's name without an octave, "C", "F#", "bb", "C(0.5)": it comes
// back in the fourth one.
func ParseName(text string) (Pitch, error) {
	if text == "" {
		return Pitch{}, errName
	}
	step, err := ParseStep(strings.ToUpper(text[:1]))
	alter, signsErr := ParseSigns(text[1:])
	if err != nil || signsErr != nil {
		return Pitch{}, fmt.Errorf("%q: %w", text, errName)
	}
	return Pitch{step, alter, 4}, nil
}
