package parts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/casting"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/internal/written"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Input says how a score is read that has no <transpose> for a transposing
// instrument.
type Input string

// The ways to read such a score.
const (
	// Auto compares the key signatures of transposing and other parts.
	Auto = Input(survey.Auto)
	// Concert takes every note as it sounds.
	Concert = Input(survey.Concert)
	// Written takes every note as the player reads it.
	Written = Input(survey.Written)
)

// Tacet says what becomes of a part that is silent all through.
type Tacet string

// What becomes of a silent part.
const (
	TacetWrite Tacet = "write" // a sheet that says so
	TacetSkip  Tacet = "skip"  // no sheet
)

// Choir says how the parts of singers are written.
type Choir string

// How singers' parts are written.
const (
	ChoirAsAny Choir = ""                // as any other part
	ChoirScore Choir = assign.ChoirScore // one part for all, a staff for each voice, words below, dynamics above
	ChoirParts Choir = assign.ChoirParts // a part for each voice, words below, dynamics above
)

// PlanRow is one line of a plan, read by package plan.
type PlanRow = plan.Row

// PlanError is what is wrong with a plan, a line for each of its rows: what no catalogue
// knows, what fits no part of the score, what no one can play.
type PlanError = plan.Error

// Unlimited is a MaxSignature that lets every signature stand.
const Unlimited = written.Unlimited

// Each does n pieces of work, numbered from 0, in any order and as many at once as
// there are workers, each with a workspace of its own, and returns an error if there
// was any. A nil one does them one after the other in one workspace.
type Each func(n int, do func(w *Workspace, i int) error) error

// Do does the pieces of work.
func (e Each) Do(n int, do func(w *Workspace, i int) error) error {
	if e != nil {
		return e(n, do)
	}
	w := new(Workspace)
	for i := range n {
		if err := do(w, i); err != nil {
			return err
		}
	}
	return nil
}

// Options are the settings of a copyist. [Survey] checks them. Where a word or a
// function is empty the default holds; DefaultOptions has the others.
type Options struct {
	// Input. Default: Auto.
	Input Input
	// MaxSignature is the most sharps or flats of a key signature, from 0 to 7,
	// before its enharmonic twin is taken, or Unlimited. Default: 6.
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
	// Language of the labels. Default: pitch.English.
	Language pitch.Language
	// Only keeps the parts that one of the words names, as package naming finds them: a
	// name in any spelling and language, an id, an instrument, or a pattern with *, or
	// several with commas between them. What names none is told by Job.Missing.
	Only []string
	// Level of the players, whose ranges the notes are held against. Default:
	// instruments.Professional.
	Level instruments.Level
	// Plan says who plays what. Default: every part for its own instrument.
	Plan []PlanRow
	// Choir is how the parts of singers are written. Default: ChoirAsAny.
	Choir Choir
	// Editions are the readers for each of whom every part is written, in an octave that
	// suits. Default: none, each part is for its own instrument.
	Editions []*instruments.Reader
	// Substitutes are the instruments for which each part is written as well, because
	// they commonly stand in for its own. Default: none.
	Substitutes *instruments.Substitutes
	// Share are groups of two or three parts, by name, that are put on one staff each. Default:
	// none.
	Share [][]string
	// Percussionists is to how many players the percussion is given, without timpani. Default:
	// 0, each staff is a part.
	Percussionists int
	// WholePlan: the plan is for this score, and whatever is wrong with it, also a row that
	// names no part, is refused by Assign, all at once. Default: such rows are told by
	// Job.Missing, and Survey refuses a plan that is wrong whatever the score.
	WholePlan bool
	// Force makes parts also where a player has what one player can hardly do: two
	// instruments at once, or no time to change. Default: refused.
	Force bool
	// Work: the score is a movement of a work, whose shared staves may have to be divided
	// when the players of all movements are known (Surveyed.Divided). Default: false.
	Work bool
	// Undivided leaves divisi on one staff, as the score has them. Default: what one staff
	// cannot hold stands on two.
	Undivided bool
	// Each works through the parts that Survey reads. Default: one after the other.
	Each Each
}

// DefaultOptions returns the defaults.
func DefaultOptions() Options {
	return Options{Input: Auto, MaxSignature: 6, RestBars: 2, Tacet: TacetWrite, Language: pitch.English, Level: instruments.Professional}
}

// MostPercussionists bounds how many players share the percussion.
const MostPercussionists = casting.MostPercussionists

// settled returns the options with the defaults for what is empty, or says what is
// wrong with them.
func (o Options) settled(catalogue *instruments.Catalogue) (Options, error) {
	casting, writing := o.casting(), o.writing(nil)
	err := cmp.Or(
		oneOf("input", &o.Input, Auto, Concert, Written),
		oneOf("tacet", &o.Tacet, TacetWrite, TacetSkip),
		oneOf("choir", &o.Choir, ChoirAsAny, ChoirScore, ChoirParts),
		oneOf("language", &o.Language, pitch.Languages()...),
		oneOf("level", &o.Level, instruments.Levels()...),
		fromZero("multi-bar rests from %d bars on", o.RestBars),
		fromZero("cue notes after %d bars", o.Cues),
		writing.Check(catalogue),
		casting.Check(catalogue),
	)
	return o, err
}

// oneOf checks a word; the first of those allowed stands for an empty one.
func oneOf[T ~string](what string, word *T, allowed ...T) error {
	if *word == "" {
		*word = allowed[0]
	}
	if slices.Contains(allowed, *word) {
		return nil
	}
	var words []string
	for _, a := range allowed {
		if a != "" {
			words = append(words, string(a))
		}
	}
	return fmt.Errorf("%s %q is none of %s", what, *word, strings.Join(words, ", "))
}

func fromZero(what string, n int) error {
	if n < 0 {
		return fmt.Errorf(what+" are asked for; it is a number from 0", n)
	}
	return nil
}

// countsPlayers reports whether it matters how many share a staff: where players have parts of
// their own, or others may play from it.
func (o *Options) countsPlayers() bool {
	return o.Players || o.Work || len(o.Plan) > 0 || o.Substitutes != nil
}

// casting says which part files there are to be.
func (o *Options) casting() casting.Options {
	return casting.Options{Share: o.Share, Percussionists: o.Percussionists, WholePlan: o.WholePlan, Force: o.Force, Options: assign.Options{
		Language: o.Language, Players: o.Players, Only: o.Only, Plan: o.Plan, Choir: string(o.Choir), Editions: o.Editions, Substitutes: o.Substitutes, Work: o.Work}}
}

// writing says how parts are written for their players.
func (o *Options) writing(memory *transpose.Memory) written.Options {
	return written.Options{MaxSignature: o.MaxSignature, WithoutSignature: o.WithoutSignature, Spelling: o.Spelling, Level: o.Level, Memory: memory}
}
