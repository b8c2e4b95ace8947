package exercise

import (
	"deskpart/transpose/pitch"
)

// tone is a note of a melody before it has an octave and a key: its step counts
// the scale from the tonic, 0, upwards and downwards; raised is 1, lowered −1.
type tone struct{ step, raised int }

// The degrees of the scale, the tonic first.
const (
	tonic = iota
	second
	third
	fourth
	fifth
	sixth
	seventh
)

// degree is the tone's place in the scale.
func (t tone) degree() int { return ((t.step % 7) + 7) % 7 }

// plain reports whether the tone is of the scale itself.
func (t tone) plain() bool { return t.raised == 0 }

// scale is a key.
type scale struct{ pitch.Key }

func (s scale) minor() bool { return s.Mode == pitch.Minor }

// semitonesIn counts a tone's semitones above the tonic.
func semitonesIn(minor bool, t tone) int {
	key := pitch.Key{Mode: pitch.Major}
	if minor {
		key = pitch.Key{Fifths: -3, Mode: pitch.Minor} // C minor, natural as the signature has it
	}
	from, to := scale{key}.pitch(tone{}, 0), scale{key}.pitch(t, 0)
	return to.NoteNumber() - from.NoteNumber()
}

// letter of a degree.
func (s scale) letter(degree int) pitch.Step {
	return pitch.Step((int(s.TonicStep()) + degree) % 7)
}

// pitch gives a tone its pitch; octave is that of the tonic at step 0.
func (s scale) pitch(t tone, octave int) pitch.Pitch {
	p := pitch.At(7*octave + int(s.TonicStep()) + t.step)
	p.Alter = pitch.Semitones(pitch.SignatureAlter(s.Fifths, p.Step) + t.raised)
	return p
}

// move is what becomes of a key: the interval, and the signature that it leads to.
type move struct {
	interval pitch.Interval
	from, to int // fifths
}

// alters are what both signatures do to the letter of a degree.
func (m move) alters(s scale, degree int) (given, answer int) {
	letter := s.letter(degree)
	moved := pitch.At(int(letter) + m.interval.Diatonic)
	return pitch.SignatureAlter(m.from, letter), pitch.SignatureAlter(m.to, moved.Step)
}

// changes reports whether an accidental on that degree changes its kind: exactly
// when the two signatures differ there (the kind test of trade/teaching.md).
func (m move) changes(s scale, degree int) bool {
	given, answer := m.alters(s, degree)
	return given != answer
}

// doubles reports whether an altered degree needs a double sign on either side.
func (m move) doubles(s scale, t tone) bool {
	given, answer := m.alters(s, t.degree())
	return pitch.Abs(given+t.raised) > 1 || pitch.Abs(answer+t.raised) > 1
}
