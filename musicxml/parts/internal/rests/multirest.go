package rests

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// DrawBars joins runs of empty bars into multi-bar rests. The measures stay in
// the file; their number stands in the first one (MusicXML 4.0, multiple-rest). From
// least empty bars on they are joined; 0 is never.
func DrawBars(d *draft.Draft, lengths []musicxml.Fraction, least int) error {
	s := &rester{d, lengths}
	symbols, emptied := s.removeOldCounts()
	if least > 0 {
		runs := restRuns{rester: s, repeated: draft.RepeatedBars(s.Timeline), current: map[string]string{}}
		for _, r := range runs.find() {
			if r.bars >= least {
				s.writeCount(r, symbols)
			}
		}
	}
	for _, attributes := range emptied {
		if len(attributes.Child) == 0 { // no new count went into it
			attributes.Parent().RemoveChild(attributes)
			s.Rearranged()
		}
	}
	return nil
}

// restRun is a run of empty bars.
type restRun struct{ measure, bars int }

// removeOldCounts takes out the multi-bar rests of the source. It returns how the
// source drew them: the value of use-symbols, "" for none; and the <attributes> that
// held nothing else.
func (s *rester) removeOldCounts() (symbols string, emptied []*etree.Element) {
	for i := range s.Timeline.Measures {
		for _, attributes := range musicxml.Children(s.Timeline.Measures[i].Element, "attributes") {
			for _, style := range musicxml.Children(attributes, "measure-style") {
				old := musicxml.Child(style, "multiple-rest")
				if old == nil {
					continue
				}
				if v := musicxml.Attr(old, "use-symbols"); v != "" {
					symbols = v
				}
				attributes.RemoveChild(style)
			}
			if len(attributes.Child) == 0 {
				emptied = append(emptied, attributes)
			}
		}
	}
	return symbols, emptied
}

// mostSymbols is the longest rest that the old bar symbols can show (gehrkens-mnt
// s.42).
const mostSymbols = 4

func (s *rester) writeCount(r restRun, symbols string) {
	count := etree.NewElement("multiple-rest")
	count.SetText(strconv.Itoa(r.bars))
	if symbols == "yes" && r.bars <= mostSymbols {
		count.CreateAttr("use-symbols", symbols)
	}
	style := etree.NewElement("measure-style")
	style.AddChild(count)
	at := musicxml.Position{Measure: r.measure}
	attributes := s.AttributesJustAt(at)
	if attributes == nil {
		attributes = s.AttributesAt(at)
	}
	musicxml.AddInOrder(attributes, style)
}

// restRuns finds the runs of empty bars that nothing breaks.
type restRuns struct {
	*rester
	repeated []bool
	current  map[string]string // clefs, keys and so on in force
}

// breaks says where a bar lets a run of rests go on.
type breaks struct{ before, after, alone bool }

func (f *restRuns) find() []restRun {
	var runs []restRun
	var open bool
	for i := range f.Timeline.Measures {
		m := &f.Timeline.Measures[i]
		b := f.breaks(m)
		if f.repeated[i] || !draft.Idle(m) || b.alone || !f.isFull(m) {
			open = false
			continue
		}
		if !open || b.before {
			runs = append(runs, restRun{measure: i})
		}
		runs[len(runs)-1].bars++
		open = !b.after
	}
	return runs
}

// isFull reports whether a bar is a whole one, with nothing on its rests.
func (f *restRuns) isFull(m *musicxml.Measure) bool {
	for i := range m.Events {
		if ev := &m.Events[i]; ev.Rest && (musicxml.Child(ev.Element, "notations") != nil || musicxml.Child(ev.Element, "lyric") != nil) {
			return false
		}
	}
	length := f.barLength(m)
	return m.Length == length && f.isWhole(m, length) && musicxml.Attr(m.Element, "implicit") != "yes"
}

// breaks finds what in a bar breaks a multi-bar rest (notation-rules section 10).
func (f *restRuns) breaks(m *musicxml.Measure) breaks {
	var b breaks
	for i := range m.Events {
		switch ev := &m.Events[i]; ev.Kind {
		case musicxml.Attributes:
			if f.changes(ev.Element) {
				b.at(ev.Onset, m.Length)
			}
		case musicxml.Direction:
			if isSeen(ev.Element) {
				b.at(ev.Onset, m.Length)
			}
		case musicxml.Sound:
			if musicxml.Child(ev.Element, "instrument-change") != nil {
				b.at(ev.Onset, m.Length)
			}
		case musicxml.Barline:
			b.barline(ev)
		case musicxml.Print:
			b.before = b.before || draft.HasOne(ev.Element, "part-name-display", "part-abbreviation-display", "measure-numbering")
		}
	}
	return b
}

// at notes a break at a time of the bar: before it, after it, or inside.
func (b *breaks) at(onset, length musicxml.Fraction) {
	switch {
	case onset.Sign() <= 0:
		b.before = true
	case onset.Less(length):
		b.alone = true
	default:
		b.after = true
	}
}

func (b *breaks) barline(ev *musicxml.Event) {
	e := ev.Element
	style := musicxml.ChildText(e, "bar-style")
	if (style == "" || style == "regular" || style == "none") && !draft.HasOne(e, "segno", "coda", "fermata", "ending", "repeat") {
		return
	}
	switch draft.LocationOf(e) {
	case "left":
		b.before = true
	case "right":
		b.after = true
	default:
		b.alone = true
	}
}

// changes reports whether attributes change what is printed, and remembers them.
// The same clef or key said again is no change.
func (f *restRuns) changes(attributes *etree.Element) bool {
	changed := false
	for _, e := range attributes.ChildElements() {
		switch e.Tag {
		case "key", "time", "clef", "transpose", "staff-details", "part-symbol", "instruments", "measure-style", "staves":
			name, says := e.Tag+musicxml.Attr(e, "number"), musicxml.Content(e)
			changed = changed || f.current[name] != says
			f.current[name] = says
		}
	}
	return changed
}

// isSeen reports whether a direction prints something: one that only sounds does
// not break a rest.
func isSeen(direction *etree.Element) bool {
	for t := range musicxml.Each(direction, "direction-type") {
		for e := range t.ChildElementsSeq() {
			if musicxml.Attr(e, "print-object") != "no" {
				return true
			}
		}
	}
	return false
}
