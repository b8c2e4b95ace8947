package joining

import (
	"maps"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
)

// piece is a stretch of one bar, taken out of a staff; rests where there is none.
type piece struct {
	of       *music
	from, to musicxml.Fraction
}

// barMaker puts one bar together.
type barMaker struct {
	divisions musicxml.Fraction // in a quarter note
	index     int               // of the bar
	frame     *musicxml.Measure // whose number and metre the bar has
	bar       *etree.Element
	now       musicxml.Fraction // where the bar's last child ends
	last      *etree.Element
	closing   *etree.Element // the bar line that the bar ends with, still to be put
	system    *music         // where the player has nothing, the marks for all are taken from it
	force     inForce        // what the part has said so far
	staff     int            // of which that is, 0 where all say the same
}

// newBar begins a bar that is numbered as another.
func newBar(frame *musicxml.Measure, divisions musicxml.Fraction, force inForce) *barMaker {
	b := &barMaker{divisions: divisions, index: frame.Index, frame: frame, bar: etree.NewElement("measure"), force: force}
	for _, a := range frame.Element.Attr {
		b.bar.CreateAttr(a.FullKey(), a.Value)
	}
	return b
}

// pieces takes all of a bar from pieces that follow each other.
func (b *barMaker) pieces(all []piece) {
	for i, p := range all {
		if p.of.measure(b.index) == nil {
			b.silence(p, i == 0, i+1 == len(all))
			continue
		}
		b.say(b.force.missing(p.of.holds(b.index, p.from)), p.from)
		b.take(p, i == 0, i+1 == len(all), p.of.has)
	}
}

// silence takes rests, with what holds for all players.
func (b *barMaker) silence(p piece, first, last bool) {
	if b.system == nil {
		b.rest(p.from, p.to, nil)
		return
	}
	if time := b.system.holds(b.index, p.to)["time"]; time != nil {
		wanted := maps.Clone(b.force)
		wanted["time"] = time
		b.say(b.force.missing(wanted), p.from)
	}
	b.rest(p.from, p.to, nil)
	p.of = b.system
	b.take(p, first, last, func(ev *musicxml.Event) bool {
		return ev.Kind == musicxml.Direction && draft.ForAll(ev.Element) || ev.Kind == musicxml.Barline || ev.Kind == musicxml.Sound
	})
}

// say prints attributes at a time.
func (b *barMaker) say(anew []*etree.Element, at musicxml.Fraction) {
	if len(anew) == 0 {
		return
	}
	attributes := etree.NewElement("attributes")
	for _, e := range anew {
		attributes.AddChild(e)
	}
	b.attributes(attributes, at)
}

// attributes puts attributes at a time, together with those that stand there: what is
// said last holds.
func (b *barMaker) attributes(e *etree.Element, at musicxml.Fraction) {
	b.force.take(e, b.staff)
	if b.last == nil || b.last.Tag != "attributes" || b.now != at {
		b.put(e, at, musicxml.Fraction{})
		return
	}
	for _, c := range e.ChildElements() {
		for _, old := range musicxml.Children(b.last, c.Tag) {
			if musicxml.Attr(old, "number") == musicxml.Attr(c, "number") && c.Tag != "measure-style" {
				b.last.RemoveChild(old)
			}
		}
		musicxml.AddInOrder(b.last, c)
	}
	b.force.take(b.last, b.staff)
}

// put adds an element that stands at a time and lasts as long as is said.
func (b *barMaker) put(e *etree.Element, at, length musicxml.Fraction) {
	switch {
	case at.Less(b.now):
		b.bar.AddChild(draft.Turn("backup", b.count(b.now.Sub(at))))
	case b.now.Less(at):
		b.bar.AddChild(draft.Turn("forward", b.count(at.Sub(b.now))))
	}
	b.bar.AddChild(e)
	b.now, b.last = at.Add(length), e
}

func (b *barMaker) count(length musicxml.Fraction) string {
	return draft.Decimal(length.Mul(b.divisions))
}

// take takes what a staff has in a stretch of the bar.
func (b *barMaker) take(p piece, first, last bool, has func(*musicxml.Event) bool) {
	m := p.of.measure(b.index)
	var now musicxml.Fraction
	skipped := false // the note that a chord would stand with
	for k := range m.Events {
		ev, here := &m.Events[k], now
		now = ev.After(now)
		if !has(ev) {
			continue
		}
		switch ev.Kind {
		case musicxml.Backup, musicxml.Forward:
		case musicxml.Note:
			switch {
			case ev.Chord && !skipped:
				p.of.onOwnStaff(ev.Element)
				b.bar.AddChild(ev.Element)
			case ev.Chord:
			case ev.Rest:
				skipped = true
				b.takeRest(p, ev)
			default:
				if skipped = !p.holds(ev.Onset, ev.Grace); !skipped {
					p.of.onOwnStaff(ev.Element)
					b.put(ev.Element, ev.Onset, ev.Duration)
				}
			}
		case musicxml.Barline:
			switch where := draft.LocationOf(ev.Element); {
			case where == "left" && first, where == "right" && last:
				b.put(ev.Element, here, musicxml.Fraction{})
			case where == "middle" && p.holds(here, true) && p.from.Less(here):
				b.put(ev.Element, here, musicxml.Fraction{})
			}
		case musicxml.Attributes:
			if p.holds(here, last) {
				b.attributes(p.of.ownAttributes(ev.Element), here)
			}
		case musicxml.Print:
			if first {
				b.put(ev.Element, here, musicxml.Fraction{})
			}
		default:
			b.takeMark(p, ev, here, last)
		}
	}
}

// holds reports whether a time lies in the piece; its end does where asked.
func (p *piece) holds(at musicxml.Fraction, withEnd bool) bool {
	return !at.Less(p.from) && (at.Less(p.to) || withEnd && at == p.to)
}

// takeMark takes a direction or another thing without length where it is seen. One that
// stands elsewhere by its offset keeps that where it can.
func (b *barMaker) takeMark(p piece, ev *musicxml.Event, here musicxml.Fraction, last bool) {
	last = last || p.of.kept[ev.Element]
	p.of.onOwnStaff(ev.Element)
	switch {
	case !p.holds(ev.Onset, last):
	case p.holds(here, last):
		b.put(ev.Element, here, musicxml.Fraction{})
	default:
		musicxml.RemoveChildren(ev.Element, "offset")
		b.put(ev.Element, ev.Onset, musicxml.Fraction{})
	}
}

// takeRest takes of a rest what lies in the piece.
func (b *barMaker) takeRest(p piece, ev *musicxml.Event) {
	from, to := ev.Onset, ev.Onset.Add(ev.Duration)
	p.of.onOwnStaff(ev.Element)
	if !from.Less(p.from) && !p.to.Less(to) {
		b.put(ev.Element, from, ev.Duration)
		return
	}
	from = from.Max(p.from)
	to = to.Min(p.to)
	if from.Less(to) {
		b.rest(from, to, ev.Element)
	}
}

// rest writes rests from one time to another, in the voice of another where there is one.
func (b *barMaker) rest(from, to musicxml.Fraction, like *etree.Element) {
	if from.Sign() == 0 && to == b.frame.Length {
		e := b.newRest(to, like)
		musicxml.Child(e, "rest").CreateAttr("measure", "yes")
		b.put(e, from, to)
		return
	}
	rests := divisi.Rests(b.frame, from, to)
	for _, r := range rests {
		if r.To.Sub(r.From).Mul(b.divisions).Den() > 1 {
			rests = []divisi.Rest{{From: from, To: to}}
			break
		}
	}
	for _, r := range rests {
		e := b.newRest(r.To.Sub(r.From), like)
		if r.Type != "" {
			musicxml.SetChildText(e, "type", r.Type)
		}
		for range r.Dots {
			musicxml.AddInOrder(e, etree.NewElement("dot"))
		}
		b.put(e, r.From, r.To.Sub(r.From))
	}
}

func (b *barMaker) newRest(length musicxml.Fraction, like *etree.Element) *etree.Element {
	e := etree.NewElement("note")
	e.CreateElement("rest")
	musicxml.SetChildText(e, "duration", b.count(length))
	voice, staff := "1", ""
	if like != nil {
		if v := musicxml.ChildText(like, "voice"); v != "" {
			voice = v
		}
		staff = musicxml.ChildText(like, "staff")
	}
	musicxml.SetChildText(e, "voice", voice)
	if staff != "" {
		musicxml.SetChildText(e, "staff", staff)
	}
	return e
}
