package parts

import (
	"deskpart/instruments"
	"deskpart/transpose"
)

// Input says how a score is read that has no <transpose> for a transposing
// instrument.
type Input string

// The ways to read such a score.
const (
	// Auto compares the key signatures of transposing and other parts.
	Auto Input = "auto"
	// Concert takes every note as it sounds.
	Concert Input = "concert"
	// Written takes every note as the player reads it.
	Written Input = "written"
)

// Tacet says what becomes of a part that is silent all through.
type Tacet string

// What becomes of a silent part.
const (
	TacetWrite Tacet = "write" // a sheet that says so
	TacetSkip  Tacet = "skip"  // no sheet
)

// Options are the settings of a copyist.
type Options struct {
	// Input. Default: Auto.
	Input Input
	// MaxSignature is the most sharps or flats of a key signature before its
	// enharmonic twin is taken. Default: 6.
	MaxSignature int
	// WithoutSignature lists instruments, kinds, families or groups that are
	// written without a key signature. Default: none.
	WithoutSignature []string
	// Players splits a shared staff into one part for each player. Default: false.
	Players bool
	// RestBars is how many empty bars in a row become one multi-bar rest; 0 is
	// never. Default: 2.
	RestBars int
	// Cues is after how many bars of rest an entry gets cue notes; 0 is never.
	// Default: 0.
	Cues int
	// Spelling of altered notes. Default: transpose.Exact.
	Spelling transpose.Spelling
	// Tacet. Default: TacetWrite.
	Tacet Tacet
	// Language of the labels: en, de, fr, it or es. Default: en.
	Language string
	// Only keeps the parts whose name or id matches one of the patterns, where *
	// stands for anything. Default: all parts.
	Only []string
	// Level of the players, whose ranges the notes are held against:
	// instruments.Professional or instruments.School. Default: professional.
	Level string
	// Plan says who plays what. Default: every part for its own instrument.
	Plan []PlanRow
}

// DefaultOptions returns the defaults.
func DefaultOptions() Options {
	return Options{Input: Auto, MaxSignature: 6, RestBars: 2, Tacet: TacetWrite, Language: "en"}
}

func (o *Options) level() string {
	if o.Level == "" {
		return instruments.Professional
	}
	return o.Level
}

// PlanRow is one line of a plan: a part of the score given to an instrument.
// Empty fields mean "as usual".
type PlanRow struct {
	Part       string // name, id or pattern
	Instrument string // catalogue id or name
	Octave     string // whole octaves added to the sound, or "auto"
	Clef       string // name of a clef
	Label      string
	Line       int `json:"-"` // in the plan's file; 0 where it comes from elsewhere
}
