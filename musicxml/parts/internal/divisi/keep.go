package divisi

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// keep leaves in the part what the player has, and returns the player's staff.
func (d *division) keep() int {
	p := &player{division: d, place: d.Keep, items: map[*group]*item{}}
	for _, b := range d.bars {
		p.desks = append(p.desks, d.deal(b, d.Keep))
	}
	p.index()
	p.shareChords()
	p.shareAcrossVoices()
	p.keepSpans()
	p.keepTies()
	p.chooseFixtures()
	for _, k := range p.desks {
		p.write(k)
	}
	return p.ownStaff()
}

// player is the work on the music of the one who is kept.
type player struct {
	*division
	place int
	desks []*desk
	// items finds what the player has of a group.
	items     map[*group]*item
	lone      map[*etree.Element]bool // ends of spans without another end
	loneSlurs []spanEnd               // those of them that are slurs, in the order of time
	forget    map[*etree.Element]bool // ends of lines that are not the player's
	dynamics  *dynamics
}

func (p *player) index() {
	for _, k := range p.desks {
		for it := range k.items() {
			if it.group != nil {
				p.items[it.group] = it
			}
		}
	}
}

// at returns the notes that the player begins at a place of a bar, nil where
// there are none.
func (p *player) at(b *bar, onset musicxml.Fraction) *item {
	for it := range p.desks[b.measure.Index].items() {
		if !it.rest() && !it.small() && it.onset == onset {
			return it
		}
	}
	return nil
}

// has reports whether the player has a note.
func (it *item) has(n *note) bool {
	return slices.Contains(it.notes, n)
}

// write puts a bar together again.
func (p *player) write(k *desk) {
	for voice, lane := range k.lanes {
		for _, it := range lane {
			p.writeItem(k, it, voice+1)
		}
		closeBeams(lane)
	}
	k.assemble()
}

// writeItem makes the elements of an item.
func (p *player) writeItem(k *desk, it *item, voice int) {
	switch {
	case !it.rest():
		for i, n := range it.notes {
			p.writeNote(n, i > 0)
			it.elements = append(it.elements, n.element)
		}
	case it.group != nil && !it.silenced:
		normalRest(it.group.element)
		it.elements = []*etree.Element{it.group.element}
	default:
		it.elements = []*etree.Element{k.newRest(it)}
	}
	it.takeOver()
	for _, e := range it.elements {
		setVoice(e, voice)
		musicxml.RemoveChildren(e, "staff")
	}
	if len(k.bar.rulers) > 1 {
		k.rescale(it)
	}
}

// writeNote makes a note one of the player's own.
func (p *player) writeNote(n *note, chord bool) {
	e := n.element
	if !chord && musicxml.Child(e, "chord") != nil {
		musicxml.RemoveChildren(e, "chord")
		// It moves the time now, as the note that carried the stem did.
		if d := musicxml.ChildText(n.group.element, "duration"); d != "" {
			musicxml.SetChildText(e, "duration", d)
		}
	}
	if musicxml.Attr(e, "print-object") == "no" && n.isDuplicate() {
		e.RemoveAttr("print-object")
	}
	if pause := findNotation(e, "fermata"); pause != nil && musicxml.Attr(pause, "type") == "inverted" {
		pause.CreateAttr("type", "upright") // the lower voice is now the only one
	}
	if p.byID == nil {
		return
	}
	for _, id := range musicxml.Children(e, "instrument") {
		if who := p.byID[musicxml.Attr(id, "id")]; who != 0 && !who.has(p.place) {
			e.RemoveChild(id)
		}
	}
}

// isDuplicate reports whether a hidden note was hidden because another voice of
// the staff shows it.
func (n *note) isDuplicate() bool {
	for m := range n.group.bar.notes() {
		if m.pitched && n.pitched && m.pitch == n.pitch && m.group.onset == n.group.onset &&
			m.group.staff == n.group.staff && musicxml.Attr(m.element, "print-object") != "no" {
			return true
		}
	}
	return false
}

// normalRest puts a rest back to its usual place on the staff: a displaced one
// belongs to a staff with two voices (notation-rules, 9).
func normalRest(e *etree.Element) {
	if rest := musicxml.Child(e, "rest"); rest != nil {
		musicxml.RemoveChildren(rest, "display-step", "display-octave")
	}
}

// newRest makes a rest that the score did not have.
func (k *desk) newRest(it *item) *etree.Element {
	e, rest := etree.NewElement("note"), etree.NewElement("rest")
	if it.whole {
		rest.CreateAttr("measure", "yes")
	}
	e.AddChild(rest)
	musicxml.SetChildText(e, "duration", k.duration(it))
	if it.silenced {
		for _, tag := range []string{"type", "dot", "time-modification"} {
			for _, c := range musicxml.Children(it.group.element, tag) {
				musicxml.AddInOrder(e, c.Copy())
			}
		}
		return e
	}
	if it.value.Type != "" {
		musicxml.SetChildText(e, "type", it.value.Type)
		for range it.value.Dots {
			musicxml.AddInOrder(e, etree.NewElement("dot"))
		}
	}
	return e
}

// duration is an item's length in divisions.
func (k *desk) duration(it *item) string {
	return decimal(it.end.Sub(it.onset).Mul(k.bar.divisions(it.onset)))
}

// decimal writes a number as MusicXML has it.
func decimal(f musicxml.Fraction) string {
	if f.Den() == 1 {
		return strconv.Itoa(int(f.Num()))
	}
	return strconv.FormatFloat(f.Float(), 'f', -1, 64)
}

// rescale writes durations anew in a bar whose divisions change inside it: there
// the voices no longer stand in the order in which they were counted.
func (k *desk) rescale(it *item) {
	for _, e := range it.elements {
		if musicxml.Child(e, "duration") != nil {
			musicxml.SetChildText(e, "duration", k.duration(it))
		}
	}
}

func setVoice(e *etree.Element, voice int) {
	musicxml.SetChildText(e, "voice", strconv.Itoa(voice))
}

// takeOver adds what the other voices of the staff gave the item.
func (it *item) takeOver() {
	e := it.elements[0]
	for _, end := range it.ends {
		music.AddNotation(e, end)
	}
	if it.pause != nil && findNotation(e, "fermata") == nil {
		pause := it.pause.Copy()
		if musicxml.Attr(pause, "type") != "" {
			pause.CreateAttr("type", "upright")
		}
		music.AddNotation(e, pause)
	}
	if musicxml.Child(e, "lyric") == nil {
		for _, lyric := range it.lyrics {
			musicxml.AddInOrder(e, lyric.Copy())
		}
	}
}
