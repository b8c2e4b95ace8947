package engraving

import "deskpart/musicxml"

// Value is a note value as printed.
type Value int8

// The note values. ValueNone draws a head without stem, as in files that print
// no value.
const (
	Long Value = iota - 2
	Breve
	Whole
	Half
	Quarter
	Eighth
	Sixteenth
	ThirtySecond
	SixtyFourth
	Value128
	Value256
	Value512
	Value1024
	Maxima Value = -3
)

// valueNames are the words of the MusicXML standard (note-type-value).
var valueNames = map[Value]string{
	Maxima: "maxima", Long: "long", Breve: "breve", Whole: "whole", Half: "half", Quarter: "quarter", Eighth: "eighth",
	Sixteenth: "16th", ThirtySecond: "32nd", SixtyFourth: "64th", Value128: "128th", Value256: "256th",
	Value512: "512th", Value1024: "1024th",
}

// String returns the MusicXML name ("quarter", "16th").
func (v Value) String() string { return valueNames[v] }

// ParseValue returns the value of that MusicXML name; false where there is none.
func ParseValue(name string) (Value, bool) {
	for v, n := range valueNames {
		if n == name {
			return v, true
		}
	}
	return Quarter, false
}

// flags is the number of flags or beams of the value.
func (v Value) flags() int { return max(0, int(v-Quarter)) }

// hasStem reports whether notes of the value have a stem.
func (v Value) hasStem() bool { return v >= Half || v == Long || v == Maxima }

// Length returns the time of a value with dots and time modification, in
// quarter notes.
func Length(v Value, dots int, r Ratio) musicxml.Fraction {
	length := musicxml.NewFraction(4, 1)
	half := musicxml.NewFraction(1, 2)
	for i := Whole; i < v; i++ {
		length = length.Mul(half)
	}
	for i := v; i < Whole; i++ {
		length = length.Mul(musicxml.NewFraction(2, 1))
	}
	dot := length
	for range dots {
		dot = dot.Mul(half)
		length = length.Add(dot)
	}
	if r.Actual > 0 && r.Normal > 0 {
		length = length.Mul(musicxml.NewFraction(int64(r.Normal), int64(r.Actual)))
	}
	return length
}
