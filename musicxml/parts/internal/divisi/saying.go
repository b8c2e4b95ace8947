package divisi

import (
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// saying is what the words in force say about a staff.
type saying struct {
	kind  kind
	who   players // of named
	count int     // of everybody: the 2 of "a 2", 0 where no number stood by
}

type kind uint8

const (
	nothing   kind = iota // nothing was said, or what was said no longer fits
	named                 // some players, by number
	everybody             // "a 2", "tutti", "div."
)

// instruction is a marker at its place in a bar.
type instruction struct {
	at     musicxml.Fraction
	words  *etree.Element
	marker Marker
}

// instructions lists a bar's markers on a staff in the order of time.
func (d *division) instructions(b *bar, s *staff) []instruction {
	var all []instruction
	for _, f := range b.fixed {
		if d.staff(f.staff) != s {
			continue
		}
		for _, words := range wordsOf(f) {
			if m, ok := d.marker(words); ok {
				all = append(all, instruction{f.onset, words, m})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].at.Less(all[j].at) })
	return all
}

// obey takes over the markers up to a place and returns those that remain.
// Numbers at one moment add up: "1." and "2." together are both players.
func (s *staff) obey(d *division, all []instruction, upTo musicxml.Fraction) []instruction {
	for len(all) > 0 && !upTo.Less(all[0].at) {
		at := all[0].at
		var next saying
		for len(all) > 0 && all[0].at == at {
			said := d.saying(all[0].marker, s)
			d.addressed[all[0].words] = said.addressed(s)
			next = next.with(said)
			all = all[1:]
		}
		s.saying = next
	}
	return all
}

// saying turns a marker into what it says of a staff.
func (d *division) saying(m Marker, s *staff) saying {
	var who players
	for _, n := range m.Numbers {
		who |= d.named(n)
	}
	switch {
	case who != 0:
		return saying{kind: named, who: who}
	case m.All, m.Divided:
		return saying{kind: everybody, count: m.Count}
	case s.saying.kind == named && s.saying.who.count() == 1:
		return s.saying // "solo" of the one who plays already
	}
	return saying{kind: named, who: only(s.players.list()[0])}
}

// addressed are those whom a marker means.
func (s saying) addressed(on *staff) players {
	if s.kind == named {
		return s.who
	}
	return on.players
}

// with joins what two markers at one moment say.
func (s saying) with(t saying) saying {
	switch {
	case s.kind == named && t.kind == named:
		return saying{kind: named, who: s.who | t.who}
	case s.kind == named:
		return s // "1. 2. a 2": the numbers say more
	}
	return t
}
