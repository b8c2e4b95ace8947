package pitch

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Alter is an alteration in semitones, kept as an exact decimal with twelve
// places (MusicXML 4.0, alter: a decimal; 0.5 is a quarter tone sharp).
type Alter int64

// Semitone is one whole semitone sharp.
const Semitone Alter = 1_000_000_000_000

// alterPlaces is the number of decimals an Alter holds.
const alterPlaces = 12

var errSigns = errors.New("not sharps or flats such as #, x or bb")

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
	number := strings.TrimSpace(text)
	sign := Alter(1)
	switch {
	case strings.HasPrefix(number, "-"):
		sign, number = -1, number[1:]
	case strings.HasPrefix(number, "+"):
		number = number[1:]
	}
	whole, places, _ := strings.Cut(number, ".")
	if whole+places == "" || !isDigits(whole) || !isDigits(places) {
		return 0, fmt.Errorf("%q is not a number of semitones", text)
	}
	n, err := strconv.Atoi("0" + whole)
	if err != nil || n > maxAlter {
		return 0, fmt.Errorf("%q is not a number of semitones", text)
	}
	part, _ := strconv.Atoi((places + "000000000000")[:alterPlaces]) // twelve digits
	return sign * (Semitones(n) + Alter(part)), nil
}

func isDigits(text string) bool { return strings.Trim(text, "0123456789") == "" }

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

// ParseSigns reads "", "#", "##", "x", "b", "bb", "♯", "♭" or "(0.5)".
func ParseSigns(text string) (Alter, error) {
	if strings.HasPrefix(text, "(") && strings.HasSuffix(text, ")") {
		alter, err := ParseAlter(text[1 : len(text)-1])
		if n, whole := alter.Whole(); whole && Abs(n) > mostSignsAtNote {
			return 0, errSigns
		}
		return alter, err
	}
	n, err := countSigns(text)
	return Semitones(n), err
}

// mostSignsAtNote is how many sharps or flats are read: none is printed with more than
// three, and moving may add one.
const mostSignsAtNote = 4

// countSigns reads sharps and flats.
func countSigns(text string) (semitones int, err error) {
	for _, c := range text {
		switch c {
		case '#', '♯':
			semitones++
		case 'x':
			semitones += 2
		case 'b', '♭':
			semitones--
		default:
			return 0, errSigns
		}
	}
	if text != "" && semitones == 0 || Abs(semitones) > mostSignsAtNote {
		return 0, errSigns
	}
	return semitones, nil
}

// signs writes whole semitones as ParseSigns reads them: "##", "b".
func signs(semitones int) string {
	return strings.Repeat("#", max(semitones, 0)) + strings.Repeat("b", max(-semitones, 0))
}
