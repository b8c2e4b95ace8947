package pitch

import (
	"strconv"
	"strings"
)

// fifthsOf is each natural step's place on the line of fifths, C = 0.
var fifthsOf = [7]int{C: 0, D: 2, E: 4, F: -1, G: 1, A: 3, B: 5}

// BySharps are the letters in the order in which sharps are added to a signature;
// flats are added in the reverse.
func BySharps() [7]Step { return [7]Step{F, C, G, D, A, E, B} }

// SignatureAlter returns what a traditional signature does to a letter, in whole
// semitones: fifths counts sharps, negative flats. Past seven the letters take
// double signs, as on the line of fifths.
func SignatureAlter(fifths int, s Step) int {
	return FloorDiv(fifths+5-fifthsOf[s], 7)
}

// Twin returns the number of fifths of the enharmonic twin: twelve places on
// the line of fifths nearer to C.
func Twin(fifths int) int {
	if fifths > 0 {
		return fifths - 12
	}
	return fifths + 12
}

// SignatureWords says how many sharps or flats a signature has: "3 flats", "1 sharp",
// "no sharps or flats".
func SignatureWords(fifths int) string {
	sign := "sharp"
	if fifths < 0 {
		sign = "flat"
	}
	switch n := Abs(fifths); n {
	case 0:
		return "no sharps or flats"
	case 1:
		return "1 " + sign
	default:
		return strconv.Itoa(n) + " " + sign + "s"
	}
}

// SignatureNotes lists the notes of a signature in the order in which they are
// written: "F# C# G#".
func SignatureNotes(fifths int) string {
	var names []string
	for i := range Abs(fifths) {
		if fifths > 0 {
			names = append(names, FifthsName(6+i))
		} else {
			names = append(names, FifthsName(-2-i))
		}
	}
	return strings.Join(names, " ")
}

// FifthsName is the note that far from C on the line of fifths: "G" 1, "Bb" −2.
func FifthsName(place int) string {
	turn := FloorDiv(place+1, 7)
	return BySharps()[place+1-7*turn].String() + signs(turn)
}
