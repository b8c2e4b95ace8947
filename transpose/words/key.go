package words

import (
	"strings"
	"unicode"

	"deskpart/transpose/pitch"
)

// Major names the major key of a signature in fifths (sharps positive): "E♭ major",
// "Es-Dur", "mi bémol majeur".
func (n *Names) Major(fifths int) string {
	return n.term("major", Fill{"tonic": n.tonic(fifths)})
}

// Minor names the minor key of a signature: "C minor", "c-Moll".
func (n *Names) Minor(fifths int) string {
	tonic := n.tonic(fifths + 3)
	if n.Language == pitch.German {
		tonic = string(unicode.ToLower(rune(tonic[0]))) + tonic[1:] // German names are ASCII
	}
	return n.term("minor", Fill{"tonic": tonic})
}

// tonic names the note so many fifths from C: with its sign in English, in words
// in the others, as they are usual in the names of keys.
func (n *Names) tonic(fifths int) string {
	note := OnLineOfFifths(fifths)
	if n.Language == pitch.English {
		return n.Note(note)
	}
	return n.Spoken(note)
}

// OnLineOfFifths is the note so many fifths from C, sharps positive, in the fourth
// octave: 6 is F sharp.
func OnLineOfFifths(fifths int) pitch.Pitch {
	p := pitch.Interval{Diatonic: 4 * fifths, Chromatic: 7 * fifths}.Apply(pitch.Pitch{Octave: 4})
	p.Octave = 4
	return p
}

// Signature says how many sharps or flats there are: "3 flats", "3 Be".
func (n *Names) Signature(fifths int) string {
	switch {
	case fifths == 0:
		return n.term("signature.none", nil)
	case fifths > 0:
		return n.term("signature.sharps", Fill{"n": fifths})
	}
	return n.term("signature.flats", Fill{"n": -fifths})
}

// SignatureNotes lists the notes of a signature as they are written: "F♯ C♯ G♯".
func (n *Names) SignatureNotes(fifths int) string {
	var names []string
	for _, name := range strings.Fields(pitch.SignatureNotes(fifths)) {
		if p, err := pitch.ParseName(name); err == nil {
			names = append(names, n.Note(p))
		}
	}
	return strings.Join(names, " ")
}

// Key names a key; of a signature alone both keys that have it.
func (n *Names) Key(k pitch.Key) string {
	switch k.Mode {
	case pitch.Major:
		return n.Major(k.Fifths)
	case pitch.Minor:
		return n.Minor(k.Fifths)
	}
	return n.Either(n.Major(k.Fifths), n.Minor(k.Fifths))
}
