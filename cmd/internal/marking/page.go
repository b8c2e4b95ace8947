package marking

import (
	"deskpart/transpose/pitch"
)

// same is the interval that moves nothing.
var same pitch.Interval

// mark is a head as a page has it: a place, and perhaps a sign.
type mark struct {
	bar     int
	place   int // letter steps from C0
	signed  bool
	alter   pitch.Alter // of the sign
	tieFrom bool
	fifths  int // of the signature in force
}

// readPage reads a page: a sign holds for its place to the end of its bar, and over
// a tie.
func readPage(marks []mark) []pitch.Pitch {
	pitches := make([]pitch.Pitch, len(marks))
	held := map[int]pitch.Alter{}
	last := map[int]pitch.Alter{}
	bar := -1
	for i, m := range marks {
		if m.bar != bar {
			bar = m.bar
			clear(held)
		}
		p := pitch.At(m.place)
		p.Alter = signatureAlter(m.fifths, p)
		if alter, ok := held[m.place]; ok {
			p.Alter = alter
		}
		if alter, ok := last[m.place]; ok && m.tieFrom {
			p.Alter = alter
		}
		if m.signed {
			p.Alter = m.alter
			held[m.place] = m.alter
		}
		last[m.place] = p.Alter
		pitches[i] = p
	}
	return pitches
}

// signatureAlter is what a signature does to a pitch's letter.
func signatureAlter(fifths int, p pitch.Pitch) pitch.Alter {
	return pitch.Semitones(pitch.SignatureAlter(fifths, p.Step))
}
