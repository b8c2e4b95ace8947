package audit

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// multiRest is a multi-bar rest under way.
type multiRest struct {
	bars  int // that are still to come, the current one included; 0 for none
	first int // index of its first bar
	at    place
	told  bool
}

// count begins a rest of so many bars.
func (r *multiRest) count(a *auditor, text string) {
	n, err := strconv.Atoi(text)
	switch {
	case err != nil || n < 1:
		return
	case r.bars > 0 && r.first != a.index:
		r.fault(a, "another multi-bar rest")
	}
	*r = multiRest{bars: n, first: a.index, at: a.at()}
}

// inside reports whether a rest covers this bar, and is not in its first.
func (r *multiRest) inside(a *auditor) bool { return r.bars > 0 && a.index > r.first }

func (r *multiRest) fault(a *auditor, what string) { r.faultAt(a, a.at(), what) }

// sounds is called for every note that is no rest.
func (r *multiRest) sounds(a *auditor, n *noteFacts) {
	if r.bars > 0 && !n.hidden {
		r.faultAt(a, a.atTicks(n.onset), "a note")
	}
}

func (r *multiRest) faultAt(a *auditor, at place, what string) {
	if !r.told {
		a.find(at, notice.RestNotEmpty, "the multi-bar rest from bar "+musicxml.Attr(r.at.bar, "number")+" covers "+what)
	}
	r.told = true
}

// change is called for what attributes say: inside a rest nothing that is printed
// may change (trade/notation-rules.md, section 10).
func (r *multiRest) change(a *auditor, e *etree.Element) {
	if !r.inside(a) {
		return
	}
	switch e.Tag {
	case "key", "time", "clef", "transpose", "staves", "staff-details":
		if musicxml.Attr(e, "print-object") != "no" {
			r.fault(a, "a change of "+attributeWord(e.Tag))
		}
	}
}

// direction is called for every mark. One that only sounds is not seen.
func (r *multiRest) direction(a *auditor, e *etree.Element) {
	if !r.inside(a) {
		return
	}
	for types := range musicxml.Each(e, "direction-type") {
		for mark := range types.ChildElementsSeq() {
			if musicxml.Attr(mark, "print-object") != "no" && a.now < a.barEnd() {
				r.fault(a, "a printed mark")
			}
		}
	}
}

// barEnd is where the bar should end, in ticks.
func (a *auditor) barEnd() int64 {
	l := a.metre.length
	if l.Sign() == 0 {
		return 1 << 62
	}
	return l.Num() * a.divisions / l.Den()
}

// barline is called for every barline.
func (r *multiRest) barline(a *auditor, e *etree.Element) {
	if r.bars == 0 || !divides(e) {
		return
	}
	switch musicxml.Attr(e, "location") {
	case "left":
		if !r.inside(a) {
			return
		}
	case "", "right":
		if r.bars == 1 {
			return
		}
	}
	r.fault(a, "a barline that divides it")
}

// divides reports whether a barline is more than a plain one.
func divides(e *etree.Element) bool {
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "repeat", "ending", "segno", "coda", "fermata":
			return true
		case "bar-style":
			if style := musicxml.Text(c); style != "regular" && style != "none" {
				return true
			}
		}
	}
	return false
}

func (r *multiRest) finish(a *auditor) {
	if r.bars > 1 {
		a.find(r.at, notice.RestNotEmpty, "the multi-bar rest goes on for "+notice.Counted(r.bars-1, "bar", "bars")+" after the last one")
	}
}
