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

// Alter is an alteration in semitones, kept as an exact decimal with twelve
// places (MusicXML 4.0, alter: a decimal; 0.5 is a quarter tone sharp).
type Alter int64

// Semitone is one whole semitone sharp.
const Semitone Alter = 1_000_000_000_000

// alterPlaces is the number of decimals an Alter holds.
const alterPlaces = 12

// maxAlter bounds what is taken for an alteration at all; the standard sets no
// bound, and no notation goes past a few semitones.
const maxAlter = 100

// ParseAlter reads a decimal number of semitones; more than twelve decimals are
// cut off.
func ParseAlter(text string) (Alter, error) {
	switch text { // what nearly every note has
	case "1":
		return Semitone, nil
	case "-1":
		return -Semitone, nil
	}
	text = strings.TrimSpace(text)
	whole, places, _ := strings.Cut(text, ".")
	if len(places) > alterPlaces {
		places = places[:alterPlaces]
	}
	negative := strings.HasPrefix(whole, "-")
	whole = strings.TrimLeft(whole, "+-")
	if whole == "" && places == "" || len(text)-len(strings.TrimLeft(text, "+-")) > 1 {
		return 0, fmt.Errorf("%q is not a number of semitones", text)
	}
	n, err := strconv.ParseUint("0"+whole, 10, 32)
	if err != nil || n > maxAlter {
		return 0, fmt.Errorf("%q is not a number of semitones", text)
	}
	part, err := strconv.ParseUint((places + "000000000000")[:alterPlaces], 10, 63)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number of semitones", text)
	}
	a := Alter(n)*Semitone + Alter(part)
	if negative {
		a = -a
	}
	return a, nil
}

// Semitones returns n whole semitones.
func Semitones(n int) Alter { return Alter(n) * Semitone }

// Whole returns the number of semitones and whether it is a whole number.
func (a Alter) Whole() (int, bool) { return int(a / Semitone), a%Semitone == 0 }

// String writes the decimal as MusicXML does: "1", "-0.5".
func (a Alter) String() string {
	switch a {
	case Semitone:
		return "1"
	case -Semitone:
		return "-1"
	}
	sign := ""
	if a < 0 {
		sign, a = "-", -a
	}
	text := sign + strconv.FormatInt(int64(a/Semitone), 10)
	if rest := a % Semitone; rest != 0 {
		text += "." + strings.TrimRight(fmt.Sprintf("%012d", int64(rest)), "0")
	}
	return text
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

// MIDI returns the number of semitones from MIDI note 0 (60 is middle C, MIDI
// 1.0), exact for microtones.
func (p Pitch) MIDI() Alter {
	return Semitones(12*(p.Octave+1)+semitonesAbove[p.Step]) + p.Alter
}

// String writes scientific pitch in ASCII: C4, F#3, Bb4, C##5, Ebb2; a
// microtone is written as the letter with its decimal, "C(0.5)4".
func (p Pitch) String() string {
	n, whole := p.Alter.Whole()
	switch {
	case !whole:
		return fmt.Sprintf("%s(%s)%d", p.Step, p.Alter, p.Octave)
	case n < 0:
		return fmt.Sprintf("%s%s%d", p.Step, strings.Repeat("b", -n), p.Octave)
	}
	return fmt.Sprintf("%s%s%d", p.Step, strings.Repeat("#", n), p.Octave)
}

var errPitchText = errors.New("not a pitch such as C4, F#3 or Bb4")

// Parse reads scientific pitch in ASCII as String writes it; x stands for
// a double sharp, and a small first letter is understood.
func Parse(text string) (Pitch, error) {
	if text == "" {
		return Pitch{}, errPitchText
	}
	step, err := ParseStep(strings.ToUpper(text[:1]))
	if err != nil {
		return Pitch{}, fmt.Errorf("%q: %w", text, errPitchText)
	}
	rest := text[1:]
	signs := strings.TrimRight(rest, "-0123456789")
	octave, err := strconv.Atoi(rest[len(signs):])
	if err != nil || octave < -9 || octave > 99 {
		return Pitch{}, fmt.Errorf("%q: %w", text, errPitchText)
	}
	alter, err := ParseSigns(signs)
	if err != nil {
		return Pitch{}, fmt.Errorf("%q: %w", text, errPitchText)
	}
	return Pitch{step, alter, octave}, nil
}

// ParseSigns reads "", "#", "##", "x", "b", "bb", "♯", "♭" or "(0.5)".
func ParseSigns(signs string) (Alter, error) {
	if strings.HasPrefix(signs, "(") && strings.HasSuffix(signs, ")") {
		return ParseAlter(signs[1 : len(signs)-1])
	}
	var alter Alter
	for _, c := range signs {
		switch c {
		case '#', '♯':
			alter += Semitone
		case 'x':
			alter += 2 * Semitone
		case 'b', '♭':
			alter -= Semitone
		default:
			return 0, errPitchText
		}
	}
	if len(signs) > 0 && alter == 0 || alter > 4*Semitone || alter < -4*Semitone {
		return 0, errPitchText
	}
	return alter, nil
}
