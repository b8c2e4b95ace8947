package written

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
)

// changedStretches adds to the stretches of the part those that begin with another
// instrument. What the score itself says at the change, in a <transpose> or a
// <for-part>, is not overruled.
func (s *writer) changedStretches(stretches []transpose.Stretch) []transpose.Stretch {
	said := slices.Clone(stretches)
	for i := range s.Changes {
		c := &s.Changes[i]
		if at, ok := s.saidAtChange(c, said); ok {
			s.warnUnlike(c, at)
			continue
		}
		if s.Assignment.RecognisedBy == assign.ByTranspose { // the source is in written pitch, and stays as it is
			s.warnUnsaid(c)
			continue
		}
		stretches = append(stretches, transpose.Stretch{Measure: c.Measure, Onset: c.Onset, To: s.transpositionFor(c),
			WithoutSignature: s.withoutSignatureFor(c.Instrument), DropDoubling: s.Assignment.Player > 0})
	}
	slices.SortStableFunc(stretches, func(a, b transpose.Stretch) int {
		return a.Position().Compare(b.Position())
	})
	return stretches
}

// saidAtChange finds what the score says of pitch between the announcement of a
// change and its first note.
func (s *writer) saidAtChange(c *draft.InstrumentChange, stretches []transpose.Stretch) (transpose.Transposition, bool) {
	for _, said := range slices.Backward(stretches) {
		at := said.Position()
		if at.Compare(c.Position) <= 0 && c.Announced.Compare(at) <= 0 && at != (musicxml.Position{}) {
			return said.To, true
		}
	}
	return transpose.Transposition{}, false
}

// transpositionFor is how the new instrument is written. An octave instrument
// keeps the notation of the score, as at the start of a part.
func (s *writer) transpositionFor(c *draft.InstrumentChange) transpose.Transposition {
	if !c.Instrument.KeepsOctave() {
		return music.TranspositionBy(c.Instrument.Interval())
	}
	return s.sourceAt(c.Position)
}

// sourceAt is what the score says of the part's transposition at a place.
func (s *writer) sourceAt(at musicxml.Position) transpose.Transposition {
	return transpositionAt(s.Survey.Source, at)
}

// warnUnlike says so where the score's transposition is not that of the
// instrument it names.
func (s *writer) warnUnlike(c *draft.InstrumentChange, says transpose.Transposition) {
	if c.Instrument.OctaveOnly() && says.OctaveOnly() || c.Instrument.Interval() == says.Interval() {
		return
	}
	s.WarnAt(c.Position, notice.ChangeContradicted, "the score changes to %s here, but its transposition is another instrument's; the transposition was followed", c.Instrument.Label("en", ""))
}

// warnUnsaid says so where a part in written pitch changes instrument and does not
// say the new transposition.
func (s *writer) warnUnsaid(c *draft.InstrumentChange) {
	if c.Instrument.Interval() == s.sourceAt(c.Position).Interval() {
		return
	}
	s.WarnAt(c.Position, notice.ChangeWithoutTranspose, "the score changes to %s here without a transposition of its own; the notes were left as they are", c.Instrument.Label("en", ""))
}

// sayUnsaidChanges writes the <transpose> of each further instrument in a source
// in written pitch that leaves them out.
func (s *writer) sayUnsaidChanges() {
	for i := range s.Changes {
		c := &s.Changes[i]
		attributes := s.AttributesAt(c.Position)
		if musicxml.Child(attributes, "transpose") == nil {
			e := etree.NewElement("transpose")
			music.TranspositionBy(c.Instrument.Interval()).Write(e)
			musicxml.AddInOrder(attributes, e)
		}
	}
}
