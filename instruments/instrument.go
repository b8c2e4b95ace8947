package instruments

import (
	"slices"
	"strings"

	"deskpart/transpose/pitch"
)

// An Instrument is one instrument in one notation: what a player reads, and what
// sounds then. Two notations of one instrument (bass clarinet in treble or in
// bass clef) are two Instruments of one Kind.
//
// Diatonic, Chromatic and OctaveChange are added to written pitch to get sounding
// pitch, as in the <transpose> of MusicXML: a baritone saxophone has -5, -9, -1.
type Instrument struct {
	ID      string // "clarinet-bflat"
	Kind    string // the instrument whatever its key: "clarinet", "bass-clarinet"
	Variant string // the notation where a kind has several: "bass clef, old notation"
	Family  string // "clarinet", "horn", "timpani"
	Group   Group

	Key      string // what sounds for a written C, "Bb", "F#"; "" for voices, strings, percussion
	Register string // "alto" or "basso" where the key alone leaves the octave open, else ""

	Diatonic     int // steps within an octave, -6 to 6
	Chromatic    int // semitones within an octave, -11 to 11
	OctaveChange int // octaves on top

	Clefs       []Clef   // in order of preference, the part's usual clef first
	Staves      int      // 2 for piano and harp (Clefs are then those of the staves), else 1
	Sounds      []string // standard sound ids, the instrument's own first
	MIDIProgram int      // General MIDI program 1 to 128, 0 for none
	OneLine     bool     // sounds one note at a time
	Flags       Flags
	TubeKeys    []string // keys that name the tube and do not transpose: a tuba in F

	Note       string // disputed usage, in words
	Source     string // keys of the sources, or mem-… for a handbook from memory
	Confidence string // "published", "memory" or "derived"

	names  map[pitch.Language]Name
	ranges []Range
	tuning []pitch.Pitch // of the open strings as they sound, the first string first
}

// Flags are the properties of an instrument that decide what can be played on it.
type Flags struct {
	Usual      bool // of its kind, the one that a name without key means
	PlainKey   bool // of those in one key, the one that the key without alto or basso means
	SaysKey    bool // the trade names the key with the instrument: "Clarinet in A"
	SaysOctave bool // the trade names the register too: "Horn in B♭ basso"
	Rare       bool // out of use, or one work's instrument: never assumed
	Unpitched  bool
	Breath     bool // the player must breathe
	Bowed      bool
	Plucked    bool
	Fretted    bool
	Keyboard   bool
	Mallets    bool // bars, tubes or bells struck with mallets or hammers
	Voice      bool
	SoundsInC  bool // of those an octave away, one that a score in C has at sounding pitch: a crook
}

// Sound returns the instrument's standard sound id (MusicXML 4.0, sounds.xml), ""
// where the standard has none for it.
func (i *Instrument) Sound() string {
	if len(i.Sounds) == 0 {
		return ""
	}
	return i.Sounds[0]
}

// Interval is what is added to written pitch to get sounding pitch.
func (i *Instrument) Interval() pitch.Interval {
	return pitch.Interval{Diatonic: i.Diatonic, Chromatic: i.Chromatic}.Add(pitch.Octaves(i.OctaveChange))
}

// WrittenFifths is the signature that the player reads in a sounding key, in fifths: its
// enharmonic twin past six sharps or flats.
func (i *Instrument) WrittenFifths(sounding int) int {
	written := sounding - i.Interval().Fifths()
	if pitch.Abs(written) > 6 {
		return pitch.Twin(written)
	}
	return written
}

// Tuning returns the open strings of a fretted instrument as they sound, the first
// string first; none where the catalogue has no tuning.
func (i *Instrument) Tuning() []pitch.Pitch { return slices.Clone(i.tuning) }

// StrungAs reports whether the numbers of strings and frets mean the same on another
// instrument: it is of the same kind, or tuned alike.
func (i *Instrument) StrungAs(other *Instrument) bool {
	return i.Kind == other.Kind || len(i.tuning) > 0 && slices.Equal(i.tuning, other.tuning)
}

// Transposes reports whether sounding pitch differs from written pitch at all.
func (i *Instrument) Transposes() bool {
	return i.Interval() != pitch.Interval{}
}

// OctaveOnly reports whether the instrument sounds as written or whole octaves away.
func (i *Instrument) OctaveOnly() bool {
	return i.Diatonic == 0 && i.Chromatic == 0
}

// KeepsOctave reports whether the instrument stands in a score in C as its player reads
// it, whole octaves away where it transposes at all: piccolo and double bass do
// (newhouse-c). A crook in C does not: beside the horn in D, which such a score has at
// sounding pitch, the horn in C stands as it sounds too.
func (i *Instrument) KeepsOctave() bool {
	return i.OctaveOnly() && !i.Flags.SoundsInC
}

// WrittenC returns what sounds when the player reads middle C.
func (i *Instrument) WrittenC() pitch.Pitch {
	return i.Interval().Apply(pitch.Pitch{Step: pitch.C, Octave: 4})
}

// Is reports whether the word is the instrument's id, kind, family or group, as a
// list like "horn,trumpet,timpani" means it.
func (i *Instrument) Is(word string) bool {
	return word == i.ID || word == i.Kind || word == i.Family || word == string(i.Group)
}

// IsWind reports whether it is a woodwind or a brass instrument.
func (i *Instrument) IsWind() bool { return i.Group == Woodwind || i.Group == Brass }

// IsVoice reports whether it is sung.
func (i *Instrument) IsVoice() bool { return i.Family == "voice" }

// A Clef in the terms of MusicXML. The staff line counts from the bottom; the
// octave change is 1 or -1 with a small 8 over or under the clef.
type Clef struct {
	Sign         string // "G", "F", "C", "percussion"
	Line         int    // 0 for percussion
	OctaveChange int
}

var clefNames = map[string]Clef{
	"treble":     {"G", 2, 0},
	"treble-8vb": {"G", 2, -1},
	"treble-8va": {"G", 2, 1},
	"bass":       {"F", 4, 0},
	"bass-8va":   {"F", 4, 1},
	"bass-8vb":   {"F", 4, -1},
	"baritone":   {"F", 3, 0},
	"alto":       {"C", 3, 0},
	"tenor":      {"C", 4, 0},
	"mezzo":      {"C", 2, 0},
	"soprano":    {"C", 1, 0},
	"percussion": {"percussion", 0, 0},
}

// octaveSigns are what stands behind a clef's name, by its change of octave.
var octaveSigns = map[int]string{1: "-8va", -1: "-8vb"}

// Name returns the clef's name in English: "treble", "bass", "treble-8vb".
func (c Clef) Name() string {
	for name, clef := range clefNames {
		if clef == c {
			return name
		}
	}
	plain := Clef{Sign: c.Sign, Line: c.Line}
	for name, clef := range clefNames {
		if clef == plain && octaveSigns[c.OctaveChange] != "" {
			return name + octaveSigns[c.OctaveChange]
		}
	}
	return c.Sign
}

// ParseClef is the inverse of Name: "treble", "bass", "tenor", "treble-8vb". The
// second result is false for a name that is no clef's.
func ParseClef(name string) (Clef, bool) {
	c, ok := clefNames[name]
	for change, sign := range octaveSigns {
		plain, cut := strings.CutSuffix(name, sign)
		if read := clefNames[plain]; !ok && cut && read.Line > 0 && read.OctaveChange == 0 {
			read.OctaveChange = change
			return read, true
		}
	}
	return c, ok
}
