package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// readSourceAccidentals notes of every note whether the source's page needed its sign,
// where that will matter.
func (m *mover) readSourceAccidentals() {
	if !m.options.AsPrinted && m.states.signaturesMove() {
		return
	}
	m.readPageOfSource(func(n *note, v verdict) { n.needed = v.needed }, func(n *note, page *inForce) {
		if !n.state.signatureMoves() {
			n.readAuxiliaries(page)
		}
	})
}

func (m *mover) readPageOfSource(tell func(*note, verdict), beside func(*note, *inForce)) {
	m.readAccidentals(func(n *note) pitch.Pitch { return n.source }, func(st *state) [7]pitch.Alter { return st.key.visible() }, tell, beside)
}

// placeAccidentals prints what the player needs: every sign of the source stays at its
// note with the kind that the note now has, and every note that the page would
// misread gets one.
func (m *mover) placeAccidentals() {
	m.readAccidentals(
		func(n *note) pitch.Pitch { return n.pitch },
		func(st *state) [7]pitch.Alter { return st.newKey.visible() },
		m.placeAccidental, m.markAuxiliaries)
}

func (m *mover) placeAccidental(n *note, v verdict) {
	switch {
	case n.accidental == nil:
		m.placeNewAccidental(n, v)
	case !v.needed && m.superfluous(n, v):
		n.event.Element.RemoveChild(n.accidental)
		n.accidental = nil
	default:
		m.moveAccidental(n, v)
	}
}

// placeNewAccidental prints a sign at a note that has none, where it needs one. A page
// that is moved as printed keeps its omissions, and remembers them where they do
// not show.
func (m *mover) placeNewAccidental(n *note, v verdict) {
	e := n.event.Element
	unsayable := takeRemark(e, remarkUnsayable)
	omitted := takeRemark(e, remarkOmission) || n.needed && !unsayable
	switch {
	case m.options.AsPrinted && omitted:
		if !v.needed {
			addRemark(e, remarkOmission)
		}
	case v.needed && !m.addSign(n):
		m.warn(n.place, notice.NoSign, "no printed accidental stands for "+n.pitch.String())
		if m.options.AsPrinted {
			addRemark(e, remarkUnsayable)
		}
	}
}

// superfluous reports whether a sign that the new page does not need goes. A
// sign that the source printed stays printed, unless only what is gone called
// for it: a signature that the player no longer sees, a lost voice, a letter
// that was respelled.
func (m *mover) superfluous(n *note, v verdict) bool {
	switch {
	case hasStatus(n.accidental) || hasRemark(n.accidental) || m.options.Courtesies[n.accidental]:
		return false
	case m.options.AsPrinted:
		return n.needed && m.isPlain(n)
	case (m.options.FreshAccidentals || n.respelled) && !v.answers:
		return true
	}
	return n.needed && !n.state.signatureMoves()
}

// isPlain reports whether a sign is the one that addSign would print.
func (m *mover) isPlain(n *note) bool {
	name, ok := accidentalFor(n.source.Alter, "")
	return ok && name == musicxml.Text(n.accidental) && len(n.accidental.Attr) == 0
}

// hasStatus reports whether a sign is marked as more than the rule asks for.
func hasStatus(accidental *etree.Element) bool {
	for i := range accidental.Attr {
		switch a := &accidental.Attr[i]; a.Key {
		case "cautionary", "editorial", "parentheses", "bracket":
			if a.Value == "yes" {
				return true
			}
		}
	}
	return false
}

// signatureMoves reports whether the player sees the source's signature, moved
// as the notes are: what needed a sign then needs one still.
func (st *state) signatureMoves() bool {
	if st.target.WithoutSignature {
		return false
	}
	return st.move.Fifths() == 0 || st.hasKey && !st.key.hidden && !st.key.keyless
}

// signaturesMove reports the same for all states of a part.
func (c *states) signaturesMove() bool {
	for _, s := range c.staves {
		for i := range s {
			if !s[i].signatureMoves() {
				return false
			}
		}
	}
	return true
}

// addSign prints a sign at a note that had none, and reports whether there is
// one for it.
func (m *mover) addSign(n *note) bool {
	name, ok := accidentalFor(n.pitch.Alter, "")
	if !ok {
		return false
	}
	n.accidental = etree.NewElement("accidental")
	n.accidental.SetText(name)
	musicxml.AddInOrder(n.event.Element, n.accidental)
	return true
}

// moveAccidental gives a printed sign the kind that its note now has.
func (m *mover) moveAccidental(n *note, v verdict) {
	asPrinted := m.options.AsPrinted
	moved := func(s printedAccidental, to pitch.Pitch) (string, bool) {
		return movedAccidental(s.name, s.at.Alter, to.Alter, asPrinted)
	}
	old, remembered := takeAccidental(n.accidental, n.source, moved)
	name, ok := moved(old, n.pitch)
	if !ok {
		m.warn(n.place, notice.NoSign, "the accidental \""+old.name+"\" cannot be moved to "+n.pitch.String())
	}
	if value, known := accidentalValues[old.name]; known && value != old.at.Alter && !asPrinted {
		m.warn(n.place, notice.WrongSign, "the score prints \""+old.name+"\" at a note that is "+n.source.String()+"; the part has \""+name+"\"")
	}
	musicxml.SetText(n.accidental, name)
	if !asPrinted || remembered && old.at == n.pitch {
		return
	}
	// A courtesy that is a need here would be taken for a sign of ours on the way
	// back, and the reverse.
	if v.needed != n.needed || !comesBack(n.accidental, old, n.pitch, moved) {
		remember(n.accidental, old)
	}
}
