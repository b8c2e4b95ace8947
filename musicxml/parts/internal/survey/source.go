package survey

import (
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Declared reports whether the part says a transposition that is no plain octave.
func (s *Part) Declared() bool {
	for _, t := range s.Source {
		if !t.To.OctaveOnly() {
			return true
		}
	}
	return false
}

// Transposes reports whether a score in C has an instrument at another pitch than its
// player reads: it is known, and does not keep its octave.
func Transposes(i *instruments.Instrument) bool { return i != nil && !i.KeepsOctave() }

// Relative finds the instrument of another's kind, or else of its family, that sounds as a
// transposition says; nil where none does.
func (c *Score) Relative(of *instruments.Instrument, says transpose.Transposition) *instruments.Instrument {
	for _, other := range append(c.Catalogue.KindMembers(of.Kind), c.Catalogue.FamilyMembers(of.Family)...) {
		if other.Interval() == says.Interval() {
			return other
		}
	}
	return nil
}

// SourceTransposition is what part i of the score adds to its written pitch at its
// start: what its <transpose> says there, or, where it says nothing, what it is
// taken for.
func (c *Score) SourceTransposition(i int) transpose.Transposition {
	s := &c.Parts[i]
	switch {
	case len(s.Source) > 0 && s.Source[0].Measure == 0 && s.Source[0].Onset.Sign() == 0:
		return s.Source[0].To
	case len(s.Source) > 0 || s.ForPart != nil || s.Notes == 0 || s.Match.Instrument == nil:
		return transpose.Transposition{}
	case s.UnsaidOctave(), c.Reading.Silent == Written && Transposes(s.Match.Instrument):
		return music.TranspositionBy(s.Match.Instrument.Interval())
	}
	return transpose.Transposition{}
}

// SoundingAt is what is added to the written pitch of a part of the score, at a
// place, to get what sounds.
func (c *Score) SoundingAt(part int, at musicxml.Position) pitch.Interval {
	s := &c.Parts[part]
	if len(s.Source) == 0 {
		if c.Reading.Silent == Written && Transposes(s.Match.Instrument) && s.ForPart == nil {
			return s.Match.Instrument.Interval()
		}
		return pitch.Interval{}
	}
	return s.SaidAt(at)
}

// SaidAt is the <transpose> in force at a place of the first staff.
func (s *Part) SaidAt(at musicxml.Position) pitch.Interval {
	return transpose.SaidAt(s.Source, at, 1).Interval()
}

// sourceInterval is what the part adds to its written notes at a moment, said or
// not.
func (c *Score) sourceInterval(s *Part, at musicxml.Fraction) pitch.Interval {
	if len(s.Source) == 0 && s.ForPart == nil && c.Reading.Silent == Written && Transposes(s.Match.Instrument) {
		return s.Match.Instrument.Interval()
	}
	var by pitch.Interval
	for _, said := range s.Source {
		if said.Staff < 2 && !at.Less(s.startOf(said)) {
			by = said.To.Interval()
		}
	}
	return by
}

// startOf is the moment at which a transposition of the part begins.
func (s *Part) startOf(t transpose.Stretch) musicxml.Fraction {
	if t.Measure >= len(s.Measures) { // the first reading is at this very bar
		return musicxml.Fraction{}
	}
	return s.Measures[t.Measure].Start.Add(t.Onset)
}

// SourceAt is what the part's <transpose> says at the start of a measure.
func (s *Part) SourceAt(measure int) transpose.Transposition {
	var t transpose.Transposition
	for _, stretch := range s.Source {
		if stretch.Measure <= measure && stretch.Staff <= 1 {
			t = stretch.To
		}
	}
	return t
}

// ForPartTransposition reads what a concert score says of the part to be made.
// An octave that stands in the score's own <transpose> is part of it unless
// <part-transpose> has one of its own.
func (s *Part) ForPartTransposition() transpose.Transposition {
	e := musicxml.Child(s.ForPart, "part-transpose")
	if e == nil {
		return transpose.Transposition{}
	}
	t, err := music.ReadTransposition(e, s.fifths())
	if err != nil {
		return transpose.Transposition{}
	}
	if len(s.Source) > 0 && musicxml.Child(e, "octave-change") == nil {
		t.OctaveChange += s.Source[0].To.OctaveChange
	}
	return t
}
