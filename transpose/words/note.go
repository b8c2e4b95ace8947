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

// Note names a note without its octave, short as print has it: "F♯", "Fis", "fa♯".
func (n *Names) Note(p pitch.Pitch) string {
	key := ascii(p)
	if n.Language == pitch.German && n.notes.Has(key) {
		return n.notes.In(pitch.German, key, nil) // German names hold their sign
	}
	return n.Letter(p.Step) + pretty.Replace(key[1:])
}

// Pitch is Note with the octave of scientific pitch: "F♯4", "Fis4", "fa♯4".
func (n *Names) Pitch(p pitch.Pitch) string { return n.Note(p) + strconv.Itoa(p.Octave) }

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
