package pitch

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Mode is major or minor, or unsaid: a signature alone does not tell.
type Mode string

// The modes, in MusicXML's words.
const (
	Unsaid Mode = ""
	Major  Mode = "major"
	Minor  Mode = "minor"
)

// Key is a signature, in fifths (sharps positive, flats negative; MusicXML 4.0,
// fifths), and the mode where it is known. The zero value is a signature without
// signs.
type Key struct {
	Fifths int
	Mode   Mode
}

// MostSigns is where printed signatures end, in sharps or flats: keys past it are
// written as their enharmonic twins (common practice, no source).
const MostSigns = 7

// minorFifths is how far a minor key lies from the major key of the same tonic.
const minorFifths = -3

var errKey = errors.New("neither a number of fifths, such as -3, nor a name, such as Eb or F# minor")

// ParseKey reads a number of fifths ("-3", "2") or a name ("Eb", "F# minor",
// "c# minor", "B♭ major", "Am"). A name without a mode is major. Keys past seven
// signs are refused.
func ParseKey(text string) (Key, error) {
	text = strings.TrimSpace(text)
	if n, err := strconv.Atoi(text); err == nil {
		if Abs(n) > MostSigns {
			return Key{}, fmt.Errorf("key %q: a signature has at most seven sharps or flats", text)
		}
		return Key{Fifths: n}, nil
	}
	place, mode, ok := parseKeyName(text)
	if !ok {
		return Key{}, fmt.Errorf("key %q is %w", text, errKey)
	}
	k := Key{place, mode}
	if mode == Minor {
		k.Fifths += minorFifths
	}
	if Abs(k.Fifths) > MostSigns {
		return Key{}, fmt.Errorf("key %q would need %s; write its enharmonic twin", text, SignatureWords(k.Fifths))
	}
	return k, nil
}

// parseKeyName reads a tonic, as its place on the line of fifths, and a mode.
func parseKeyName(text string) (place int, mode Mode, ok bool) {
	name, word, _ := strings.Cut(text, " ")
	switch mode = Mode(strings.ToLower(strings.TrimSpace(word))); {
	case mode == Unsaid && strings.HasSuffix(name, "m"):
		mode, name = Minor, strings.TrimSuffix(name, "m")
	case mode == Unsaid:
		mode = Major
	case mode != Major && mode != Minor:
		return 0, "", false
	}
	tonic, err := ParseName(name)
	semitones, _ := tonic.Alter.Whole()
	return fifthsOf[tonic.Step] + 7*semitones, mode, err == nil && !strings.Contains(name, "(") // no key by a decimal
}

// Moved is the key an interval away.
func (k Key) Moved(i Interval) Key { return Key{k.Fifths + i.Fifths(), k.Mode} }

// Tonic is the key note's name: "Eb", "F#". Of a signature alone it is that of
// the major key.
func (k Key) Tonic() string { return FifthsName(k.tonicFifths()) }

// TonicStep is the letter of the key note.
func (k Key) TonicStep() Step {
	place := k.tonicFifths()
	return BySharps()[place+1-7*FloorDiv(place+1, 7)]
}

// tonicFifths is the key note's place on the line of fifths.
func (k Key) tonicFifths() int {
	if k.Mode == Minor {
		return k.Fifths - minorFifths
	}
	return k.Fifths
}

// String names the key: "Eb major", "F# minor"; of a signature alone both keys
// that have it: "Eb major or C minor". ParseKey reads the names of single keys.
func (k Key) String() string {
	if k.Mode == Unsaid {
		return Key{k.Fifths, Major}.String() + " or " + Key{k.Fifths, Minor}.String()
	}
	return k.Tonic() + " " + string(k.Mode)
}
