package audit

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// metre is the time signature in force, and what excuses a bar from being as long as
// it says.
type metre struct {
	beats, unit string
	length      musicxml.Fraction // of a bar in quarter notes; 0 where none is said
	hidden      bool              // not printed
	said        bool              // that it is hidden

	// turn: a repeat, an ending or a double bar stands at the bar's start or at its
	// end, where bars may be cut in two.
	turnAt, turnAfter, afterTurn bool
	jumpsFrom, jumpedFrom        bool
	jumpsTo                      bool
	odd                          *oddBar // the bar before, where it is short
	early                        []tie   // ends of ties whose beginning may stand further down in the bar
}

// oddBar is a bar that is shorter than it should be, and may yet be excused.
type oddBar struct {
	at     place
	length musicxml.Fraction
}

// time takes over a time signature.
func (m *metre) time(e *etree.Element) {
	if n := musicxml.Attr(e, "number"); n != "" && n != "1" {
		return // another staff's
	}
	beats, units, length := "", "", musicxml.Fraction{}
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "beats":
			beats = musicxml.Text(c)
		case "beat-type":
			units = musicxml.Text(c)
			length = length.Add(barLength(beats, units))
		}
	}
	hidden := musicxml.Attr(e, "print-object") == "no"
	if m.hidden = hidden && (m.hidden || beats != m.beats || units != m.unit); !hidden {
		m.said = false
	}
	m.beats, m.unit, m.length = beats, units, length
}

// barLength is how long a bar of a time signature is, in quarter notes: "3+2" over 8
// is 5/2.
func barLength(beats, unit string) musicxml.Fraction {
	total := int64(0)
	for part := range strings.SplitSeq(beats, "+") {
		n, err := strconv.ParseInt(strings.TrimSpace(part), 10, 32)
		if err != nil {
			return musicxml.Fraction{}
		}
		total += n
	}
	n, err := strconv.ParseInt(strings.TrimSpace(unit), 10, 32)
	if err != nil || n < 1 {
		return musicxml.Fraction{}
	}
	return musicxml.NewFraction(4*total, n)
}

// barline notes that the music turns or may be cut here.
func (m *metre) barline(e *etree.Element) {
	cut, jump := false, false
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "repeat", "ending", "segno", "coda", "fermata":
			cut, jump = true, true
		case "bar-style":
			switch musicxml.Text(c) {
			case "regular", "none", "dotted", "dashed", "tick", "short":
			default:
				cut = true
			}
		}
	}
	if musicxml.Attr(e, "location") == "left" {
		m.turnAt, m.jumpsTo = m.turnAt || cut, m.jumpsTo || jump
		return
	}
	m.turnAfter, m.jumpsFrom = m.turnAfter || cut, m.jumpsFrom || jump
}

// jumps notes that playback turns to or from this bar.
func (m *metre) jumps(sound *etree.Element) {
	for _, key := range []string{"dacapo", "dalsegno", "tocoda", "fine"} {
		m.jumpsFrom = m.jumpsFrom || musicxml.Attr(sound, key) != ""
	}
	for _, key := range []string{"segno", "coda"} {
		m.jumpsTo = m.jumpsTo || musicxml.Attr(sound, key) != ""
	}
}

// maySkipTo reports whether the bar may be reached by a jump: then a note in it may
// be held from elsewhere.
func (m *metre) maySkipTo() bool { return m.jumpsTo || m.jumpedFrom }

// pairLateTies matches such ends with beginnings that came after them in the text.
func (m *metre) pairLateTies(a *auditor) {
	for _, stop := range m.early {
		found := -1
		for i := range a.ties {
			t := &a.ties[i]
			if t.bar == a.index && t.known == stop.known && (!t.known || t.sound.MIDI() == stop.sound.MIDI()) && t.end == stop.end {
				found = i
			}
		}
		if found >= 0 {
			a.ties = append(a.ties[:found], a.ties[found+1:]...)
			continue
		}
		a.find(stop.at, notice.TieToNothing, "the tie to "+stop.name+" comes from no note of the same pitch")
	}
	m.early = m.early[:0]
}

// endOfBar holds the bar against the time signature.
func (m *metre) endOfBar(a *auditor) {
	m.showTime(a)
	m.measureBar(a)
	m.afterTurn = m.turnAfter
	m.jumpedFrom = m.jumpsFrom
	m.turnAt, m.turnAfter, m.jumpsFrom, m.jumpsTo = false, false, false, false
}

// showTime says once that a time signature which holds is not printed.
func (m *metre) showTime(a *auditor) {
	if !m.hidden || m.said || musicxml.Attr(a.bar, "implicit") == "yes" {
		return
	}
	m.said = true
	a.find(a.atTicks(0), notice.HiddenTime, m.beats+"/"+m.unit+" holds from here and is not printed")
}

func (m *metre) measureBar(a *auditor) {
	odd := m.odd
	m.odd = nil
	if m.length.Sign() == 0 || !a.exact || musicxml.Attr(a.bar, "implicit") == "yes" {
		return
	}
	length := musicxml.NewFraction(a.reach, a.divisions)
	switch order := length.Cmp(m.length); {
	case order > 0:
		a.find(a.at(), notice.BarLength, "the bar is "+length.Quarters()+" long in a time of "+m.length.Quarters())
	case order == 0:
		if odd != nil && !odd.excused(m.length, musicxml.Fraction{}) {
			odd.say(a, m)
		}
	case odd != nil && odd.excused(m.length, length):
	case odd != nil:
		odd.say(a, m)
		fallthrough
	default:
		if a.index > 0 && !m.turnAt && !m.afterTurn && !m.turnAfter {
			m.odd = &oddBar{a.atTicks(0), length}
		}
	}
}

// excused reports whether two short bars are one that was cut in two.
func (o *oddBar) excused(whole, next musicxml.Fraction) bool { return o.length.Add(next) == whole }

func (o *oddBar) say(a *auditor, m *metre) {
	a.find(o.at, notice.BarLength, "the bar is "+o.length.Quarters()+" long in a time of "+m.length.Quarters())
}
