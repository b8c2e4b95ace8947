package pitch

import "strconv"

// fifthsOf is each natural step's place on the line of fifths, C = 0.
var fifthsOf = [7]int{C: 0, D: 2, E: 4, F: -1, G: 1, A: 3, B: 5}

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
	switch {
	case fifths == 0:
		return "no sharps or flats"
	case fifths == 1:
		return "1 sharp"
	case fifths == -1:
		return "1 flat"
	case fifths > 0:
		return strconv.Itoa(fifths) + " sharps"
	}
	return strconv.Itoa(-fifths) + " flats"
}
