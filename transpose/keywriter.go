package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// writeKeys moves the part's <key> elements, and says the signature anew where
// the interval changes and the source had no reason to: at a change of
// instrument.
func (w *attributesWriter) writeKeys() {
	restated := w.restatedKeys() // from the keys as the source has them
	for i := range w.states.changes {
		if ch := &w.states.changes[i]; ch.is("key") {
			w.moveKey(ch)
		}
	}
	for _, key := range restated {
		addKey(w.attributesAt(key.position), key.element)
	}
	w.joinParted()
}

// joinParted makes one key of all staves again of those that were parted on the way
// here, where they agree again.
func (w *attributesWriter) joinParted() {
	for i := range w.states.changes {
		ch := &w.states.changes[i]
		if !ch.is("key") || !takeRemark(ch.element, remarkParted) {
			continue
		}
		keys := musicxml.Children(ch.attributes, "key")
		switch {
		case len(keys) == len(w.states.staves) && alikeButNumber(keys):
			keys[0].RemoveAttr("number")
			for _, e := range keys[1:] {
				ch.attributes.RemoveChild(e)
			}
		case w.options.AsPrinted:
			addRemark(ch.element, remarkParted)
		}
	}
}

// alikeButNumber reports whether keys differ in their staff alone.
func alikeButNumber(keys []*etree.Element) bool {
	first := keys[0].Copy()
	for _, e := range keys[1:] {
		first.CreateAttr("number", musicxml.Attr(e, "number"))
		if !sameText(first, e) {
			return false
		}
	}
	return true
}

// addKey adds a <key> to an <attributes>, staff by staff from the top.
func addKey(attributes, key *etree.Element) {
	for _, other := range musicxml.Children(attributes, "key") {
		if staffNumber(other) > staffNumber(key) {
			attributes.InsertChildAt(other.Index(), key)
			return
		}
	}
	musicxml.AddInOrder(attributes, key)
}

// moveKey rewrites one <key> of the source. A key for all staves is parted where
// the staves move differently.
func (w *attributesWriter) moveKey(ch *change) {
	if ch.staff != 0 || w.stavesAgree(ch.position) {
		w.writeKey(ch.element, ch.position, ch.staff)
		return
	}
	parent, at := ch.element.Parent(), ch.element.Index()
	for i := range w.states.staves {
		c := ch.element.Copy()
		c.CreateAttr("number", strconv.Itoa(i+1))
		c.RemoveAttr("id")
		parent.InsertChildAt(at+i, c)
		w.writeKey(c, ch.position, i+1)
		if i == 0 && w.options.AsPrinted {
			addRemark(c, remarkParted)
		}
	}
	parent.RemoveChild(ch.element)
}

// stavesAgree reports whether a key of all staves is one of all staves still: they
// move alike, or octaves apart.
func (w *attributesWriter) stavesAgree(p position) bool {
	first := w.states.at(1, p)
	for staff := 2; staff <= len(w.states.staves); staff++ {
		if !w.states.at(staff, p).keyMovesLike(first) {
			return false
		}
	}
	return true
}

// keyMovesLike reports whether a key moves alike on two staves.
func (st *state) keyMovesLike(other *state) bool {
	by := st.move.Sub(other.move)
	return by == pitch.Octaves(by.Diatonic/7) && st.target.WithoutSignature == other.target.WithoutSignature
}

// writeKey rewrites a <key> for one staff, or for all that agree (0).
func (w *attributesWriter) writeKey(e *etree.Element, p position, staff int) {
	states := w.states.staff(staff) // 0 reads as the first
	st := w.states.at(staff, p)
	var previous *state
	for i := 1; i < len(states); i++ {
		if &states[i] == st && st.keyBefore {
			previous = &states[i-1]
		}
	}
	if st.target.WithoutSignature {
		if emptySignature(e); previous != nil && previous.target.WithoutSignature && w.alikeThroughout() {
			e.Parent().RemoveChild(e) // it stands there already
		}
		return
	}
	key, err := readSignature(e)
	if err != nil {
		return // it was read before, so it reads again
	}
	kept := takeRemark(e, remarkKey)
	crosses := previous != nil && st.crosses(previous)
	if crosses && !kept && st.newKey.alters == previous.newKey.alters && w.wouldRestate(e, st, previous, staff) {
		w.instead[e] = w.standing(previous.key.element)
		e.Parent().RemoveChild(e)
		return
	}
	text := w.rewriteKey(e, key, st.move, previous)
	if crosses && !kept && w.options.AsPrinted {
		addRemark(e, remarkKey)
	}
	if text != "" {
		w.warn(p, notice.KeyOctave, text)
	}
}

// rewriteKey writes a key moved by an interval. What a page that is moved as
// printed cannot show in the new key it remembers: the octaves of single signs,
// and the order of a key's tones.
func (w *attributesWriter) rewriteKey(e *etree.Element, key signature, by pitch.Interval, previous *state) string {
	was, since, remembered := takeWas(e)
	if remembered {
		old, err := readSignature(was)
		if err != nil || old.moved(since).alters != key.alters { // someone has changed it since
			was, remembered = nil, false
		}
	}
	if was == nil && w.options.AsPrinted && (!key.traditional || musicxml.Child(e, "key-octave") != nil) {
		was, since = e.Copy(), pitch.Interval{}
	}
	text := writeSignature(e, key.moved(by), by, previous)
	switch total := since.Add(by); {
	case was == nil:
	case remembered && total == (pitch.Interval{}):
		restoreKey(e, was)
	case w.options.AsPrinted:
		addWas(e, was, total)
	}
	return text
}

// restoreKey gives a <key> the tones and octaves that it had.
func restoreKey(e, was *etree.Element) {
	musicxml.RemoveChildren(e, "key-step", "key-alter", "key-accidental", "key-octave")
	for _, c := range was.ChildElements() {
		switch c.Tag {
		case "key-step", "key-alter", "key-accidental", "key-octave":
			e.AddChild(c)
		}
	}
}

// crosses reports whether a <key> at a change of transposition is one of two
// things that turn into each other: a signature that changes with the
// transposition alone, and the same signature said again. The first goes where
// restatedKeys would make it again on the way back; otherwise a page that is
// moved as printed remembers that the source has it.
func (st *state) crosses(previous *state) bool {
	return st.move != previous.move && st.key.traditional == previous.key.traditional &&
		(st.key.alters == previous.key.alters) != (st.newKey.alters == previous.newKey.alters)
}

// wouldRestate reports whether restatedKeys would give the same <key> for the
// same staves in the same place.
func (w *attributesWriter) wouldRestate(e *etree.Element, st, previous *state, staff int) bool {
	if st.keysHere > 1 || e.Parent() != w.foundAt(st.position) {
		return false
	}
	again := sayAgain(w.standing(previous.key.element))
	writeSignature(again, st.key, st.move.Negate(), nil)
	if !w.alikeThroughout() {
		if staff == 0 {
			return false
		}
		again.CreateAttr("number", strconv.Itoa(staff))
	}
	return remarkSaying(e, remarkWas) < 0 && sameText(e, again)
}

// standing returns the <key> of the new page that says what one of the source said.
func (w *attributesWriter) standing(key *etree.Element) *etree.Element {
	if other := w.instead[key]; other != nil {
		return other
	}
	return key
}

// emptySignature turns a <key> into one without sharps or flats that does not move: in no
// key, as the page has it.
func emptySignature(e *etree.Element) {
	musicxml.RemoveChildren(e, "cancel", "mode", "key-step", "key-alter", "key-accidental", "key-octave")
	musicxml.SetChildText(e, "fifths", "0")
	musicxml.SetChildText(e, "mode", "none")
}

// restatedKeys makes a <key> for every place where the signature changes with
// the interval alone.
func (w *attributesWriter) restatedKeys() []change {
	if w.alikeThroughout() {
		return restatedKeysOf(w.states.staves[0], "")
	}
	var keys []change
	for i, s := range w.states.staves {
		keys = append(keys, restatedKeysOf(s, strconv.Itoa(i+1))...)
	}
	return keys
}

// alikeThroughout reports whether all staves have the same keys and moves, so
// that one <key> serves for all.
func (w *attributesWriter) alikeThroughout() bool {
	first := w.states.staves[0]
	for _, s := range w.states.staves[1:] {
		if len(s) != len(first) {
			return false
		}
		for i := range s {
			if s[i].position != first[i].position || s[i].key.element != first[i].key.element || !s[i].keyMovesLike(&first[i]) {
				return false
			}
		}
	}
	return true
}

func restatedKeysOf(states staffStates, number string) []change {
	var keys []change
	for i := 1; i < len(states); i++ {
		st, before := &states[i], &states[i-1]
		if st.keysHere > 0 || !st.keyBefore || st.newKey.alters == before.newKey.alters {
			continue
		}
		e := sayAgain(st.key.element)
		if number != "" {
			e.CreateAttr("number", number)
		}
		if st.target.WithoutSignature {
			emptySignature(e)
		} else {
			writeSignature(e, st.newKey, st.move, nil)
		}
		keys = append(keys, change{position: st.position, element: e})
	}
	return keys
}

// sayAgain copies a <key> without what it says but once.
func sayAgain(key *etree.Element) *etree.Element {
	e := key.Copy()
	e.RemoveAttr("id")
	musicxml.RemoveChildren(e, "cancel")
	takeRemark(e, remarkKey)
	takeRemark(e, remarkParted)
	takeWas(e)
	return e
}
