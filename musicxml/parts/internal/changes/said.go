package changes

import (
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
)

// said is what the score says of transposition, place by place, without words: in
// <transpose>, or in the <for-part> of a concert score.
func (f *changeFinder) said() ([]transpose.Stretch, error) {
	switch {
	case f.OtherInstrument() || f.Survey.Staves > 1:
		return nil, nil
	case f.Assignment.RecognisedBy == assign.ByForPart:
		stretches, _, err := transpose.ForPart(f.Timeline)
		return stretches, err
	}
	return f.Survey.Source, nil
}

// addSaid finds the changes that the transposition alone tells of: the player takes the
// instrument of the same kind, or else of the same family, that sounds so. One that is
// known by its words stands there already; of a transposition that no such instrument
// has nothing can be said but that it changes.
func (f *changeFinder) addSaid(said []transpose.Stretch) {
	for i := 1; i < len(said); i++ {
		before, now := said[i-1].To.Interval(), said[i].To.Interval()
		entry := f.firstFrom(said[i].Position())
		if before == now || entry == len(f.starts) || f.changesBetween(said[i].Position(), f.starts[entry].at) {
			continue
		}
		at := f.starts[entry].at
		from := f.instrumentBefore(at)
		to := f.Score.Relative(from, said[i].To)
		if to == nil || to == from {
			continue
		}
		f.current = from
		f.found = append(f.found, draft.InstrumentChange{Position: at, Instrument: to, Announced: said[i].Position(),
			Named: f.namedAt(at, to), Silence: f.silenceBefore(at)})
		slices.SortStableFunc(f.found, func(a, b draft.InstrumentChange) int { return a.Compare(b.Position) })
	}
}

// changesBetween reports whether a change is known that a place between two others is
// of: announced or carried out there.
func (f *changeFinder) changesBetween(from, to musicxml.Position) bool {
	return slices.ContainsFunc(f.found, func(c draft.InstrumentChange) bool {
		return c.Announced.Compare(to) <= 0 && from.Compare(c.Position) <= 0
	})
}

// instrumentBefore is what the player has before a place.
func (f *changeFinder) instrumentBefore(at musicxml.Position) *instruments.Instrument {
	in := f.Assignment.Instrument
	for _, c := range f.found {
		if c.Compare(at) < 0 {
			in = c.Instrument
		}
	}
	return in
}
