package divisi

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// keepTies leaves ties with both ends. A note of the player that was tied to a
// note of another voice is tied to the player's own note of that pitch there, as
// where a unison divides; without one it is tied no longer. An end that has no
// other end in the score either, as at a second ending, is left alone.
func (p *player) keepTies() {
	ties := p.tieEnds()
	for _, at := range ties.places {
		p.tieOn(ties.from[at], ties.to[at])
		p.tieBack(ties.to[at], ties.from[at])
	}
}

// tied lists the notes from which and to which ties lead, by where they meet.
type tied struct {
	places   []tieEnd // in the order of the score, one for each end
	from, to map[tieEnd][]*note
}

func (p *player) tieEnds() tied {
	t := tied{from: map[tieEnd][]*note{}, to: map[tieEnd][]*note{}}
	for _, b := range p.bars {
		for n := range b.notes() {
			t.add(n)
		}
	}
	return t
}

func (t *tied) add(n *note) {
	put := func(ends map[tieEnd][]*note, at musicxml.Fraction) {
		end := n.tieEnd(at)
		t.places = append(t.places, end)
		ends[end] = append(ends[end], n)
	}
	if n.tieFrom {
		put(t.to, n.group.start())
	}
	if n.tieTo {
		put(t.from, n.group.stop())
	}
}

// tieOn mends the ties of the player's notes that lead to a place.
func (p *player) tieOn(from, to []*note) {
	if len(to) == 0 || !p.hasAny(from) || p.hasAny(to) {
		return
	}
	p.mend(from, p.noteAt(to[0].group, to[0]), "start", "stop")
}

// tieBack mends the ties of the player's notes that lead back from a place.
func (p *player) tieBack(to, from []*note) {
	if len(from) == 0 || !p.hasAny(to) || p.hasAny(from) {
		return
	}
	p.mend(to, p.noteBefore(from[0]), "stop", "start")
}

// mend gives the ties of the player's notes their other end, far, at the note of the
// player's own that they lead to; without one they go.
func (p *player) mend(notes []*note, own *note, near, far string) {
	for _, n := range notes {
		switch {
		case !p.hasNote(n):
		case own != nil:
			music.AddTie(own.element, far)
		default:
			music.DropTie(n.element, near)
		}
	}
}

func (p *player) hasNote(n *note) bool { return n.who.has(p.place) }

func (p *player) hasAny(notes []*note) bool {
	return slices.ContainsFunc(notes, p.hasNote)
}

// noteAt finds the player's note of the same pitch at the place of a note.
func (p *player) noteAt(g *group, like *note) *note {
	it := p.at(g.bar, g.onset)
	if it == nil {
		return nil
	}
	for _, n := range it.notes {
		if n.pitch == like.pitch {
			return n
		}
	}
	return nil
}

// noteBefore finds the player's note of the same pitch that ends with a note.
func (p *player) noteBefore(like *note) *note {
	g := like.group
	for it := range p.desks[g.bar.measure.Index].items() {
		for _, n := range it.notes {
			if n.pitch == like.pitch && it.end == g.end && !it.small() {
				return n
			}
		}
	}
	return nil
}
