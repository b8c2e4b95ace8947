package divisi

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// dynamics follows how loud the staff is, for a player who enters after others: a
// dynamic that was given while the player rested is said again at the entry,
// where the score says none.
type dynamics struct {
	player *player
	missed []missed
	given  string // what the player was told last, "" where a hairpin has changed it since
	told   bool   // the player was told something since the last note
	silent bool   // the player rested before the item at hand
}

// missed is a dynamic that the player did not get because of a rest; without
// direction, a hairpin, after which no dynamic is known.
type missed struct {
	at        musicxml.Fraction // from the start of the piece
	direction *etree.Element
}

// miss notes a dynamic or hairpin that is not for the player, if that is because
// of a rest.
func (y *dynamics) miss(m mark) {
	if y.player.soundsIn(m.bar, m.onset) {
		return
	}
	it := missed{at: m.when()}
	if m.element.Tag == "dynamics" {
		it.direction = dynamicsAlone(m)
	}
	y.missed = append(y.missed, it)
}

// soundsIn reports whether the player sounds at a place of a bar.
func (p *player) soundsIn(b *bar, at musicxml.Fraction) bool {
	for it := range p.desks[b.measure.Index].items() {
		if !it.rest() && !at.Less(it.onset) && at.Less(it.end) {
			return true
		}
	}
	return false
}

// dynamicsAlone copies a direction without anything but one dynamic.
func dynamicsAlone(m mark) *etree.Element {
	direction := m.fixture.element.Copy()
	for _, c := range direction.ChildElements() {
		if c.Tag != "sound" || musicxml.Attr(c, "dynamics") == "" { // one for all is never missed
			direction.RemoveChild(c)
		}
	}
	t := etree.NewElement("direction-type")
	t.AddChild(m.element.Copy())
	direction.InsertChildAt(0, t)
	return direction
}

// restate adds to the fixtures of a bar what the player has to be told at an
// entry.
func (y *dynamics) restate(k *desk, fixed []*fixture) []*fixture {
	for _, it := range k.lanes[0] {
		if it.small() {
			continue
		}
		y.hear(fixed, it)
		if it.rest() {
			y.silent = true
			continue
		}
		if last := y.latest(k, it); y.silent && !y.told && last != nil && levelOf(last) != y.given {
			fixed = append(fixed, &fixture{token: last, element: last, kind: musicxml.Direction, at: it.onset, onset: it.onset})
			y.given = levelOf(last)
		}
		y.silent, y.told = false, false
	}
	return fixed
}

// hear takes over what the player is told during an item.
func (y *dynamics) hear(fixed []*fixture, it *item) {
	for _, f := range fixed {
		if f.kind != musicxml.Direction || f.onset.Less(it.onset) || !f.onset.Less(it.end) {
			continue
		}
		if level := levelOf(f.element); level != "" {
			y.given, y.told = level, true
		} else if hasMark(f, "wedge") {
			y.given, y.told = "", it.rest() // at a note the dynamic is that from which it grows
		}
	}
	if !it.rest() && findNotation(it.first(), "dynamics") != nil {
		y.told = true
	}
}

// latest is the dynamic in force that the player missed, nil where none is known.
func (y *dynamics) latest(k *desk, it *item) *etree.Element {
	now := k.bar.measure.Start.Add(it.onset)
	var last *etree.Element
	for len(y.missed) > 0 && !now.Less(y.missed[0].at) {
		last = y.missed[0].direction
		y.missed = y.missed[1:]
	}
	return last
}

func hasMark(f *fixture, tag string) bool {
	return slices.ContainsFunc(marksOf(f), func(m mark) bool { return m.element.Tag == tag })
}

// levelOf names the dynamic of a direction, "" where it has none.
func levelOf(direction *etree.Element) string {
	for _, t := range musicxml.Children(direction, "direction-type") {
		if e := musicxml.Child(t, "dynamics"); e != nil {
			name := ""
			for _, c := range e.ChildElements() {
				name += c.Tag + musicxml.Text(c)
			}
			return name
		}
	}
	return ""
}
