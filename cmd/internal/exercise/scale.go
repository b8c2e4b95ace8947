package exercise

import (
	"deskpart/cmd/internal/explain"
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

var (
	majorScale = [7]int{0, 2, 4, 5, 7, 9, 11}
	minorScale = [7]int{0, 2, 3, 5, 7, 8, 10} // natural minor, as the signature has it
)

// scale is a key.
type scale struct{ explain.Key }

func (s scale) minor() bool { return s.Mode == explain.Minor }

// semitones counts a tone's semitones above the tonic.
func (s scale) semitones(t tone) int { return semitonesIn(s.minor(), t) }

func semitonesIn(minor bool, t tone) int {
	steps := majorScale
	if minor {
		steps = minorScale
	}
	octave := (t.step - t.degree()) / 7
	return 12*octave + steps[t.degree()] + t.raised
}

// tonicLetter is the letter of the key note.
func (s scale) tonicLetter() pitch.Step {
	place := s.Fifths
	if s.minor() {
		place += 3
	}
	// Each fifth is four letters up.
	return pitch.Step(((4*place)%7 + 7) % 7)
}

// letter of a degree.
func (s scale) letter(degree int) pitch.Step {
	return pitch.Step((int(s.tonicLetter()) + degree) % 7)
}

// pitch gives a tone its pitch; octave is that of the tonic at step 0.
func (s scale) pitch(t tone, octave int) pitch.Pitch {
	place := 7*octave + int(s.tonicLetter()) + t.step
	step := pitch.Step(((place % 7) + 7) % 7)
	p := pitch.Pitch{Step: step, Octave: (place - int(step)) / 7}
	p.Alter = pitch.Semitones(pitch.SignatureAlter(s.Fifths, step) + t.raised)
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
	moved := pitch.Step(((int(letter)+m.interval.Diatonic)%7 + 7) % 7)
	return pitch.SignatureAlter(m.from, letter), pitch.SignatureAlter(m.to, moved)
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
	return abs(given+t.raised) > 1 || abs(answer+t.raised) > 1
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
