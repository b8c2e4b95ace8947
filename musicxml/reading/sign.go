package reading

import "deskpart/musicxml"

// halves are the alterations in half semitones of the accidentals whose size is
// fixed (MusicXML 4.0, accidental-value: arrows are quarter tones up or down).
var halves = map[string]int64{
	"natural": 0, "sharp": 2, "flat": -2,
	"double-sharp": 4, "sharp-sharp": 4, "flat-flat": -4,
	"natural-sharp": 2, "natural-flat": -2,
	"triple-sharp": 6, "triple-flat": -6,
	"quarter-sharp": 1, "quarter-flat": -1,
	"three-quarters-sharp": 3, "three-quarters-flat": -3,
	"natural-up": 1, "natural-down": -1,
	"sharp-up": 3, "sharp-down": 1,
	"flat-up": -1, "flat-down": -3,
	"double-sharp-up": 5, "double-sharp-down": 3,
	"flat-flat-up": -3, "flat-flat-down": -5,
}

// signAlters returns what a printed accidental makes of a note in semitones.
// The signs of Turkish and Persian music, single arrows and "other" have no one
// size: known is false, and the reader knows it from the piece.
func signAlters(sign string) (alter musicxml.Fraction, known bool) {
	n, ok := halves[sign]
	return musicxml.NewFraction(n, 2), ok
}
