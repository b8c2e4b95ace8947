package words

import (
	"strconv"
	"strings"
)

// The signs and clefs are named by the words of MusicXML and of the catalogue.
var signKeys = map[string]string{"sharp": "sharp", "flat": "flat", "natural": "natural", "double-sharp": "double-sharp",
	"sharp-sharp": "double-sharp", "flat-flat": "double-flat", "natural-sharp": "sharp", "natural-flat": "flat",
	"quarter-sharp": "quarter-sharp", "quarter-flat": "quarter-flat", "three-quarters-sharp": "three-quarters-sharp", "three-quarters-flat": "three-quarters-flat"}

// Sign names a printed accidental with its article, by its MusicXML value: "a
// double sharp", "ein Doppelkreuz".
func (n *Names) Sign(accidental string) string {
	key, known := signKeys[accidental]
	if !known {
		key = "other"
	}
	return n.term("sign."+key, nil)
}

// Clef names a clef, by the catalogue's word for it ("treble", "bass-8vb"): "treble
// clef", "clé d'ut troisième ligne". The second result is false for another word.
func (n *Names) Clef(name string) (string, bool) {
	if !n.terms.Has("clef." + name) {
		for _, sign := range []string{"8va", "8vb"} {
			if plain, has := strings.CutSuffix(name, "-"+sign); has && n.terms.Has("clef."+plain) {
				return n.term("clef.with-"+sign, Fill{"clef": n.term("clef."+plain, nil)}), true
			}
		}
		return name, false
	}
	return n.term("clef."+name, nil), true
}

// Value names a note value with its article, by the MusicXML type ("eighth",
// "16th"): "a dotted quarter note". The second result is false where there is no name:
// for more than two dots, and for dots in a triplet.
func (n *Names) Value(noteType string, dots int, triplet bool) (string, bool) {
	key := "value." + noteType
	if dots > 0 {
		key += "." + strconv.Itoa(dots)
	}
	if triplet {
		key += ".triplet"
	}
	if !n.terms.Has(key) {
		return "", false
	}
	return n.term(key, nil), true
}

// OtherValue names a length that no single note has, in quarter notes.
func (n *Names) OtherValue(length string) string {
	return n.term("value.other", Fill{"length": length})
}
