package explain

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/transpose/pitch"
)

// Mode is major or minor, or unsaid: a signature alone does not tell.
type Mode string

// The modes.
const (
	Unsaid Mode = ""
	Major  Mode = "major"
	Minor  Mode = "minor"
)

// Key is a signature, in fifths (sharps positive), and the mode where it is known.
type Key struct {
	Fifths int
	Mode   Mode
}

// minorFifths is how far a minor key lies from the major key of the same tonic.
const minorFifths = -3

// ParseKey reads a number of fifths ("-3", "2") or a name ("Eb", "F# minor",
// "c# minor", "Bb major"). A name without a mode is major.
func ParseKey(text string) (Key, error) {
	text = strings.TrimSpace(text)
	if n, err := strconv.Atoi(text); err == nil {
		if n < -7 || n > 7 {
			return Key{}, fmt.Errorf("key %q: a signature has at most seven sharps or flats", text)
		}
		return Key{Fifths: n}, nil
	}
	name, mode, _ := strings.Cut(text, " ")
	k := Key{Mode: Mode(strings.ToLower(strings.TrimSpace(mode)))}
	if k.Mode == "" {
		k.Mode = Major
	}
	tonic, err := pitch.Parse(name + "4")
	if err != nil || k.Mode != Major && k.Mode != Minor {
		return Key{}, fmt.Errorf("key %q is neither a number of fifths, such as -3, nor a name, such as Eb or F# minor", text)
	}
	c := pitch.Pitch{Step: pitch.C, Octave: 4}
	up, _ := pitch.Between(c, tonic)
	k.Fifths = up.Fifths()
	if k.Mode == Minor {
		k.Fifths += minorFifths
	}
	if k.Fifths < -7 || k.Fifths > 7 {
		return Key{}, fmt.Errorf("key %q would need %s; write its enharmonic twin", text, pitch.SignatureWords(k.Fifths))
	}
	return k, nil
}

// Moved is the key an interval away.
func (k Key) Moved(i pitch.Interval) Key { return Key{k.Fifths + i.Fifths(), k.Mode} }

// Tonic is the key note's name: "Eb", "F#". Of a signature alone it is that of
// the major key.
func (k Key) Tonic() string {
	place := k.Fifths
	if k.Mode == Minor {
		place -= minorFifths
	}
	return fifthsName(place)
}

// fifthsName is the note that far from C on the line of fifths.
func fifthsName(place int) string {
	steps := [7]pitch.Step{pitch.F, pitch.C, pitch.G, pitch.D, pitch.A, pitch.E, pitch.B}
	turn := floorDiv(place+1, 7)
	name := steps[place+1-7*turn].String()
	if turn < 0 {
		return name + strings.Repeat("b", -turn)
	}
	return name + strings.Repeat("#", turn)
}

// String names the key: "Eb major", "F# minor"; of a signature alone both keys
// that have it.
func (k Key) String() string {
	if k.Mode == Unsaid {
		return Key{k.Fifths, Major}.String() + " or " + Key{k.Fifths, Minor}.String()
	}
	return k.Tonic() + " " + string(k.Mode)
}

// SignatureNotes lists the notes of a signature in the order in which they are
// written: "F# C# G#".
func SignatureNotes(fifths int) string {
	var names []string
	for i := range abs(fifths) {
		if fifths > 0 {
			names = append(names, fifthsName(6+i))
		} else {
			names = append(names, fifthsName(-2-i))
		}
	}
	return strings.Join(names, " ")
}

// spell says a signature with its notes: "3 sharps (F# C# G#)".
func spell(fifths int) string {
	if fifths == 0 {
		return pitch.SignatureWords(0)
	}
	return pitch.SignatureWords(fifths) + " (" + SignatureNotes(fifths) + ")"
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
