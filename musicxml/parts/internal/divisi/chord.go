package divisi

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// shareChords gives the players of a chord what was written once for all its
// notes, at the note that the stem begins with.
func (p *player) shareChords() {
	for _, k := range p.desks {
		for it := range k.items() {
			if !it.rest() {
				it.shareChord()
			}
		}
	}
}

// shareChord copies to the first of the player's notes what it lacks.
func (it *item) shareChord() {
	to := it.notes[0]
	for _, from := range it.group.notes {
		if it.has(from) {
			continue
		}
		if from == it.group.notes[0] {
			shareChildren(from.element, to.element, "beam", "stem")
		}
		shareChildren(from.element, to.element, "lyric")
		for _, notations := range musicxml.Children(from.element, "notations") {
			for _, e := range notations.ChildElements() {
				shareNotation(e, to.element)
			}
		}
	}
	if len(it.notes) == 1 {
		dropNotations(to.element, "arpeggiate", "non-arpeggiate")
	}
}

// shareChildren copies children of some names where the note has none.
func shareChildren(from, to *etree.Element, tags ...string) {
	for _, tag := range tags {
		if musicxml.Child(to, tag) != nil {
			continue
		}
		for _, e := range musicxml.Children(from, tag) {
			musicxml.AddInOrder(to, e.Copy())
		}
	}
}

// shareNotation copies what an articulation, ornament, dynamic or pause says of
// the whole chord. What belongs to one notehead (ties, fingerings, glissandos)
// stays there; lines with two ends are the spans' affair.
func shareNotation(e, to *etree.Element) {
	switch e.Tag {
	case "articulations", "ornaments":
		shareMarks(e, to)
	case "dynamics", "fermata":
		if findNotation(to, e.Tag) == nil {
			music.AddNotation(to, e.Copy())
		}
	}
}

// shareMarks copies the marks of an <articulations> or <ornaments> one by one; an accidental
// goes with the ornament that it stands behind.
func shareMarks(from, to *etree.Element) {
	shared := false // the ornament before
	for _, mark := range from.ChildElements() {
		home := findNotation(to, from.Tag)
		switch {
		case mark.Tag == "wavy-line", isSpanEnd(mark):
			continue
		case mark.Tag != "accidental-mark":
			shared = home == nil || musicxml.Child(home, mark.Tag) == nil
		}
		if !shared {
			continue
		}
		notationGroup(to, from.Tag).AddChild(mark.Copy())
	}
}

// findNotation finds an element inside a note's <notations>.
func findNotation(note *etree.Element, tag string) *etree.Element {
	for _, notations := range musicxml.Children(note, "notations") {
		if e := musicxml.Child(notations, tag); e != nil {
			return e
		}
	}
	return nil
}

// notationGroup finds or makes a group of marks at a note: its <articulations>, <ornaments>.
func notationGroup(note *etree.Element, tag string) *etree.Element {
	group := findNotation(note, tag)
	if group == nil {
		group = etree.NewElement(tag)
		music.AddNotation(note, group)
	}
	return group
}

// dropNotations removes elements from a note's <notations>, and what is then
// empty.
func dropNotations(note *etree.Element, tags ...string) {
	for _, notations := range musicxml.Children(note, "notations") {
		musicxml.RemoveChildren(notations, tags...)
		dropEmpty(notations)
	}
}

// dropEmpty removes an element without children from its parent, and the parent
// too where nothing else is in it, up to the note.
func dropEmpty(e *etree.Element) {
	for e != nil && e.Tag != "note" && len(e.ChildElements()) == 0 {
		parent := e.Parent()
		if parent != nil {
			parent.RemoveChild(e)
		}
		e = parent
	}
}

// shareAcrossVoices gives the player what another voice of the staff says for
// both: a pause, and words to be sung where the player's voice has none.
func (p *player) shareAcrossVoices() {
	for _, k := range p.desks {
		for _, g := range k.bar.groups {
			if it := p.items[g]; it != nil && !it.silenced {
				continue
			}
			p.sharePause(k, g)
			p.shareLyrics(k, g)
		}
	}
}

// sharePause copies a fermata to what the player has where the note under it ends: to
// that which ends with it, or goes on through it.
func (p *player) sharePause(k *desk, g *group) {
	fermata := fermataOf(g)
	if fermata == nil {
		return
	}
	if it := k.atEnd(g); it != nil && it.pause == nil {
		it.pause = fermata
	}
}

// atEnd finds what the player has where a group of another voice ends.
func (k *desk) atEnd(g *group) *item {
	for _, it := range k.lanes[0] {
		if it.onset.Less(g.end) && !it.end.Less(g.end) {
			return it
		}
	}
	return nil
}

func fermataOf(g *group) *etree.Element {
	if g.rest {
		return findNotation(g.element, "fermata")
	}
	for _, n := range g.notes {
		if e := findNotation(n.element, "fermata"); e != nil {
			return e
		}
	}
	return nil
}

// shareLyrics copies the words under a note of another voice.
func (p *player) shareLyrics(k *desk, g *group) {
	it := p.at(k.bar, g.onset)
	if it == nil || it.lyrics != nil || g.rest || k.sings() || p.staff(g.staff) != p.staff(it.group.staff) {
		return
	}
	it.lyrics = append(it.lyrics, musicxml.Children(g.notes[0].element, "lyric")...)
}

// sings reports whether the player's own voice has words in the bar.
func (k *desk) sings() bool {
	for it := range k.items() {
		for _, n := range it.notes {
			if musicxml.Child(n.element, "lyric") != nil {
				return true
			}
		}
	}
	return false
}
