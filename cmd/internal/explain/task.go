package explain

import (
	"fmt"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Side is one of the two pitches of a transposing instrument's music.
type Side string

// The two sides.
const (
	Sounding Side = "sounding" // what is heard, as a piano would write it
	Written  Side = "written"  // what the player reads
)

// Other is the side that is asked for.
func (s Side) Other() Side {
	if s == Sounding {
		return Written
	}
	return Sounding
}

// ParseSide reads the word of a flag.
func ParseSide(word string) (Side, error) {
	if s := Side(word); s == Sounding || s == Written {
		return s, nil
	}
	return "", fmt.Errorf("%q is neither sounding nor written", word)
}

// Task is what a learner is to do.
type Task struct {
	// Instrument is nil for a plain transposition.
	Instrument *instruments.Instrument
	// Plain is the interval of a plain transposition, by which written music
	// moves. Default: none.
	Plain pitch.Interval
	// From is the side that is given.
	From Side
	// WithoutSignature is music for instruments that read accidentals at the
	// notes and no key signature, as horns and trumpets long did. Default: false.
	WithoutSignature bool
	// MaxSignature is the most sharps or flats of a signature before its
	// enharmonic twin is taken. Default, for 0: 6 in what a player reads, and 7,
	// the most that are printed at all, in what sounds.
	MaxSignature int
}

// ParseTask finds the instrument that a user's words mean. Words such as "minor
// third down" are a plain transposition.
func ParseTask(catalogue *instruments.Catalogue, words string, from Side) (Task, error) {
	if i := catalogue.ByID(strings.ToLower(strings.TrimSpace(words))); i != nil {
		return Task{Instrument: i, From: from}, nil
	}
	if interval, err := pitch.ParseInterval(words); err == nil {
		return Task{Plain: interval, From: from}, nil
	}
	if isClef(words) {
		return Task{}, fmt.Errorf("%q is a clef and no instrument; exercise --topic clef and explain --topic clef are about clefs", words)
	}
	found := catalogue.Find(words)
	if len(found) == 0 {
		return Task{}, fmt.Errorf("no instrument is known by %q; deskpart instruments lists them all", words)
	}
	if found[0].Flags.Unpitched {
		return Task{}, fmt.Errorf("%s has no pitch to move; choose an instrument that sounds notes", found[0].Name("en"))
	}
	return Task{Instrument: found[0], From: from}, nil
}

// clefWords are the words for clef in the five languages.
var clefWords = []string{"clef", "schlüssel", "schluessel", "clé", "clave", "chiave"}

// isClef reports whether words name a clef: an alto clef is no alto.
func isClef(words string) bool {
	for _, field := range strings.Fields(strings.ToLower(words)) {
		for _, clef := range clefWords {
			if field == clef || clef == "schlüssel" && strings.HasSuffix(field, clef) {
				return true
			}
		}
	}
	return false
}

// Transposition is what is added to written pitch to get sounding pitch.
func (t Task) Transposition() transpose.Transposition {
	if t.Instrument != nil {
		return music.TranspositionBy(t.Instrument.Interval())
	}
	return music.TranspositionBy(t.Plain)
}

// On is the <transpose> of music on one of the sides.
func (t Task) On(s Side) transpose.Transposition {
	if s == Written {
		return t.Transposition()
	}
	return transpose.Transposition{}
}

// Interval leads from a given note to its answer, as long as no signature is
// taken by its twin.
func (t Task) Interval() pitch.Interval {
	i := t.Transposition().Interval()
	if t.From == Sounding {
		return i.Negate()
	}
	return i
}

// ID is the catalogue's id, or the interval's name.
func (t Task) ID() string {
	if t.Instrument == nil {
		return t.Plain.String()
	}
	return t.Instrument.ID
}

// limit is the most sharps or flats on a side. A player's part avoids seven, but
// what sounds stands in the key it has: published scores in seven flats have
// parts in six.
func (t Task) limit(s Side) int {
	switch {
	case t.MaxSignature != 0:
		return t.MaxSignature
	case s == Sounding:
		return pitch.MostSigns
	}
	return transpose.DefaultOptions().MaxSignature
}
