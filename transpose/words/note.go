package words

import (
	"strconv"
	"strings"

	"deskpart/transpose/pitch"
)

// pretty are the signs of print for those of ASCII.
var pretty = strings.NewReplacer("##", "𝄪", "#", "♯", "bb", "𝄫", "b", "♭")

// ascii is the note without its octave as package pitch writes it: "Bb".
func ascii(p pitch.Pitch) string {
	return strings.TrimRight(p.String(), "-0123456789")
}

// Letter is the plain note of a step: "B", "H", "si".
func (n *Names) Letter(s pitch.Step) string {
	return n.notes.In(n.Language, s.String(), nil)
}

// quarters are the quarter tones by their names in MusicXML 4.0 (accidental-value).
var quarters = map[pitch.Alter]string{
	-3 * pitch.Semitone / 2: "three-quarters-flat", -pitch.Semitone / 2: "quarter-flat",
	pitch.Semitone / 2: "quarter-sharp", 3 * pitch.Semitone / 2: "three-quarters-sharp",
}

// microtone names a note of a letter, with or without its octave, that lies between the
// semitones: quarter tones by name, others in cents. It is false for a whole number of
// semitones.
func (n *Names) microtone(letter string, by pitch.Alter) (string, bool) {
	if _, whole := by.Whole(); whole {
		return "", false
	}
	if name, known := quarters[by]; known {
		return n.term(name, Fill{"note": letter}), true
	}
	const cent = pitch.Semitone / 100
	direction, off := "cents-higher", by
	if by < 0 {
		direction, off = "cents-lower", -by
	}
	return n.term(direction, Fill{"note": letter, "n": int((off + cent/2) / cent)}), true
}

// Note names a note without its octave, short as print has it: "F♯", "Fis", "fa♯".
func (n *Names) Note(p pitch.Pitch) string {
	if text, ok := n.microtone(n.Letter(p.Step), p.Alter); ok {
		return text
	}
	key := ascii(p)
	if n.Language == pitch.German && n.notes.Has(key) {
		return n.notes.In(pitch.German, key, nil) // German names hold their sign
	}
	return n.Letter(p.Step) + pretty.Replace(key[1:])
}

// Pitch is Note with the octave of scientific pitch: "F♯4", "Fis4", "fa♯4".
func (n *Names) Pitch(p pitch.Pitch) string {
	octave := strconv.Itoa(p.Octave)
	if text, ok := n.microtone(n.Letter(p.Step)+octave, p.Alter); ok {
		return text
	}
	return n.Note(p) + octave
}

// Spoken names a note in words: "F sharp", "Fis", "fa dièse".
func (n *Names) Spoken(p pitch.Pitch) string {
	key := ascii(p)
	if !n.notes.Has(key) {
		return n.Note(p)
	}
	return n.notes.In(n.Language, key, nil)
}

// Plainly is Spoken that says natural where a note has no sign: "F natural".
func (n *Names) Plainly(p pitch.Pitch) string {
	if p.Alter != 0 {
		return n.Spoken(p)
	}
	return n.term("natural", Fill{"note": n.Spoken(p)})
}
