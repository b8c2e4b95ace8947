package divisi

import "deskpart/musicxml"

// Rest is one rest of those that fill a gap.
type Rest struct {
	From, To musicxml.Fraction // in the bar, in quarter notes
	// Type and Dots are how it is written, "" where no note value has that length.
	Type string
	Dots int
}

// Rests writes a gap in a bar as the fewest rests that show the beats.
func Rests(m *musicxml.Measure, from, to musicxml.Fraction) []Rest {
	var rests []Rest
	for _, p := range metreOf(m).fillGap(from, to) {
		rests = append(rests, Rest{p.from, p.to, p.value.name, p.value.dots})
	}
	return rests
}
