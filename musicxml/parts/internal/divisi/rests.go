package divisi

import "deskpart/musicxml"

// Rest is one rest of those that fill a gap.
type Rest struct {
	From, To musicxml.Fraction // in the bar, in quarter notes
	NoteValue
}

// Rests writes a gap in a bar as the fewest rests that show the beats.
func Rests(m *musicxml.Measure, from, to musicxml.Fraction) []Rest {
	return metreOf(m).fillGap(from, to)
}
