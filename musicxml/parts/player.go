package parts

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
)

// writeForPlayer writes the part in the pitch and key that its player reads.
func (s *sheet) writeForPlayer() error {
	s.sayUnsaidTransposition()
	s.removeForParts()
	if err := s.layOut(); err != nil {
		return err
	}
	result, err := transpose.Move(s.timeline, transpose.Options{
		Stretches:    s.stretches(),
		MaxSignature: s.options.MaxSignature,
		Spelling:     s.options.Spelling,
		FreshSigns:   s.assignment.Player > 0,
	})
	if err != nil {
		return err
	}
	s.report.Transpose, s.report.Moved = result.Written, result.Moved
	s.report.Notes, s.report.Respelled = result.Notes, result.Respelled
	s.report.Warnings = append(s.report.Warnings, result.Warnings...)
	return s.layOut()
}

// stretches says what the player's <transpose> is to be, from where on.
func (s *sheet) stretches() []transpose.Stretch {
	a := &s.assignment
	base := transpose.Stretch{WithoutSignature: s.withoutSignature()}
	switch {
	case a.RecognisedBy == ByTranspose:
		return s.ownStretches(base)
	case a.RecognisedBy == ByForPart:
		base.To = s.forPartTransposition(s.survey)
	case a.Instrument == nil:
		return s.ownStretches(base)
	case a.RecognisedBy != ByPlan && a.Instrument.OctaveOnly() && len(s.survey.Source) > 0:
		// A plain octave that the score says stays as it is.
		return s.ownStretches(base)
	default:
		base.To = transpositionOf(a.Instrument)
		base.Shift = transpose.Octaves(s.octaveShift())
	}
	return []transpose.Stretch{base}
}

// ownStretches keeps the transposition that the source says.
func (s *sheet) ownStretches(base transpose.Stretch) []transpose.Stretch {
	stretches := []transpose.Stretch{base}
	for _, own := range s.survey.Source {
		own.WithoutSignature = base.WithoutSignature
		stretches = append(stretches, own)
	}
	return stretches
}

// withoutSignature reports whether the instrument is one of those that are to be
// written without a key signature.
func (s *sheet) withoutSignature() bool {
	if s.assignment.Instrument == nil {
		return false
	}
	for _, word := range s.options.WithoutSignature {
		if s.assignment.Instrument.Is(word) {
			return true
		}
	}
	return false
}

// octaveShift reads the plan's octave; auto takes the octave that brings the most
// notes into the instrument's range.
func (s *sheet) octaveShift() int {
	switch o := s.assignment.Octave; o {
	case "":
		return 0
	case "auto":
		return bestOctave(s.survey, s.assignment.Instrument)
	default:
		n, _ := strconv.Atoi(o) // checked with the plan
		return n
	}
}

// bestOctave compares the middle of the part's compass with the middle of the
// instrument's range; whole passages are chosen one by one when a part is
// reassigned.
func bestOctave(s *Survey, i *instruments.Instrument) int {
	r, ok := i.Range(instruments.Professional)
	if !ok || s.Notes == 0 {
		return 0
	}
	low, high := midi(s.LowestSounding), midi(s.HighestSounding)
	best, least := 0, 1<<30
	for octave := -5; octave <= 5; octave++ {
		outside := max(0, r.Sounding.Low.MIDI()-(low+12*octave)) + max(0, high+12*octave-r.Sounding.High.MIDI())
		cost := outside*100 + abs(octave)
		if cost < least {
			best, least = octave, cost
		}
	}
	return best
}

func midi(p transpose.Pitch) int { return int(p.MIDI() / transpose.Semitone) }

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// sayUnsaidTransposition writes the <transpose> that a source in written pitch
// leaves out, so that the part says how it sounds.
func (s *sheet) sayUnsaidTransposition() {
	named := s.survey.Match.Instrument
	if named == nil || len(s.survey.Source) > 0 || s.survey.ForPart != nil || s.survey.Notes == 0 {
		return
	}
	if !s.readAsWritten(named) {
		return
	}
	for _, m := range musicxml.Children(s.part, "measure") {
		attributes := musicxml.Child(m, "attributes")
		if attributes == nil {
			attributes = etree.NewElement("attributes")
			m.InsertChildAt(0, attributes)
		}
		e := etree.NewElement("transpose")
		transpositionOf(named).Write(e)
		musicxml.AddInOrder(attributes, e)
		return
	}
}

// octaveFit is the share of notes, in tenths, that must lie in range as written,
// and must not as sounding, for an octave instrument without <transpose> to be
// taken as written.
const octaveFit = 9

// readAsWritten reports whether a silent part is read as the player reads it.
func (s *sheet) readAsWritten(named *instruments.Instrument) bool {
	if transposes(named) {
		return s.reading.silent == Written
	}
	if !named.Transposes() {
		return false
	}
	switch s.options.Input {
	case Written:
		return true
	case Concert:
		return false
	}
	v := s.survey
	asWritten := v.inWritten*10 >= v.Notes*octaveFit && v.inSounding*2 < v.Notes
	if asWritten {
		s.warn(musicxml.Warning{Code: "assumed-octave",
			Text: "the part lies in the range that " + named.Name("en") + " reads, not the one that sounds, and says no octave; it is taken as written"})
	}
	return asWritten
}

func (s *sheet) removeForParts() {
	for _, m := range musicxml.Children(s.part, "measure") {
		for _, attributes := range musicxml.Children(m, "attributes") {
			musicxml.RemoveChildren(attributes, "for-part")
		}
	}
}

func staffOf(e *etree.Element) int {
	n, err := strconv.Atoi(musicxml.Attr(e, "number"))
	if err != nil || n < 1 {
		return 0
	}
	return n
}
