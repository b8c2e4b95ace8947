package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// writeKeys moves the part's <key> elements, and says the signature anew where
// the interval changes and the source had no reason to: at a change of
// instrument.
func (w *attributesWriter) writeKeys() {
	restated := w.restatedKeys() // from the keys as the source has them
	for i := range w.course.changes {
		if ch := &w.course.changes[i]; ch.is("key") {
			w.moveKey(ch)
		}
	}
	for _, key := range restated {
		musicxml.AddInOrder(w.attributesAt(key.place), key.element)
	}
}

// moveKey rewrites one <key> of the source. A key for all staves is parted where
// the staves move differently.
func (w *attributesWriter) moveKey(ch *change) {
	if ch.staff != 0 || w.stavesAgree(ch.place) {
		w.writeKey(ch.element, ch.place, ch.staff)
		return
	}
	parent, at := ch.element.Parent(), ch.element.Index()
	for i := range w.course.staves {
		c := ch.element.Copy()
		c.CreateAttr("number", strconv.Itoa(i+1))
		c.RemoveAttr("id")
		parent.InsertChildAt(at+i, c)
		w.writeKey(c, ch.place, i+1)
	}
	parent.RemoveChild(ch.element)
}

// stavesAgree reports whether all staves move alike at a place.
func (w *attributesWriter) stavesAgree(p place) bool {
	first := w.course.staves[0].at(p, false)
	for _, s := range w.course.staves[1:] {
		st := s.at(p, false)
		if st.move != first.move || st.target.WithoutSignature != first.target.WithoutSignature {
			return false
		}
	}
	return true
}

// writeKey rewrites a <key> for one staff, or for all that agree (0).
func (w *attributesWriter) writeKey(e *etree.Element, p place, staff int) {
	course := w.course.staff(staff) // 0 reads as the first
	st := course.at(p, false)
	if st.target.WithoutSignature {
		emptySignature(e)
		return
	}
	key, err := readSignature(e)
	if err != nil {
		return // it was read before, so it reads again
	}
	var previous *state
	for i := 1; i < len(course); i++ {
		if &course[i] == st && st.keyBefore {
			previous = &course[i-1]
		}
	}
	text := ""
	switch {
	case previous == nil:
		text = writeSignature(e, key.moved(st.move), st.move, nil)
	case onlyRestates(e, st, previous) && (staff != 0 || w.alikeThroughout()):
		e.Parent().RemoveChild(e)
	default:
		text = writeSignature(e, key.moved(st.move), st.move, previous)
	}
	if text != "" {
		w.warn(p, "key-octave", text)
	}
}

// onlyRestates reports whether the source has a <key> for no other reason than
// its change of transposition, which the new part does not have: the same
// signature goes on there. Only a <key> that restatedKeys would make again is
// taken out, so that the way back has it as it was.
func onlyRestates(e *etree.Element, st, previous *state) bool {
	if st.move == previous.move || !st.key.traditional || !previous.key.traditional ||
		st.key.fifths == previous.key.fifths || st.newKey.fifths != previous.newKey.fifths {
		return false
	}
	before := previous.key.element
	return before != nil && bareKey(e) && bareKey(before) &&
		musicxml.ChildText(e, "mode") == musicxml.ChildText(before, "mode") &&
		musicxml.Attr(e, "number") == musicxml.Attr(before, "number")
}

// bareKey reports whether a <key> holds fifths, and perhaps a mode, and nothing
// else.
func bareKey(e *etree.Element) bool {
	for _, a := range e.Attr {
		if a.Key != "number" {
			return false
		}
	}
	for _, c := range e.ChildElements() {
		if c.Tag != "fifths" && c.Tag != "mode" || len(c.Attr) > 0 {
			return false
		}
	}
	return true
}

// emptySignature turns a <key> into one without sharps or flats.
func emptySignature(e *etree.Element) {
	musicxml.RemoveChildren(e, "cancel", "mode", "key-step", "key-alter", "key-accidental", "key-octave")
	musicxml.SetChildText(e, "fifths", "0")
}

// restatedKeys makes a <key> for every place where the signature changes with
// the interval alone.
func (w *attributesWriter) restatedKeys() []change {
	if w.alikeThroughout() {
		return restatedKeysOf(w.course.staves[0], "")
	}
	var keys []change
	for i, s := range w.course.staves {
		keys = append(keys, restatedKeysOf(s, strconv.Itoa(i+1))...)
	}
	return keys
}

// alikeThroughout reports whether all staves have the same keys and moves, so
// that one <key> serves for all.
func (w *attributesWriter) alikeThroughout() bool {
	first := w.course.staves[0]
	for _, s := range w.course.staves[1:] {
		if len(s) != len(first) {
			return false
		}
		for i := range s {
			if s[i].place != first[i].place || s[i].key.element != first[i].key.element || s[i].move != first[i].move ||
				s[i].target.WithoutSignature != first[i].target.WithoutSignature {
				return false
			}
		}
	}
	return true
}

func restatedKeysOf(course staffCourse, number string) []change {
	var keys []change
	for i := 1; i < len(course); i++ {
		st, before := &course[i], &course[i-1]
		if st.keyHere || !st.keyBefore || st.newKey.alters == before.newKey.alters {
			continue
		}
		e := st.key.element.Copy()
		e.RemoveAttr("id")
		musicxml.RemoveChildren(e, "cancel")
		if number != "" {
			e.CreateAttr("number", number)
		}
		if st.target.WithoutSignature {
			emptySignature(e)
		} else {
			writeSignature(e, st.newKey, st.move, nil)
		}
		keys = append(keys, change{place: st.place, element: e})
	}
	return keys
}
