package divisi

import (
	"slices"
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// playersMarks are the marks of a direction that are for those who play there;
// others stay for all.
var playersMarks = map[string]bool{
	"words": true, "symbol": true, "dynamics": true, "string-mute": true, "other-direction": true,
	"percussion": true, "damp": true, "damp-all": true,
}

// chooseFixtures takes out the directions that are not the player's. All is
// decided before anything is taken out: what one voice has decides about another.
func (p *player) chooseFixtures() {
	p.forget = map[*etree.Element]bool{}
	p.dynamics = &dynamics{player: p, silent: true}
	p.forgetLines()
	for _, b := range p.bars {
		for _, f := range b.fixed {
			if f.kind == musicxml.Direction {
				p.decide(f)
			}
		}
	}
	sort.SliceStable(p.dynamics.missed, func(i, j int) bool { return p.dynamics.missed[i].at.Less(p.dynamics.missed[j].at) })
	for _, k := range p.desks {
		var kept []*fixture
		for _, f := range k.bar.fixed {
			if p.takes(f) {
				kept = append(kept, f)
			}
		}
		k.bar.fixed = p.dynamics.restate(k, kept)
	}
}

// forgetLines finds the lines that are not the player's.
func (p *player) forgetLines() {
	var taken []*line
	for _, l := range p.findLines() {
		if p.takesLine(l) {
			taken = append(taken, l)
			continue
		}
		for _, m := range l.marks {
			p.forget[m.element] = true
		}
	}
	for _, l := range taken {
		for _, m := range l.marks {
			delete(p.forget, m.element) // two lines may share their end
		}
	}
}

// takesLine reports whether a line is for the player, who then has both its ends.
func (p *player) takesLine(l *line) bool {
	if p.Voiced {
		return p.names(l.marks[0].fixture)
	}
	return p.forAll(l.marks[0].fixture) || p.hears(l.marks[0]) || p.mayHear(l) && p.soundsWithin(l) || p.hasEnd(l)
}

// hasEnd reports whether a line that begins in another voice ends in the player's, whose it
// is then too, unless that voice begins one of its own there. One of a lower voice is that of
// a voice above it only where that begins a note together with it.
func (p *player) hasEnd(l *line) bool {
	from, to := l.marks[0], l.marks[len(l.marks)-1]
	return l.begun() && l.ended() && to.voice != "" && (voiceBefore(from.voice, to.voice) || from.voice != to.voice && p.begins(from.bar, from.onset)) &&
		p.voicesOn(to.bar, p.staff(to.staff))[p.place] == to.voice && !beginsLine(from, to.voice)
}

// beginsLine reports whether a voice begins a line of the same kind in the bar of a mark.
func beginsLine(like mark, voice string) bool {
	return slices.ContainsFunc(like.bar.fixed, func(f *fixture) bool {
		return f.kind == musicxml.Direction && f.voice == voice && slices.ContainsFunc(marksOf(f), func(m mark) bool {
			begins, _ := lineEnds(m.element)
			return begins && m.element.Tag == like.element.Tag
		})
	})
}

// mayHear reports whether a line that begins while the player rests is one for the
// player's voice too.
func (p *player) mayHear(l *line) bool {
	m := l.marks[0]
	own := p.voicesOn(m.bar, p.staff(m.staff))[p.place]
	return own == "" || own == m.voice
}

// takes decides about a fixture, and takes out of it what is not the player's.
func (p *player) takes(f *fixture) bool {
	switch f.kind {
	case musicxml.Direction:
		return p.takesDirection(f)
	case musicxml.Attributes:
		return p.takesAttributes(f.element)
	case musicxml.Harmony, musicxml.FiguredBass:
		return p.takesChord(f)
	}
	return true
}

// takesChord keeps the chord symbols of the player's staff, and those of another where
// it has none: two on one beat of one staff would contradict each other.
func (p *player) takesChord(f *fixture) bool {
	own := p.ownStaff()
	for _, other := range f.bar.fixed {
		if other != f && other.kind == f.kind && other.onset == f.onset && f.staff != own && (other.staff == own || other.staff < f.staff) {
			return false
		}
	}
	musicxml.RemoveChildren(f.element, "staff")
	return true
}

// takesDirection keeps what is left of a direction for the player.
func (p *player) takesDirection(f *fixture) bool {
	for _, m := range marksOf(f) {
		if !p.forget[m.element] {
			continue
		}
		parent := m.element.Parent()
		parent.RemoveChild(m.element)
		if len(parent.ChildElements()) == 0 {
			f.element.RemoveChild(parent)
		}
	}
	musicxml.RemoveChildren(f.element, "staff")
	if musicxml.Child(f.element, "voice") != nil {
		setVoice(f.element, 1)
	}
	return musicxml.Child(f.element, "direction-type") != nil
}

// decide notes the marks of a direction that are not the player's.
func (p *player) decide(f *fixture) {
	all := p.forAll(f)
	for _, m := range marksOf(f) {
		who := p.addressed[m.element]
		switch {
		case who != 0:
			p.forget[m.element] = !p.takesMarker(m, who)
		case all, p.forget[m.element]:
		case p.Voiced:
			p.forget[m.element] = !p.names(f)
		case playersMarks[m.element.Tag]:
			p.forget[m.element] = !p.hears(m)
		}
		if p.forget[m.element] && (m.element.Tag == "dynamics" || m.element.Tag == "wedge") && !p.Voiced && p.staff(m.staff).players.has(p.place) {
			p.dynamics.miss(m)
		}
	}
}

// names reports whether a mark of a voiced staff is the player's.
func (p *player) names(f *fixture) bool {
	return !f.said || f.voice == strconv.Itoa(p.place+1)
}

// takesMarker leaves of a marker what its players still need: "1. Solo" becomes
// "Solo" (notation-rules, 13: the mark itself is dropped from the single part).
func (p *player) takesMarker(m mark, who players) bool {
	marker, ok := p.marker(m.element)
	if !ok || !who.has(p.place) || marker.Text == "" {
		return false
	}
	musicxml.SetText(m.element, marker.Text)
	return true
}

// takesAttributes leaves of an <attributes> what is for the player's staff.
func (p *player) takesAttributes(e *etree.Element) bool {
	own := p.ownStaff()
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "staves", "part-symbol", "instruments":
			e.RemoveChild(c)
		}
		if slash := musicxml.Child(c, "slash"); slash != nil {
			p.renameVoices(slash)
		}
		if n := musicxml.Attr(c, "number"); n != "" {
			if number(n) != int64(own) {
				e.RemoveChild(c)
				continue
			}
			c.RemoveAttr("number")
		}
	}
	return len(e.ChildElements()) > 0
}

// renameVoices names the voices that stand apart from slashes as the player has them;
// those of others go (MusicXML 4.0, except-voice).
func (p *player) renameVoices(slash *etree.Element) {
	said := map[int]bool{}
	for _, e := range musicxml.Children(slash, "except-voice") {
		slash.RemoveChild(e)
		for _, voice := range p.voicesNow(musicxml.Text(e)) {
			if !said[voice] {
				said[voice] = true
				slash.CreateElement("except-voice").SetText(strconv.Itoa(voice))
			}
		}
	}
}

// voicesNow are the numbers under which the player has the music of a voice of the
// score.
func (p *player) voicesNow(voice string) []int {
	var now []int
	for _, k := range p.desks {
		for i, lane := range k.lanes {
			holds := slices.ContainsFunc(lane, func(it *item) bool { return it.group != nil && !it.rest() && it.group.voice == voice })
			if holds {
				now = append(now, i+1)
			}
		}
	}
	return now
}

// ownStaff is the number of the player's staff.
func (p *player) ownStaff() int {
	for _, s := range p.staves {
		if s.players.has(p.place) {
			return s.number
		}
	}
	return 1
}
