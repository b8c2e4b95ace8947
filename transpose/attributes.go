package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// attributesWriter rewrites keys and transpositions in the part's <attributes>.
type attributesWriter struct {
	*mover
	at      map[musicxml.Position]*etree.Element // the first of each moment
	instead map[*etree.Element]*etree.Element    // of a <key> that goes, the one that stands for it
}

// writeAttributes moves the key signatures and says the new transposition at the
// start of the part and wherever it changes.
func (m *mover) writeAttributes() {
	w := attributesWriter{m, map[musicxml.Position]*etree.Element{}, map[*etree.Element]*etree.Element{}}
	w.collect()
	w.writeKeys()
	w.removeTranspositions()
	w.writeTranspositions()
	w.dropEmpty()
}

// collect remembers the first <attributes> of each moment, as far as time runs
// on in its measure and no grace note of that moment stands before it.
func (w *attributesWriter) collect() {
	for i := range w.timeline.Measures {
		var graced musicxml.Fraction
		anyGraced := false
	measure:
		for k := range w.timeline.Measures[i].Events {
			ev := &w.timeline.Measures[i].Events[k]
			at := musicxml.Position{Measure: i, Onset: ev.Onset}
			switch {
			case ev.Kind == musicxml.Backup:
				break measure
			case ev.Grace:
				graced, anyGraced = ev.Onset, true
			case ev.Kind == musicxml.Attributes && w.at[at] == nil && !(anyGraced && graced == ev.Onset):
				w.at[at] = ev.Element
			}
		}
	}
}

// removeFromAttributes takes an element out of its <attributes>, and with it an
// <attributes> that held nothing else.
func (m *mover) removeFromAttributes(e *etree.Element) {
	if parent := e.Parent(); parent != nil {
		parent.RemoveChild(e)
		m.dropIfEmpty(parent)
	}
}

// dropEmpty takes out each <attributes> that has lost all it held.
func (w *attributesWriter) dropEmpty() {
	for _, ch := range w.states.changes {
		if ch.attributes != nil && ch.attributes.Parent() != nil {
			w.dropIfEmpty(ch.attributes)
		}
	}
}

// dropIfEmpty takes an <attributes> out that holds nothing. On a page that is
// moved as printed, one of the source's stays, to mark the place.
func (m *mover) dropIfEmpty(attributes *etree.Element) {
	for _, token := range attributes.Child {
		switch token := token.(type) {
		case *etree.CharData:
		case *etree.ProcInst:
			if token.Target != remarkTarget {
				return
			}
		default:
			return
		}
	}
	parent := attributes.Parent()
	between := takeRemark(attributes, remarkBetween)
	ours := takeRemark(attributes, remarkOurs) || between
	if parent == nil || m.options.AsPrinted && !ours {
		return
	}
	at := attributes.Index()
	parent.RemoveChildAt(at)
	if between && at > 0 && at < len(parent.Child) {
		parent.RemoveChildAt(at) // the forward
		parent.RemoveChildAt(at - 1)
	}
}

// attributesAt finds or makes the <attributes> of a place.
func (w *attributesWriter) attributesAt(p position) *etree.Element {
	if e := w.foundAt(p); e != nil {
		return e
	}
	e := w.newAttributes()
	w.at[p.moment()] = e
	w.insert(e, p)
	return e
}

// newAttributes makes an <attributes> that the source has not.
func (w *attributesWriter) newAttributes() *etree.Element {
	if w.options.AsPrinted {
		return ownAttributes()
	}
	return etree.NewElement("attributes")
}

// ownAttributes are such that the way back knows them by.
func ownAttributes() *etree.Element {
	e := etree.NewElement("attributes")
	addRemark(e, remarkOurs)
	return e
}

// foundAt returns the <attributes> at a place: the one that made it a place, or
// the first of its moment.
func (w *attributesWriter) foundAt(p position) *etree.Element {
	if p.order != -1 { // that of a stretch, and of the start
		return w.timeline.Measures[p.measure].Events[p.order].Element
	}
	return w.at[p.moment()]
}

// insert puts a new <attributes> at its time: at the first point of the measure,
// in its document's order, at which the time has come just there. Where no note
// begins or ends then, time is turned back to it at the end of the bar.
func (w *attributesWriter) insert(e *etree.Element, p position) {
	m := &w.timeline.Measures[p.measure]
	var now musicxml.Fraction
	for i := range m.Events {
		ev := &m.Events[i]
		if now == p.onset && opensMoment(ev) {
			m.Element.InsertChildAt(ev.Element.Index(), e)
			return
		}
		now = ev.After(now)
	}
	if !p.onset.Less(now) {
		m.Element.AddChild(e)
		return
	}
	back := w.inDivisions(now.Sub(p.onset), p.measure)
	if takeRemark(e, remarkOurs) {
		addRemark(e, remarkBetween)
	}
	m.Element.AddChild(timeMove("backup", back))
	m.Element.AddChild(e)
	m.Element.AddChild(timeMove("forward", back))
}

// opensMoment reports whether new attributes go before an event of their moment
// rather than after it.
func opensMoment(ev *musicxml.Event) bool {
	switch ev.Kind {
	case musicxml.Print, musicxml.Attributes:
		return false
	case musicxml.Note:
		return !ev.Chord
	case musicxml.Barline:
		return musicxml.Attr(ev.Element, "location") != "left"
	}
	return true
}

// inDivisions writes a length in the divisions in force in a measure.
func (w *attributesWriter) inDivisions(length musicxml.Fraction, measure int) string {
	for i := measure; i >= 0; i-- {
		events := w.timeline.Measures[i].Events
		for k := len(events) - 1; k >= 0; k-- {
			if events[k].Kind != musicxml.Attributes {
				continue
			}
			if text := musicxml.ChildText(events[k].Element, "divisions"); text != "" {
				if divisions, err := musicxml.ParseFraction(text); err == nil {
					length = length.Mul(divisions)
				}
				return decimal(length)
			}
		}
	}
	return decimal(length)
}

// decimal writes a fraction as MusicXML's decimal numbers are written, to the
// nearest millionth where it has no end.
func decimal(f musicxml.Fraction) string {
	if f.Den() == 1 {
		return strconv.FormatInt(f.Num(), 10)
	}
	return strconv.FormatFloat(f.Float(), 'f', 6, 64)
}

func timeMove(tag, duration string) *etree.Element {
	e := etree.NewElement(tag)
	musicxml.SetChildText(e, "duration", duration)
	return e
}
