package parts

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// writeForPlayer writes the part in the pitch and key that its player reads.
func (s *sheet) writeForPlayer() error {
	if s.sayUnsaidTransposition() {
		if err := s.layOut(); err != nil {
			return err
		}
	}
	stretches, err := s.allStretches()
	if err != nil {
		return err
	}
	source, err := transpose.Stretches(s.timeline)
	if err != nil {
		return err
	}
	s.report.Octaves = s.octaves(source)
	result, err := transpose.Move(s.timeline, transpose.Options{
		Stretches:    withOctaves(stretches, s.report.Octaves),
		MaxSignature: s.options.MaxSignature,
		Spelling:     s.options.Spelling,
		FreshSigns:   s.assignment.Player > 0 || s.reduced,
		Courtesies:   s.courtesies,
		Memory:       &s.desk.move,
	})
	if err != nil {
		return err
	}
	s.report.Transpose, s.report.Moved = result.Written, result.Moved
	s.report.Notes, s.report.Respelled = result.Notes, result.Respelled
	s.moved = result.Respelled > 0 || slices.ContainsFunc(result.Passages, func(p transpose.Passage) bool { return p.Moved != pitch.Interval{} })
	s.report.Warnings = append(s.report.Warnings, result.Warnings...)
	return s.renew()
}

// allStretches says what the player's <transpose> is to be, from where on, with
// what the score says of its parts and with every change of instrument.
func (s *sheet) allStretches() ([]transpose.Stretch, error) {
	if s.assignment.RecognisedBy != ByForPart {
		return s.changedStretches(s.stretches()), nil
	}
	stretches, _, err := transpose.ForPart(s.timeline)
	for i := range stretches {
		stretches[i].AsIs, stretches[i].DropDoubling = false, s.assignment.Player > 0
		stretches[i].WithoutSignature = s.withoutSignature()
	}
	return s.changedStretches(stretches), err
}

// stretches says what the player's <transpose> is to be, from where on, for the
// instrument that the part begins with.
func (s *sheet) stretches() []transpose.Stretch {
	a := &s.assignment
	base := transpose.Stretch{WithoutSignature: s.withoutSignature(), DropDoubling: a.Player > 0}
	switch d := a.desk(); {
	case d != nil && d.instrument != nil:
		base.To, base.Shift = transpositionOf(d.instrument), d.shift
	case a.RecognisedBy == ByTranspose:
		return s.ownStretches(base)
	case a.RecognisedBy == ByForPart:
		base.To = s.forPartTransposition(s.survey)
	case a.Instrument == nil:
		return s.ownStretches(base)
	case a.RecognisedBy != ByPlan && a.Instrument.OctaveOnly() && !s.octaveToBeWritten():
		// A plain octave stays as the score has it, said or unsaid: octave
		// instruments keep their notation in a score in C.
		return s.ownStretches(base)
	default:
		base.To = transpositionOf(a.Instrument)
	}
	return []transpose.Stretch{base}
}

// ownStretches keeps the transposition that the source says.
func (s *sheet) ownStretches(base transpose.Stretch) []transpose.Stretch {
	stretches := []transpose.Stretch{base}
	for _, own := range s.survey.Source {
		own.WithoutSignature, own.DropDoubling = base.WithoutSignature, base.DropDoubling
		stretches = append(stretches, own)
	}
	return stretches
}

// withoutSignature reports whether the instrument is one of those that are to be
// written without a key signature.
func (s *sheet) withoutSignature() bool { return s.withoutSignatureFor(s.assignment.Instrument) }

func (s *sheet) withoutSignatureFor(in *instruments.Instrument) bool {
	if in == nil {
		return false
	}
	for _, word := range s.options.WithoutSignature {
		if in.Is(word) {
			return true
		}
	}
	return false
}

// bestOctave compares the middle of the part's compass with the middle of the
// instrument's range; for parts on several staves.
func bestOctave(s *Survey, i *instruments.Instrument, level string) int {
	r, ok := i.Range(level)
	if !ok || s.Notes == 0 {
		return 0
	}
	low, high := s.LowestSounding.NoteNumber(), s.HighestSounding.NoteNumber()
	best, least := 0, 1<<30
	for octave := -5; octave <= 5; octave++ {
		outside := max(0, r.Sounding.Low.NoteNumber()-(low+12*octave)) + max(0, high+12*octave-r.Sounding.High.NoteNumber())
		cost := outside*100 + pitch.Abs(octave)
		if cost < least {
			best, least = octave, cost
		}
	}
	return best
}

// sayUnsaidTransposition writes the <transpose> that a source in written pitch
// leaves out, so that the part says how it sounds; for another instrument to
// play it, also the octave that the score leaves out of an octave instrument.
func (s *sheet) sayUnsaidTransposition() bool {
	named := s.survey.Match.Instrument
	unsaid := s.reading.silent == Written && transposes(named) &&
		len(s.survey.Source) == 0 && s.survey.ForPart == nil && s.survey.Notes > 0
	if !unsaid && !(s.otherInstrument() && s.survey.unsaidOctave()) {
		return false
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
		break
	}
	s.sayUnsaidChanges()
	return true
}

// octaveFit is the share of notes, in tenths, that must lie in range as sounding,
// and half of which must not as written, for an octave instrument without
// <transpose> to be taken as sounding.
const octaveFit = 9

// liesAsItSounds reports whether a part for an octave instrument says no octave
// and yet lies where only the sound can be meant, such as a double bass on low C.
func (v *Survey) liesAsItSounds() bool {
	return len(v.Source) == 0 && v.Notes > 0 && v.inSounding*10 >= v.Notes*octaveFit && v.inWritten*2 < v.Notes
}

// unsaidOctave reports whether a part for an octave instrument says no octave and
// lies where its player reads it.
func (v *Survey) unsaidOctave() bool {
	in := v.Match.Instrument
	return in != nil && in.OctaveOnly() && in.Transposes() && len(v.Source) == 0 && v.ForPart == nil && v.Notes > 0 && !v.liesAsItSounds()
}

// octaveToBeWritten reports whether a part for an octave instrument lies as it
// sounds: then its octave is still to be written.
func (s *sheet) octaveToBeWritten() bool {
	if !s.assignment.Instrument.Transposes() || !s.survey.liesAsItSounds() {
		return false
	}
	s.warn(musicxml.Warning{Code: "assumed-octave",
		Text: "the part lies where " + s.assignment.Instrument.Name("en") + " sounds, not where it reads, and says no octave; it is written an octave away"})
	return true
}

func staffOf(e *etree.Element) int {
	text := musicxml.Attr(e, "number")
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0
	}
	return n
}
