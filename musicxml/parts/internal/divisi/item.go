package divisi

import (
	"iter"
	"slices"
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// item is what the player has at one moment: notes on one stem, or a rest.
type item struct {
	group      *group  // whose notes or rest it is; nil for a rest that was made
	notes      []*note // none for a rest
	onset, end musicxml.Fraction
	value      NoteValue // of a rest that was made
	// silenced: a rest in place of notes that others play, in their rhythm.
	silenced bool
	// whole: a rest of the whole bar.
	whole    bool
	pause    *etree.Element   // a fermata of another voice
	lyrics   []*etree.Element // of another voice
	ends     []*etree.Element // of tuplets, at a rest that was made
	elements []*etree.Element // what stands on the page
}

// rest reports whether the player is silent.
func (it *item) rest() bool { return len(it.notes) == 0 }

// small reports whether the item takes no time: grace notes.
func (it *item) small() bool { return it.group != nil && it.group.grace }

// tuplet reports whether the item's rhythm is one of a tuplet.
func (it *item) tuplet() bool {
	return it.group != nil && musicxml.Child(it.group.element, "time-modification") != nil
}

// desk is one bar of the player.
type desk struct {
	bar   *bar
	lanes [][]*item // one a voice; the first is filled with rests
}

// items goes through what the player has in the bar, voice by voice.
func (k *desk) items() iter.Seq[*item] {
	return func(yield func(*item) bool) {
		for _, lane := range k.lanes {
			for _, it := range lane {
				if !yield(it) {
					return
				}
			}
		}
	}
}

// before orders what a voice has: grace notes come before what they lead to.
func (it *item) before(other *item) bool {
	if it.onset != other.onset {
		return it.onset.Less(other.onset)
	}
	return it.small() && !other.small()
}

// bundle is a group as the player has it: its grace notes and itself.
type bundle struct {
	items      []*item
	onset, end musicxml.Fraction
	voice      string
}

// deal picks the player's notes and rests in a bar. One line of music after
// another goes into the first lane; what would overlap goes into the next.
func (d *division) deal(b *bar, player int) *desk {
	notes, rests := d.bundlesOf(b, player)
	k := &desk{bar: b}
	for _, u := range notes {
		k.place(u)
	}
	if len(k.lanes) == 0 {
		k.lanes = [][]*item{nil}
	}
	for _, u := range rests {
		if !occupied(k.lanes[0], u) {
			k.lanes[0] = append(k.lanes[0], u.items...)
		}
	}
	for _, lane := range k.lanes {
		sort.SliceStable(lane, func(i, j int) bool { return lane[i].before(lane[j]) })
	}
	k.fill()
	return k
}

// bundlesOf lists what the player plays in a bar, the upper voices first, and the
// rests that are the player's.
func (d *division) bundlesOf(b *bar, player int) (notes, rests []bundle) {
	for _, g := range b.groups {
		u := bundle{onset: g.onset, end: g.end, voice: g.voice}
		u.add(g.before, player, g.onset)
		u.add([]*group{g}, player, g.onset)
		u.add(g.after, player, g.end)
		sounding := len(u.items) > 0
		if g.rest && !g.hidden && d.rests(g, player) {
			u.items = append(u.items, &item{group: g, onset: g.onset, end: g.end})
		}
		if sounding {
			notes = append(notes, u)
		} else {
			rests = append(rests, u)
		}
	}
	sort.SliceStable(notes, func(i, j int) bool { return voiceBefore(notes[i].voice, notes[j].voice) })
	return notes, rests
}

// add adds what the player has of some groups at an onset.
func (u *bundle) add(groups []*group, player int, onset musicxml.Fraction) {
	for _, g := range groups {
		it := &item{group: g, onset: onset, end: onset.Add(g.end.Sub(g.onset))}
		for _, n := range g.notes {
			if n.who.has(player) {
				it.notes = append(it.notes, n)
			}
		}
		if !it.rest() {
			u.items = append(u.items, it)
		}
	}
}

// rests reports whether a printed rest is the player's.
func (d *division) rests(g *group, player int) bool {
	s := d.staff(g.staff)
	if !s.players.has(player) {
		return false
	}
	c := &casting{division: d, staff: s, groups: g.bar.on(s.number)}
	c.findHomes()
	return c.candidates(g).has(player)
}

// place puts a bundle into the first lane that is free.
func (k *desk) place(u bundle) {
	for i := range k.lanes {
		if !occupied(k.lanes[i], u) {
			k.lanes[i] = append(k.lanes[i], u.items...)
			return
		}
	}
	k.lanes = append(k.lanes, u.items)
}

func occupied(lane []*item, u bundle) bool {
	return slices.ContainsFunc(lane, func(it *item) bool { return it.onset.Less(u.end) && u.onset.Less(it.end) })
}
