package parts

import (
	"fmt"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
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

// Assignment is one part file to be made: a part of the score for an instrument.
type Assignment struct {
	Part         int // index among the score's parts
	Number       int // place of the file, counted from 1 in score order
	ID           string
	Name         string                  // as in the score
	Label        string                  // as the sheet is headed
	Instrument   *instruments.Instrument // nil where it was not recognised
	RecognisedBy string
	Assumed      bool
	Player       int // 1, 2 … of a shared staff; 0 for the whole staff
	PlayerCount  int
	Octave       string // of the plan: whole octaves added to the sound, or "auto"
	Clef         string // of the plan
	Warnings     []musicxml.Warning

	// written is the instrument that the score has the part for, nil where it was
	// not recognised.
	written   *instruments.Instrument
	planLabel bool   // the label is the plan's
	desks     []desk // those who share the staff
}

// desk is the player that the sheet is for, nil for the whole staff.
func (a *Assignment) desk() *desk {
	if a.Player == 0 {
		return nil
	}
	return &a.desks[a.Player-1]
}

// Assign says which part files there will be, in score order. Every part must
// have been surveyed.
func (c *Copyist) Assign() ([]Assignment, error) {
	c.settleReading()
	c.consensus = c.newConsensus()
	c.road, c.lengths = newRoad(c.surveys, c.leads()), lengths(c.surveys)
	rows, err := planned(c.options.Plan, c.catalogue)
	if err != nil {
		return nil, err
	}
	var all []Assignment
	for i := range c.score.Parts {
		usual := c.usual(i)
		usual.Warnings = append(usual.Warnings, c.contradictions(i)...)
		for _, player := range c.playersOf(usual) {
			for _, a := range c.apply(rows, usual, player) {
				a.Number = len(all) + 1
				all = append(all, a)
			}
		}
	}
	c.keepUnused(rows)
	kept := all[:0:0]
	for _, a := range all {
		if c.wanted(a) {
			kept = append(kept, a)
		}
	}
	return kept, nil
}

// usual finds the instrument that a part is written for.
func (c *Copyist) usual(i int) Assignment {
	s := &c.surveys[i]
	a := Assignment{Part: i, ID: s.ID, Name: s.Name, Instrument: s.Match.Instrument, Assumed: s.Match.Assumed}
	switch {
	case s.ForPart != nil:
		a.RecognisedBy, a.Assumed = ByForPart, false
		a.Instrument = c.sounding(s, c.forPartTransposition(s))
	case s.declared():
		a.RecognisedBy, a.Assumed = ByTranspose, false
		a.Instrument = c.sounding(s, s.Source[0].To)
	default:
		a.RecognisedBy = s.Match.By
	}
	a.written = a.Instrument
	a.Label = c.label(a, s)
	if a.Label == "" {
		a.Label = a.ID
	}
	if a.RecognisedBy == ByNone {
		a.Warnings = append(a.Warnings, musicxml.Warning{Code: "unrecognised-part",
			Text: fmt.Sprintf("no instrument is known by the name %q; the part stays at sounding pitch", a.Name)})
	}
	if a.RecognisedBy == ByFamily && transposes(a.Instrument) {
		a.Warnings = append(a.Warnings, musicxml.Warning{Code: "assumed-key",
			Text: fmt.Sprintf("%q does not say its key; taken for %s, the usual one", a.Name, a.Instrument.Label("en", ""))})
	}
	return a
}

// label heads the sheet: the catalogue's name where the instrument is known and
// is what the score says, else the score's own name, as it prints it, in one line.
func (c *Copyist) label(a Assignment, s *Survey) string {
	if a.Instrument == nil || s.Match.By == instruments.ByNone {
		name := a.Name
		if display := c.scoreParts[a.Part].NameDisplay; display != "" {
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
func (c *Copyist) sounding(s *Survey, says transpose.Transposition) *instruments.Instrument {
	named := s.Match.Instrument
	if named == nil || soundingOf(named) == says.Interval() {
		return named
	}
	for _, other := range append(c.catalogue.KindMembers(named.Kind), c.catalogue.FamilyMembers(named.Family)...) {
		if soundingOf(other) == says.Interval() {
			return other
		}
	}
	return nil
}

// forPartTransposition reads what a concert score says of the part to be made.
// An octave that stands in the score's own <transpose> is part of it unless
// <part-transpose> has one of its own.
func (c *Copyist) forPartTransposition(s *Survey) transpose.Transposition {
	e := musicxml.Child(s.ForPart, "part-transpose")
	if e == nil {
		return transpose.Transposition{}
	}
	t, err := transpose.ReadTransposition(e, s.fifths())
	if err != nil {
		return transpose.Transposition{}
	}
	if len(s.Source) > 0 && musicxml.Child(e, "octave-change") == nil {
		t.OctaveChange += s.Source[0].To.OctaveChange
	}
	return t
}

// wanted applies the patterns of Only.
func (c *Copyist) wanted(a Assignment) bool {
	if len(c.options.Only) == 0 {
		return true
	}
	for _, pattern := range c.options.Only {
		if MatchesPattern(pattern, a.ID, a.Name, a.Label) || a.Instrument != nil && MatchesPattern(pattern, a.Instrument.ID, a.Instrument.Kind) {
			return true
		}
	}
	return false
}

// PartNames are the names of the score's parts, or their ids where they have none.
func (c *Copyist) PartNames() []string {
	names := make([]string, len(c.scoreParts))
	for i, p := range c.scoreParts {
		if names[i] = p.Name; p.Name == "" {
			names[i] = p.ID
		}
	}
	return names
}
