package divisi

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// hears reports whether a mark is for the player. Dynamics and words written
// once serve all who play (part-preparation, 7):
//
//   - a mark is for those who sound where it stands; where nobody does, for those
//     who sound next;
//   - where the staff has several voices, a mark in the player's own is the
//     player's, also over a rest;
//   - a voice that has a mark of that kind of its own in the bar goes by that;
//   - a mark in a lower voice is for the voices above it only where they begin a
//     note together with it.
func (p *player) hears(m mark) bool {
	s := p.staff(m.staff)
	if !s.players.has(p.place) {
		return false
	}
	voices := p.voicesOn(m.bar, s)
	own, known := voices[p.place], m.voice != ""
	switch {
	case known && own == m.voice && voices.several():
		return true
	case !known || own == "" || own == m.voice || !voices.lists(m.voice):
		return p.soundsAt(m.fixture, s)
	case p.hasOwn(m, own):
		return false
	case voiceBefore(own, m.voice):
		return p.begins(m.bar, m.onset) && p.soundsAt(m.fixture, s)
	}
	return p.soundsAt(m.fixture, s)
}

// playerVoices names the voice of each player in a bar, "" where the player's
// own voice has no notes there.
type playerVoices map[int]string

// several reports whether the players have different voices.
func (v playerVoices) several() bool {
	first := ""
	for _, own := range v {
		if first != "" && own != "" && own != first {
			return true
		}
		first = max(first, own)
	}
	return false
}

func (v playerVoices) lists(voice string) bool {
	for _, own := range v {
		if own == voice {
			return true
		}
	}
	return false
}

// voicesOn finds whose the voices with notes in a bar are.
func (p *player) voicesOn(b *bar, s *staff) playerVoices {
	c := &casting{division: p.division, staff: s, groups: b.on(s.number)}
	c.findHomes()
	voices := playerVoices{}
	for _, g := range c.groups {
		if g.rest {
			continue
		}
		for _, place := range c.homes[g.voice].list() {
			voices[place] = g.voice
		}
	}
	return voices
}

// hasOwn reports whether a voice has a mark of the same kind in the bar.
func (p *player) hasOwn(m mark, voice string) bool {
	for _, f := range m.bar.fixed {
		if f.kind != musicxml.Direction || f.voice != voice || f.staff != m.staff || f == m.fixture {
			continue
		}
		for _, other := range marksOf(f) {
			if other.element.Tag == m.element.Tag && p.addressed[other.element] == 0 {
				return true
			}
		}
	}
	return false
}

// begins reports whether the player begins a note at a place.
func (p *player) begins(b *bar, onset musicxml.Fraction) bool { return p.at(b, onset) != nil }

// soundsAt reports whether the player is among those who sound on a staff where a
// fixture stands, or who sound next where nobody does.
func (p *player) soundsAt(f *fixture, s *staff) bool {
	who := soundingAt(f.bar, f.onset, s)
	if who == 0 {
		who = p.soundingNext(f, s)
	}
	return who == 0 || who.has(p.place)
}

func soundingAt(b *bar, at musicxml.Fraction, s *staff) players {
	var who players
	for _, g := range b.groups {
		if !g.rest && g.staff == s.number && !at.Less(g.onset) && at.Less(g.end) {
			who |= g.who()
		}
	}
	return who
}

// who are those who play any note of a group.
func (g *group) who() players {
	var who players
	for _, n := range g.notes {
		who |= n.who
	}
	return who
}

// soundingNext finds who plays the first notes of a staff after a fixture.
func (p *player) soundingNext(f *fixture, s *staff) players {
	for _, b := range p.bars[f.bar.measure.Index:] {
		var who players
		first := b.measure.Length
		for _, g := range b.groups {
			if g.rest || g.staff != s.number || b == f.bar && g.onset.Less(f.onset) {
				continue
			}
			switch c := g.onset.Cmp(first); {
			case c < 0:
				first, who = g.onset, g.who()
			case c == 0:
				who |= g.who()
			}
		}
		if who != 0 {
			return who
		}
	}
	return 0
}

// soundsWithin reports whether the player sounds between two places of the piece.
func (p *player) soundsWithin(l *line) bool {
	from, to := l.start(), l.stop()
	first, last := l.marks[0].bar.measure.Index, l.marks[len(l.marks)-1].bar.measure.Index
	for i := first; i <= last; i++ {
		start := p.bars[i].measure.Start
		for it := range p.desks[i].items() {
			if !it.rest() && start.Add(it.onset).Less(to) && from.Less(start.Add(it.end)) {
				return true
			}
		}
	}
	return false
}

// systemMarks are what holds for all players wherever it stands.
var systemMarks = map[string]bool{"rehearsal": true, "segno": true, "coda": true, "metronome": true}

// systemSounds are the attributes of <sound> that hold for all players.
var systemSounds = []string{"tempo", "dacapo", "dalsegno", "segno", "coda", "tocoda", "fine", "forward-repeat"}

// forAll reports whether a direction is for all players.
func (d *division) forAll(f *fixture) bool {
	e := f.element
	if system := musicxml.Attr(e, "system"); system == "only-top" || system == "also-top" || musicxml.Attr(e, "directive") == "yes" {
		return true
	}
	for _, m := range marksOf(f) {
		if systemMarks[m.element.Tag] {
			return true
		}
	}
	return soundForAll(musicxml.Child(e, "sound")) || d.System != nil && d.System(e)
}

func soundForAll(sound *etree.Element) bool {
	if sound == nil {
		return false
	}
	for _, key := range systemSounds {
		if musicxml.Attr(sound, key) != "" {
			return true
		}
	}
	return musicxml.Child(sound, "swing") != nil
}
