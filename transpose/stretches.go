package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// Stretches reads a part's own transposition: what its <transpose> says, place
// by place and staff by staff, nothing said being sounding pitch. Given to
// [Move], it moves nothing; given for the same part moved elsewhere, it leads
// back, spelled as it was (the stretches are AsIs). The error is an
// *musicxml.Error with measure and beat.
func Stretches(t *musicxml.Timeline) ([]Stretch, error) {
	return readStretches(t, func(st *state) Stretch { return Stretch{To: st.source, AsIs: true} })
}

// SaidAt is the transposition that stretches, in order, give a staff at a place.
func SaidAt(stretches []Stretch, at musicxml.Position, staff int) (said Transposition) {
	for i := range stretches {
		if s := &stretches[i]; (s.Staff == 0 || s.Staff == staff) && s.Position().Compare(at) <= 0 {
			said = s.To
		}
	}
	return said
}

// ConcertStretches is a part's place in a concert score: sounding pitch, but for
// instruments that transpose by whole octaves, which keep their notation
// (MusicXML 4.0, concert-score). Past Options.MaxSignature the twin is taken.
func ConcertStretches(t *musicxml.Timeline) ([]Stretch, error) {
	return readStretches(t, func(st *state) Stretch {
		if st.inConcertSounding {
			return Stretch{}
		}
		return Stretch{To: st.source.InConcert()}
	})
}

// ForPart reads what the <for-part> elements of a concert score say of the part
// that is to be made, place by place and staff by staff. Where a <transpose> by
// octaves is in force, both are added. ok is false for a part without any
// <for-part>. The stretches are AsIs where the signature that comes out can be
// written, that is, up to seven sharps or flats: what a score says of its parts
// is followed to the letter.
func ForPart(t *musicxml.Timeline) (stretches []Stretch, ok bool, err error) {
	stretches, err = readStretches(t, func(st *state) Stretch {
		ok = ok || st.saysForPart
		to := st.forPart()
		fifths := st.key.fifths + st.source.Interval().Sub(to.Interval()).Fifths()
		return Stretch{To: to, AsIs: pitch.Abs(fifths) <= mostSigns}
	})
	return stretches, ok, err
}

// mostSigns is the most sharps or flats that a signature is written with
// (trade/notation-rules.md §6).
const mostSigns = 7

// forPart is the transposition of the part that a concert score asks for.
func (st *state) forPart() Transposition {
	by := st.partTranspose.Interval()
	if by == (pitch.Interval{}) {
		return st.source
	}
	if st.source == (Transposition{}) {
		return st.partTranspose
	}
	return music.TranspositionBy(st.source.Interval().Add(by))
}

// readStretches lists what value gives for the states of a part, where it changes.
func readStretches(t *musicxml.Timeline, value func(*state) Stretch) ([]Stretch, error) {
	c, err := readStates(t, DefaultOptions())
	if err != nil {
		return nil, err
	}
	var stretches []Stretch
	said := make([]Stretch, len(c.staves))
	for k, p := range c.positions() {
		now := make([]Stretch, len(c.staves))
		for i := range c.staves {
			now[i] = value(c.at(i+1, p))
		}
		stretches = c.appendChanges(stretches, p, said, now, k == 0)
		said = now
	}
	return stretches, nil
}

// appendChanges adds a stretch for each staff that changes, or one for all where
// they agree; the first place of a part is always told.
func (c *states) appendChanges(stretches []Stretch, p position, said, now []Stretch, first bool) []Stretch {
	alike, changed := true, first
	for i := range now {
		alike = alike && now[i] == now[0]
		changed = changed || now[i] != said[i]
	}
	if !changed {
		return stretches
	}
	for i, s := range now {
		s.Measure, s.Onset, s.Graces = p.measure, p.onset, c.graces.before(p)
		if alike {
			return append(stretches, s)
		}
		s.Staff = i + 1
		stretches = append(stretches, s)
	}
	return stretches
}

// partTransposeOf reads the <part-transpose> of a <for-part>.
func partTransposeOf(forPart *etree.Element, fifths int) (Transposition, error) {
	e := musicxml.Child(forPart, "part-transpose")
	if e == nil {
		return Transposition{}, nil
	}
	return music.ReadTransposition(e, fifths)
}
