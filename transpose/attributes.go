package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// moment is a place without its order: where an <attributes> stands.
type moment struct {
	measure int
	onset   musicxml.Fraction
}

// attributesWriter rewrites keys and transpositions in the part's <attributes>.
type attributesWriter struct {
	*mover
	at map[moment]*etree.Element
}

// writeAttributes moves the key signatures and says the new transposition at the
// start of the part and wherever it changes.
func (m *mover) writeAttributes() {
	w := attributesWriter{m, map[moment]*etree.Element{}}
	w.collect()
	for _, ch := range m.course.changes {
		if ch.element != nil && ch.element.Tag == "key" {
			w.moveKey(ch)
		}
	}
	w.restateKeys()
	w.removeTranspositions()
	w.writeTranspositions()
}

// collect remembers the <attributes> that already stand in the part.
func (w *attributesWriter) collect() {
	for i := range w.timeline.Measures {
		for k := range w.timeline.Measures[i].Events {
			ev := &w.timeline.Measures[i].Events[k]
			if ev.Kind != musicxml.Attributes {
				continue
			}
			if at := (moment{i, ev.Onset}); w.at[at] == nil {
				w.at[at] = ev.Element
			}
		}
	}
}

// moveKey rewrites one <key> of the source. A key for all staves is parted where
// the staves move differently.
func (w *attributesWriter) moveKey(ch change) {
	if ch.staff != 0 || w.staffsAgree(ch.place) {
		w.writeKey(ch.element, ch.place, max(ch.staff, 1))
		return
	}
	parent, at := ch.element.Parent(), ch.element.Index()
	for i := range w.course.staves {
		c := ch.element.Copy()
		c.CreateAttr("number", strconv.Itoa(i+1))
		parent.InsertChildAt(at+i, c)
		w.writeKey(c, ch.place, i+1)
	}
	parent.RemoveChild(ch.element)
}

// staffsAgree reports whether all staves move alike at a place.
func (w *attributesWriter) staffsAgree(p place) bool {
	first := w.course.staves[0].at(p, false)
	for _, s := range w.course.staves[1:] {
		st := s.at(p, false)
		if st.move != first.move || st.target.WithoutSignature != first.target.WithoutSignature {
			return false
		}
	}
	return true
}

func (w *attributesWriter) writeKey(e *etree.Element, p place, staff int) {
	course := w.course.staff(staff)
	st := course.at(p, false)
	if st.target.WithoutSignature {
		emptySignature(e)
		return
	}
	key, err := readSignature(e)
	if err != nil {
		return // read before, so it reads again
	}
	var previous *signature
	for i := range course {
		if &course[i] == st && i > 0 && st.keyBefore {
			previous = &course[i-1].newKey
		}
	}
	if text := writeSignature(e, key.moved(st.move), st.move, previous); text != "" {
		w.warn(p, "key-octave", text)
	}
}

// emptySignature turns a <key> into one without sharps or flats.
func emptySignature(e *etree.Element) {
	musicxml.RemoveChildren(e, "cancel", "mode", "key-step", "key-alter", "key-accidental", "key-octave")
	musicxml.SetChildText(e, "fifths", "0")
}

// restateKeys writes the signature anew where the interval changes and the
// source had no reason to: at a change of instrument.
func (w *attributesWriter) restateKeys() {
	for staff, course := range w.course.staves {
		for i := 1; i < len(course); i++ {
			st, before := &course[i], &course[i-1]
			if st.keyHere || !st.keyBefore || st.newKey.alters == before.newKey.alters || st.key.element == nil {
				continue
			}
			c := st.key.element.Copy()
			c.RemoveAttr("number")
			musicxml.RemoveChildren(c, "cancel")
			if len(w.course.staves) > 1 {
				c.CreateAttr("number", strconv.Itoa(staff+1))
			}
			if st.target.WithoutSignature {
				emptySignature(c)
			} else {
				w.restated(c, st)
			}
			musicxml.AddInOrder(w.attributesAt(st.place), c)
		}
	}
}

// restated writes the state's new key into a copy of the element that set it,
// which was itself moved already, by an earlier state's interval.
func (w *attributesWriter) restated(c *etree.Element, st *state) {
	if st.newKey.traditional {
		musicxml.SetChildText(c, "fifths", strconv.Itoa(st.newKey.fifths))
		return
	}
	writeTones(c, st.newKey, Interval{0, 1})
}

// removeTranspositions takes the source's <transpose> elements out, and an
// <attributes> that held nothing else.
func (w *attributesWriter) removeTranspositions() {
	for _, ch := range w.course.changes {
		if ch.element == nil || ch.element.Tag != "transpose" {
			continue
		}
		if parent := ch.element.Parent(); parent != nil {
			parent.RemoveChild(ch.element)
			if len(parent.ChildElements()) == 0 {
				w.dropEmpty(parent)
			}
		}
	}
}

func (w *attributesWriter) dropEmpty(attributes *etree.Element) {
	for at, e := range w.at {
		if e == attributes {
			delete(w.at, at)
		}
	}
	if parent := attributes.Parent(); parent != nil {
		parent.RemoveChild(attributes)
	}
}

// spoken is what a <transpose> has said last on a staff.
type spoken struct {
	Transposition
	doubled bool
}

// writeTranspositions writes <transpose> where it begins to differ from what was
// said before; nothing said is sounding pitch.
func (w *attributesWriter) writeTranspositions() {
	said := make([]spoken, len(w.course.staves))
	for _, p := range w.course.places() {
		now := make([]spoken, len(said))
		changed, alike := false, true
		for i, s := range w.course.staves {
			st := s.at(p, false)
			now[i] = spoken{st.written, st.double != nil && !st.target.DropDoubling}
			changed = changed || now[i] != said[i]
			alike = alike && now[i] == now[0]
		}
		if changed {
			w.writeTranspose(p, now, alike)
		}
		said = now
	}
}

func (w *attributesWriter) writeTranspose(p place, now []spoken, alike bool) {
	attributes := w.attributesAt(p)
	for i, s := range now {
		e := etree.NewElement("transpose")
		s.Transposition.Write(e)
		if s.doubled {
			e.AddChild(w.course.staves[i].at(p, false).double.Copy())
		}
		if !alike {
			e.CreateAttr("number", strconv.Itoa(i+1))
		}
		musicxml.AddInOrder(attributes, e)
		if alike {
			return
		}
	}
}

// places lists the places of all states, in order, one for each moment.
func (c *course) places() []place {
	var places []place
	for _, s := range c.staves {
		for i := range s {
			places = append(places, s[i].place)
		}
	}
	return sortedMoments(places)
}

// attributesAt finds or makes the <attributes> of a moment.
func (w *attributesWriter) attributesAt(p place) *etree.Element {
	at := moment{p.measure, p.onset}
	if e := w.at[at]; e != nil {
		return e
	}
	e := etree.NewElement("attributes")
	w.at[at] = e
	m := &w.timeline.Measures[p.measure]
	m.Element.InsertChildAt(insertionPoint(m, p.onset), e)
	return e
}

// insertionPoint finds where in a measure an <attributes> of that onset belongs:
// before the first note or move that begins there or later, and before the voice
// turns back.
func insertionPoint(m *musicxml.Measure, onset musicxml.Fraction) int {
	for i := range m.Events {
		ev := &m.Events[i]
		switch ev.Kind {
		case musicxml.Backup:
			return ev.Element.Index()
		case musicxml.Note, musicxml.Forward:
			if !ev.Chord && !ev.Onset.Less(onset) {
				return ev.Element.Index()
			}
		case musicxml.Print, musicxml.Attributes:
		default:
			if onset.Sign() == 0 && ev.Onset.Sign() == 0 {
				return ev.Element.Index()
			}
		}
	}
	return len(m.Element.Child)
}
