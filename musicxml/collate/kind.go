package collate

import "deskpart/musicxml"

// Kind says what a difference is about.
type Kind string

// The kinds of differences.
const (
	Pitch     Kind = "pitch"     // a note sounds, or is read, at another pitch, or is struck on another instrument
	Rhythm    Kind = "rhythm"    // a note lasts, comes or looks to last otherwise, or is tied otherwise
	Bars      Kind = "bars"      // bars are missing, too many, doubled, incomplete or numbered otherwise
	Key       Kind = "key"       // a key signature
	Metre     Kind = "metre"     // a time signature
	Tempo     Kind = "tempo"     // tempo words, metronome marks
	Rehearsal Kind = "rehearsal" // a rehearsal mark
	Missing   Kind = "missing"   // a note, or a part of the score
	Extra     Kind = "extra"     // a note, or a file that does not belong to the score

	Repeats      Kind = "repeats"      // repeats (of bars and beats, too), endings, segno, coda and their words, double and final bar lines
	Dynamics     Kind = "dynamics"     // dynamics and hairpins
	Articulation Kind = "articulation" // articulations, ornaments, technical signs, noteheads
	Slur         Kind = "slur"         // slurs, glissandi
	Fermata      Kind = "fermata"      // pauses and their shapes
	Text         Kind = "text"         // other words, pedal marks, slashes
	Lyrics       Kind = "lyrics"       // words that are sung
	Chord        Kind = "chord"        // chord symbols and figured bass
	Unreadable   Kind = "unreadable"   // the file cannot be read
)

// Difference is one thing in which a part differs from the score.
type Difference struct {
	Measure string `json:"measure"` // printed number, of the score where it has the bar; "" for the part as a whole
	Beat    string `json:"beat"`    // counted from 1; "" for the bar as a whole
	Kind    Kind   `json:"kind"`
	Text    string `json:"text"`

	// Stands and Should are the two columns of an errata list: what is printed in
	// the part, and what ought to be. Pitches are the part's own, as its player
	// reads them. Either is empty where there is nothing.
	Stands string `json:"-"`
	Should string `json:"-"`

	at place
}

// place orders differences: the step in the alignment of the bars, then the time
// within the bar.
type place struct {
	step  int
	onset musicxml.Fraction
}

// sentence makes the text of a difference out of its two columns.
func sentence(stands, should string) string {
	switch {
	case stands == "":
		return should + " is missing"
	case should == "":
		return stands + " stands, and should not"
	}
	return stands + " stands, " + should + " should"
}
