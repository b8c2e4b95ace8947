package assign

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// The ways in which a part's instrument was recognised, in the order in which
// they are asked.
const (
	ByPlan      = "plan"
	ByForPart   = "for-part"
	ByTranspose = "transpose"
	ByName      = "name"
	BySound     = "sound"
	ByFamily    = "family" // the family's usual key, assumed
	ByNone      = "none"
)

// Assignment is one part file to be made, with what only the copyist needs to know.
type Assignment struct {
	plan.Assignment        // but for With, Some and Numbers
	PlanLine        int    // the line of the plan's file, 0 where it has none
	PlanPart        string // what the plan calls the part
	planIndex       int    // of the row, from 0
	planLabel       bool   // the label is the plan's
	// Takes are the passages of a percussion staff that the player has; none: all of it.
	Takes []Take
	// Has lists the player's instruments, at the head of the part; "" where it says nothing.
	Has string
	// OneStaff are the numbers of the players who share one staff with all of With ("1,2"), ""
	// where nobody does.
	OneStaff string
	// With are the further staves that the same player has, in score order.
	With []Assignment
	// Silent: the player has nothing in this movement of a work, and the part lends the
	// sheet only its bars, keys and marks.
	Silent  bool
	Sings   bool     // the words stand below the staff and the dynamics above
	Sharers []Sharer // those who share the staff, where it is given to one of them
	Shared  bool     // several players read the staff
}

// Told is what is told of an assignment.
func (c *Assigner) Told(a *Assignment) plan.Assignment {
	told := a.Assignment
	told.Some = len(a.Takes) > 0 || a.OneStaff != ""
	told.Numbers, told.Warnings = slices.Clone(c.Numbers(a)), slices.Clone(a.Warnings)
	for i := range a.With {
		told.With = append(told.With, c.Told(&a.With[i]))
	}
	return told
}

// OnePlayer is the player of a shared staff that the sheet is for, nil for the whole
// staff.
func (a *Assignment) OnePlayer() *Sharer {
	if a.Player == 0 {
		return nil
	}
	return &a.Sharers[a.Player-1]
}

// Numbers are those of the players, as the names say them; none where they say none.
func (c *Assigner) Numbers(a *Assignment) []int {
	one := a.OnePlayer()
	switch {
	case one == nil:
		return c.Parts[a.Part].Match.Players
	case one.Number > 0:
		return []int{one.Number}
	}
	return nil
}

// Options say which part files there are to be.
type Options struct {
	Language pitch.Language // of the labels
	Players  bool           // a part for each player of a shared staff
	// Divide are the ids of parts that are divided among their players all the same.
	Divide map[string]bool
	Only   []string   // patterns
	Plan   []plan.Row // checked
	// Work: the score is a movement of a work, and the plan is for all of them.
	Work bool
	// Choir is how the singers' parts are written: ChoirScore, ChoirParts, or "" as any.
	Choir string
	// Editions are the readers for each of whom every part is written, in order.
	Editions []*instruments.Reader
	// Substitutes are the instruments that each part is written for as well, nil for none.
	Substitutes *instruments.Substitutes
}

// Assigner says who plays what of a score.
type Assigner struct {
	*survey.Score
	options  Options
	evidence []Evidence // of several players, beside the score's parts
}

// New is for a score that is settled; the evidence stands beside its parts.
func New(score *survey.Score, evidence []Evidence, o Options) *Assigner {
	return &Assigner{score, o, evidence}
}

// All lists the part files in score order, what was asked for that names none, and what is
// wrong with rows of the plan, which then do what can be done of them.
func (c *Assigner) All() (kept []Assignment, missing []plan.Missing, wrong *plan.Error) {
	rows, wrong := planned(c.options.Plan, c.Catalogue)
	chairs := c.chairs()
	named, missing := c.named(rows, chairs)
	var all []Assignment
	for i := range chairs {
		for _, a := range c.apply(rows, named, chairs, i) {
			all = append(all, c.versions(a, i+1)...)
		}
	}
	c.gatherSingers(all)
	kept, absent := c.only(c.bringTogether(all))
	return kept, append(missing, absent...), wrong
}

// Number counts part files, from 1.
func Number(files []Assignment) {
	for i := range files {
		files[i].Number = i + 1
	}
}

// Usual finds the instrument that a part is written for.
func (c *Assigner) Usual(i int) Assignment {
	s := &c.Parts[i]
	a := Assignment{Assignment: plan.Assignment{Part: i, ID: s.ID, Name: s.Name, Instrument: s.Match.Instrument, Assumed: s.Match.Assumed}}
	switch {
	case s.ForPart != nil:
		a.RecognisedBy, a.Assumed = ByForPart, false
		a.Instrument = c.sounding(s, s.ForPartTransposition())
	case s.Declared():
		a.RecognisedBy, a.Assumed = ByTranspose, false
		a.Instrument = c.sounding(s, s.Source[0].To)
	default:
		a.RecognisedBy = s.Match.By
	}
	a.Written = a.Instrument
	a.Label = c.label(a, s)
	a.Label = cmp.Or(a.Label, a.ID)
	if a.RecognisedBy == ByNone {
		why := fmt.Sprintf("no instrument is known by the name %q", a.Name)
		if strings.TrimSpace(a.Name) == "" {
			why = "the part has no name that says its instrument"
		}
		a.Warnings = append(a.Warnings, musicxml.Warning{Code: notice.UnrecognisedPart, Text: why + "; the part stays at sounding pitch"})
	}
	if s.Match.Question != "" && a.RecognisedBy == s.Match.By {
		a.Warnings = append(a.Warnings, musicxml.Warning{Code: notice.WhichInstrument, Text: s.Match.Question})
	}
	if a.RecognisedBy == ByFamily && survey.Transposes(a.Instrument) {
		a.Warnings = append(a.Warnings, musicxml.Warning{Code: notice.AssumedKey,
			Text: fmt.Sprintf("%q does not say its key; taken for %s, the usual one", a.Name, a.Instrument.Label("en", ""))})
	}
	return a
}

// label heads the sheet: the catalogue's name where the instrument is known and
// is what the score says, else the score's own name, as it prints it, in one line.
func (c *Assigner) label(a Assignment, s *survey.Part) string {
	if a.Instrument == nil || s.Match.By == instruments.ByNone {
		name := a.Name
		if display := c.ScoreParts[a.Part].NameDisplay; display != "" {
			name = display // it overrides part-name (MusicXML 4.0, part-name-display)
		}
		return strings.Join(strings.Fields(name), " ")
	}
	m := s.Match
	m.Instrument = a.Instrument // in the key that the part itself says
	return m.Label(c.options.Language)
}

// sounding finds the instrument that the names mean among those that sound as
// the part itself says; nil where the names mean none that does.
func (c *Assigner) sounding(s *survey.Part, says transpose.Transposition) *instruments.Instrument {
	named := s.Match.Instrument
	if named == nil || named.Interval() == says.Interval() {
		return named
	}
	return c.Relative(named, says)
}
