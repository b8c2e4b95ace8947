package written

import (
	"math"
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Write writes the part in the pitch and key that its player reads.
func Write(d *draft.Draft, o Options) error {
	s := &writer{d, o}
	if s.sayUnsaidTransposition() {
		if err := s.Settle(); err != nil {
			return err
		}
	}
	stretches, err := s.allStretches()
	if err != nil {
		return err
	}
	source, err := transpose.Stretches(s.Timeline)
	if err != nil {
		return err
	}
	if s.Report.Octaves, err = s.octaves(source); err != nil {
		return err
	}
	result, err := transpose.Move(s.Timeline, transpose.Options{
		Stretches:        withOctaves(stretches, s.Report.Octaves),
		MaxSignature:     s.o.MaxSignature,
		Spelling:         s.o.Spelling,
		FreshAccidentals: s.Assignment.Player > 0 || s.o.Reduced,
		Courtesies:       s.o.Courtesies,
		Memory:           s.o.Memory,
	})
	if err != nil {
		return err
	}
	s.Report.Transpose, s.Report.Moved = result.Written, result.Moved
	s.Report.Notes, s.Report.Respelled = result.Notes, result.Respelled
	d.Elsewhere = result.Respelled > 0 || slices.ContainsFunc(result.Passages, func(p transpose.Passage) bool { return p.Moved != pitch.Interval{} })
	s.Warn(result.Warnings...)
	s.Rearranged()
	return nil
}

// Options say how a part is written.
type Options struct {
	MaxSignature     int
	WithoutSignature []string
	Spelling         transpose.Spelling
	Level            instruments.Level // of the players, whose ranges decide about octaves
	// Page is how the part stands on its staves, nil where nobody asks for octaves.
	Page *staff.Page
	// Courtesies are printed signs that stay on a part taken off a shared staff.
	Courtesies map[*etree.Element]bool
	Reduced    bool // a line was taken out of fuller music
	Memory     *transpose.Memory
}

// writer writes one part for its player.
type writer struct {
	*draft.Draft
	o Options
}

// allStretches says what the player's <transpose> is to be, from where on, with
// what the score says of its parts and with every change of instrument.
func (s *writer) allStretches() ([]transpose.Stretch, error) {
	if s.Assignment.RecognisedBy != assign.ByForPart {
		return s.changedStretches(s.stretches()), nil
	}
	stretches, _, err := transpose.ForPart(s.Timeline)
	for i := range stretches {
		stretches[i].AsIs, stretches[i].DropDoubling = false, s.Assignment.Player > 0
		stretches[i].WithoutSignature = s.withoutSignature()
	}
	return s.changedStretches(stretches), err
}

// stretches says what the player's <transpose> is to be, from where on, for the
// instrument that the part begins with.
func (s *writer) stretches() []transpose.Stretch {
	a := &s.Assignment
	base := transpose.Stretch{WithoutSignature: s.withoutSignature(), DropDoubling: a.Player > 0}
	switch d := a.OnePlayer(); {
	case d != nil && d.Instrument != nil:
		base.To, base.Shift = music.TranspositionBy(d.Instrument.Interval()), d.Shift
	case a.RecognisedBy == assign.ByTranspose:
		return s.ownStretches(base)
	case a.Instrument == nil:
		return s.ownStretches(base)
	case a.RecognisedBy != assign.ByPlan && a.Instrument.KeepsOctave() && !s.octaveToBeWritten():
		// A plain octave stays as the score has it, said or unsaid: octave
		// instruments keep their notation in a score in C.
		return s.ownStretches(base)
	default:
		base.To = music.TranspositionBy(a.Instrument.Interval())
	}
	return []transpose.Stretch{base}
}

// ownStretches keeps the transposition that the source says.
func (s *writer) ownStretches(base transpose.Stretch) []transpose.Stretch {
	stretches := []transpose.Stretch{base}
	for _, own := range s.Survey.Source {
		own.WithoutSignature, own.DropDoubling = base.WithoutSignature, base.DropDoubling
		stretches = append(stretches, own)
	}
	return stretches
}

// withoutSignature reports whether the instrument is one of those that are to be
// written without a key signature.
func (s *writer) withoutSignature() bool { return s.withoutSignatureFor(s.Assignment.Instrument) }

func (s *writer) withoutSignatureFor(in *instruments.Instrument) bool {
	return in != nil && slices.ContainsFunc(s.o.WithoutSignature, in.Is)
}

// bestOctave compares the middle of the part's compass with the middle of the
// instrument's range; for parts on several staves.
func bestOctave(s *survey.Part, i *instruments.Instrument, level instruments.Level) (best int) {
	r, ok := i.Range(level)
	if !ok || s.Notes == 0 {
		return 0
	}
	low, high := s.LowestSounding.NoteNumber(), s.HighestSounding.NoteNumber()
	least := math.MaxInt
	for octave := -5; octave <= 5; octave++ {
		outside := max(0, r.Sounding.Low.NoteNumber()-(low+12*octave)) + max(0, high+12*octave-r.Sounding.High.NoteNumber())
		if outside < least || outside == least && pitch.Abs(octave) < pitch.Abs(best) {
			best, least = octave, outside
		}
	}
	return best
}

// sayUnsaidTransposition writes the <transpose> that a source in written pitch
// leaves out, so that the part says how it sounds; for another instrument to
// play it, also the octave that the score leaves out of an octave instrument.
func (s *writer) sayUnsaidTransposition() bool {
	named := s.Survey.Match.Instrument
	unsaid := s.Score.Reading.Silent == survey.Written && survey.Transposes(named) &&
		len(s.Survey.Source) == 0 && s.Survey.ForPart == nil && s.Survey.Notes > 0
	if !unsaid && !(s.OtherInstrument() && s.Survey.UnsaidOctave()) {
		return false
	}
	if m := musicxml.Child(s.Part, "measure"); m != nil {
		attributes := musicxml.Child(m, "attributes")
		if attributes == nil {
			attributes = etree.NewElement("attributes")
			m.InsertChildAt(0, attributes)
		}
		e := etree.NewElement("transpose")
		music.TranspositionBy(named.Interval()).Write(e)
		musicxml.AddInOrder(attributes, e)
	}
	s.Rearranged()
	s.sayUnsaidChanges()
	return true
}

// octaveToBeWritten reports whether a part for an octave instrument lies as it
// sounds: then its octave is still to be written.
func (s *writer) octaveToBeWritten() bool {
	if !s.Assignment.Instrument.Transposes() || !s.Survey.LiesAsItSounds() {
		return false
	}
	s.Warn(musicxml.Warning{Code: notice.AssumedOctave,
		Text: "the part lies where " + s.Assignment.Instrument.Name("en") + " sounds, not where it reads, and says no octave; it is written an octave away"})
	return true
}
