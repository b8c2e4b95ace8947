package transpose

import (
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// respell takes double accidentals, and letters foreign to the key such as E
// sharp in C, by their simple neighbour. Notes that are tied, that would fall on
// the line of another note of their chord, or from whose letter others are counted, those
// of an ornament or of figures, keep the exact spelling.
func (m *mover) respell() {
	figured := m.figuredNotes()
	for i := range m.bars {
		b := &m.bars[i]
		for k := range b.notes {
			n := &b.notes[k]
			simple, ok := simpleNeighbour(n.pitch, n.state.newKey.alters)
			if !ok || n.tieStart || n.tieStop || hasOrnament(n) || figured[n] || b.chordHas(k, simple) {
				continue
			}
			n.pitch, n.respelled = simple, true
			m.result.Respelled++
		}
	}
}

// respellUnsayable takes notes for which no sign is printed anywhere, such as a
// double flat and a quarter tone, by a neighbour that has one. A note that is
// tied is taken alike at both ends, for its pitch is.
func (m *mover) respellUnsayable() {
	for i := range m.bars {
		b := &m.bars[i]
		for k := range b.notes {
			n := &b.notes[k]
			if _, ok := accidentalFor(n.pitch.Alter, ""); ok || n.state.unsigned {
				continue
			}
			near, ok := sayableNeighbour(n.pitch)
			if !ok || b.chordHas(k, near) {
				continue
			}
			m.warn(n.place, notice.Respelled, "no printed accidental stands for "+n.pitch.String()+"; the part has "+near.String())
			n.pitch, n.respelled = near, true
			m.result.Respelled++
		}
	}
}

// sayableNeighbour returns the spelling one letter away that has a sign of its own: only
// one can, for the other has more of it than no sign stands for.
func sayableNeighbour(p pitch.Pitch) (pitch.Pitch, bool) {
	for _, letters := range []int{1, -1} {
		near := pitch.Interval{Diatonic: letters}.Apply(p)
		if _, ok := accidentalFor(near.Alter, ""); ok {
			return near, true
		}
	}
	return pitch.Pitch{}, false
}

// simpleNeighbour returns the enharmonic spelling with fewer signs, and whether
// there is a reason to take it: a double sign, or a white key with a sign that
// the signature does not give.
func simpleNeighbour(p pitch.Pitch, signature [7]pitch.Alter) (pitch.Pitch, bool) {
	n, whole := p.Alter.Whole()
	if !whole || n == 0 || signature[p.Step] == p.Alter {
		return p, false
	}
	best := pitch.Interval{Diatonic: n / pitch.Abs(n)}.Apply(p) // a sharp goes up, a flat down
	doubled := pitch.Abs(n) >= 2
	foreign := best.Alter == 0
	return best, doubled || foreign
}

// chordHas reports whether another note at the same moment of the same voice
// already stands on that line.
func (b *bar) chordHas(k int, p pitch.Pitch) bool {
	n := &b.notes[k]
	for j := range b.notes {
		o := &b.notes[j]
		if j != k && o.event.Onset == n.event.Onset && o.event.Staff == n.event.Staff && o.pitch.Place() == p.Place() {
			return true
		}
	}
	return false
}

func hasOrnament(n *note) bool {
	for _, notations := range musicxml.Children(n.event.Element, "notations") {
		if musicxml.Child(notations, "ornaments") != nil {
			return true
		}
	}
	return false
}
