package transpose

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// removeTranspositions takes the source's <transpose> and <for-part> elements
// out: they are written anew.
func (w *attributesWriter) removeTranspositions() {
	for _, ch := range w.states.changes {
		if (ch.is("transpose") || ch.is("for-part")) && ch.element.Parent() != nil {
			ch.element.Parent().RemoveChild(ch.element)
		}
	}
}

// spoken is what <transpose> and <for-part> have said last on a staff.
type spoken struct {
	written Transposition
	doubled string // "above", "below" or not
	forPart Transposition
}

// speaks is what a state has to say. A <for-part> leads from the concert score
// back to the part: it is what was added on the way here.
func (w *attributesWriter) speaks(st *state) spoken {
	s := spoken{written: st.written}
	if st.double != nil && !st.target.DropDoubling {
		s.doubled = "below"
		if musicxml.Attr(st.double, "above") == "yes" {
			s.doubled = "above"
		}
	}
	if w.options.ConcertScore {
		s.forPart = music.TranspositionBy(st.move)
	}
	return s
}

// writeTranspositions writes <transpose> and <for-part> where they begin to
// differ from what was said before; nothing said is sounding pitch.
func (w *attributesWriter) writeTranspositions() {
	said := make([]spoken, len(w.states.staves))
	for _, p := range w.states.positions() {
		now := make([]spoken, len(said))
		var transpose, forPart bool
		for i := range now {
			now[i] = w.speaks(w.states.at(i+1, p))
			transpose = transpose || now[i].written != said[i].written || now[i].doubled != said[i].doubled
			forPart = forPart || now[i].forPart != said[i].forPart
		}
		if transpose {
			w.writeEach(p, func(i int) (*etree.Element, bool) {
				changed := now[i].written != said[i].written || now[i].doubled != said[i].doubled
				return w.transposeElement(now[i], w.states.at(i+1, p)), changed
			})
		}
		if forPart {
			w.writeEach(p, func(i int) (*etree.Element, bool) {
				return forPartElement(now[i].forPart), true // said of every staff, also that it stays
			})
		}
		said = now
	}
}

func (w *attributesWriter) transposeElement(s spoken, st *state) *etree.Element {
	e := etree.NewElement("transpose")
	s.written.Write(e)
	if w.options.AsPrinted && !w.options.ConcertScore && st.saysForPart && st.source == (Transposition{}) && st.written.OctaveOnly() && st.written != (Transposition{}) {
		addRemark(e, remarkSounding)
	}
	if s.doubled != "" {
		e.AddChild(st.double.Copy())
	}
	return e
}

func forPartElement(t Transposition) *etree.Element {
	e := etree.NewElement("for-part")
	t.Write(e.CreateElement("part-transpose"))
	return e
}

// writeEach writes an element for each staff on which it changes, or one for all where
// they are alike.
func (w *attributesWriter) writeEach(p position, element func(staff int) (e *etree.Element, changed bool)) {
	elements := make([]*etree.Element, len(w.states.staves))
	changed := make([]bool, len(elements))
	alike := true
	for i := range elements {
		elements[i], changed[i] = element(i)
		alike = alike && sameText(elements[i], elements[0])
	}
	if alike {
		elements = elements[:1]
	}
	attributes := w.attributesFor(p)
	for i, e := range elements {
		if !alike {
			e.CreateAttr("number", strconv.Itoa(i+1))
		}
		if alike || changed[i] {
			musicxml.AddInOrder(attributes, e)
		}
	}
}

// attributesFor finds or makes the <attributes> of a moment that may hold what is now
// written: <transpose> first, or <for-part>, for which there is another then.
func (w *attributesWriter) attributesFor(p position) *etree.Element {
	return besideTranspose(w.attributesAt(p), w.newAttributes)
}

// BesideTranspose finds the <attributes> that may hold a <for-part>: these, or, where they have a
// <transpose>, others behind them, which the way back takes out again: one has either
// (MusicXML 4.0, attributes).
func BesideTranspose(attributes *etree.Element) *etree.Element {
	return besideTranspose(attributes, ownAttributes)
}

func besideTranspose(attributes *etree.Element, another func() *etree.Element) *etree.Element {
	if musicxml.Child(attributes, "transpose") == nil {
		return attributes
	}
	second := another()
	attributes.Parent().InsertChildAt(attributes.Index()+1, second)
	return second
}

// sameText reports whether two elements are written alike.
func sameText(a, b *etree.Element) bool {
	sameAttr := func(a, b etree.Attr) bool { return a.Key == b.Key && a.Value == b.Value }
	return a.Tag == b.Tag && musicxml.Text(a) == musicxml.Text(b) && slices.EqualFunc(a.Attr, b.Attr, sameAttr) &&
		slices.EqualFunc(a.ChildElements(), b.ChildElements(), sameText)
}
