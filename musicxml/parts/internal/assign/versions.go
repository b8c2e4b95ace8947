package assign

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/wording"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose/words"
)

// versions are the files that a part is written in: one for each reader where editions
// are asked for, else the part itself, and one for each instrument that stands in where
// these are asked for. place is the part's among the chairs, counted from 1.
func (c *Assigner) versions(a Assignment, place int) []Assignment {
	all := []Assignment{a}
	if len(c.options.Editions) > 0 {
		all = c.editions(a, place)
	}
	if c.options.Substitutes == nil || a.Instrument == nil {
		return all
	}
	for _, substitute := range c.options.Substitutes.For(a.Instrument) {
		all = append(all, c.standIn(a, substitute))
	}
	return all
}

// editions writes a part for every reader. What the plan gives to an instrument is for
// that one; percussion and what stands on several staves has no readers.
func (c *Assigner) editions(a Assignment, place int) []Assignment {
	planned := a.RecognisedBy == ByPlan && a.Instrument != a.Written
	survey := &c.Parts[a.Part]
	reason := ""
	switch {
	case survey.Staves > 1:
		reason = "it stands on several staves"
	case survey.Notes == 0 && survey.Unpitched > 0 || a.Instrument != nil && a.Instrument.Group == instruments.Percussion:
		reason = "it is for percussion"
	case !planned:
		return c.eachEdition(a, place)
	}
	if reason != "" && !planned {
		a.Warnings = append(slices.Clone(a.Warnings), musicxml.Warning{Code: notice.NoEdition,
			Text: fmt.Sprintf("%q is written as usual and in no other edition: %s", a.Label, reason)})
	}
	return []Assignment{a}
}

func (c *Assigner) eachEdition(a Assignment, place int) []Assignment {
	var all []Assignment
	for _, reader := range c.options.Editions {
		e := a
		e.Edition, e.Instrument, e.RecognisedBy, e.Assumed = reader.Name, reader.Notation(), ByPlan, false
		e.Octave = cmp.Or(e.Octave, "auto")
		e.Clef = ""
		e.Label = c.editionLabel(&a, place, reader)
		e.Warnings = withoutDoubts(a.Warnings)
		all = append(all, e)
	}
	return all
}

// barePart is a name that says no more than a place in the score.
var barePart = regexp.MustCompile(`(?i)^(?:(?:part|stimme|partie|parte|voice|voix|voce|voz)\s*)?(\d{1,2})$`)

// editionLabel names an edition as such sets are: "Part 2 in E♭", with the clef where it
// is not the treble clef, and the instrument of the score in brackets: "Part 3 in C, bass
// clef (Viola)". A part that has a name of its own and no instrument's keeps it: "Melody
// in B♭".
func (c *Assigner) editionLabel(a *Assignment, place int, reader *instruments.Reader) string {
	language := c.options.Language
	name, instrument := wording.Part(language, strconv.Itoa(place)), ""
	switch m := barePart.FindStringSubmatch(a.Label); {
	case m != nil:
		name = wording.Part(language, m[1])
	case a.Name == "" && !a.planLabel: // a sound told it
	case a.planLabel || a.RecognisedBy == ByNone || a.Written == nil:
		name = a.Label
	case a.Written.Kind == "voice" && a.Player == 0: // who sings is not said: "Melody"
		name = a.Name
	default:
		instrument = " (" + a.Label + ")"
	}
	clef := ""
	if reader.Clef().Name() != "treble" {
		clef = ", " + c.clefName(reader.Clef())
	}
	return name + " " + reader.InKey(language) + clef + instrument
}

func (c *Assigner) clefName(clef instruments.Clef) string {
	names, err := words.In(c.options.Language)
	if err != nil {
		return clef.Name()
	}
	name, _ := names.Clef(clef.Name())
	return name
}

// standIn writes a part for an instrument that stands in: "Horn in E♭ 1 (for Horn in F
// 1)". One that stands in several clefs names it: "Trombone in B♭, treble clef (for
// Trombone)".
func (c *Assigner) standIn(a Assignment, substitute *instruments.Instrument) Assignment {
	s := c.giveRow(a, plannedRow{Row: plan.Row{Octave: a.Octave}, instrument: substitute, copies: a.Copies}, true)
	s.RecognisedBy, s.StandsFor = ByPlan, a.Label
	clef := ""
	if substitute.Variant != "" {
		clef = ", " + c.clefName(substitute.Clefs[0])
	}
	s.Label = wording.For(c.options.Language, s.Label+clef, a.Label)
	return s
}
