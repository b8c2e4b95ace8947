package joining

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// stacked puts one row's bar below those that a bar has.
type stacked struct {
	*barMaker
	above  int  // staves
	height int  // staves of the row
	first  bool // the uppermost row: it has what holds for all
	voices map[string]string
	begun  map[int]int      // voices of the bar, by the staff that they begin on
	upper  []musicxml.Event // of the uppermost row
}

func (s *stacked) take(m *musicxml.Measure) {
	var now musicxml.Fraction
	for k := range m.Events {
		ev, here := &m.Events[k], now
		now = ev.After(now)
		switch ev.Kind {
		case musicxml.Backup, musicxml.Forward:
		case musicxml.Note:
			s.move(ev)
			if ev.Chord {
				s.bar.AddChild(ev.Element)
			} else {
				s.put(ev.Element, ev.Onset, ev.Duration)
			}
		case musicxml.Attributes:
			s.takeAttributes(ev.Element, here)
		case musicxml.Barline:
			switch {
			case s.first && draft.LocationOf(ev.Element) == "right":
				s.closing = ev.Element
			case s.first:
				s.put(ev.Element, here, musicxml.Fraction{})
			}
		case musicxml.Print, musicxml.Sound:
			if s.first {
				s.put(ev.Element, here, musicxml.Fraction{})
			}
		case musicxml.Direction:
			if s.first || !draft.ForAll(ev.Element) || !s.saidAbove(ev) {
				s.move(ev)
				s.put(ev.Element, here, musicxml.Fraction{})
			}
		default:
			s.move(ev)
			s.put(ev.Element, here, musicxml.Fraction{})
		}
	}
}

// saidAbove reports whether the uppermost row says the same: tempo, rehearsal marks.
func (s *stacked) saidAbove(ev *musicxml.Event) bool {
	content := ""
	for k := range s.upper {
		u := &s.upper[k]
		if u.Kind != musicxml.Direction || u.Onset != ev.Onset {
			continue
		}
		if content == "" {
			content = musicxml.Content(withoutStaff(ev.Element))
		}
		if musicxml.Content(withoutStaff(u.Element)) == content {
			return true
		}
	}
	return false
}

func withoutStaff(direction *etree.Element) *etree.Element {
	e := direction.Copy()
	musicxml.RemoveChildren(e, "staff", "voice", "offset")
	return e
}

// move puts a note or mark on its staff, in a voice that no other staff has, its lines
// under numbers that no other staff has.
func (s *stacked) move(ev *musicxml.Event) {
	musicxml.SetChildText(ev.Element, "staff", strconv.Itoa(s.above+max(ev.Staff, 1)))
	if ev.Kind == musicxml.Note || musicxml.Child(ev.Element, "voice") != nil {
		voice := s.voices[ev.Voice]
		if voice == "" {
			staff := s.above + max(ev.Staff, 1)
			s.begun[staff]++
			voice = strconv.Itoa(4*(staff-1) + s.begun[staff])
			s.voices[ev.Voice] = voice
		}
		musicxml.SetChildText(ev.Element, "voice", voice)
	}
	if s.above > 0 {
		s.renumber(ev.Element)
	}
}

// numbered are the lines that are told apart by number.
var numbered = map[string]bool{"wedge": true, "dashes": true, "bracket": true, "pedal": true, "octave-shift": true,
	"slur": true, "glissando": true, "slide": true, "wavy-line": true}

func (s *stacked) renumber(e *etree.Element) {
	for _, c := range e.ChildElements() {
		if numbered[c.Tag] {
			draft.Renumber(c, 3*s.above)
		}
		s.renumber(c)
	}
}

// takeAttributes takes what is said of the row's own staves; what holds for the whole part
// is the uppermost row's.
func (s *stacked) takeAttributes(e *etree.Element, at musicxml.Fraction) {
	if !s.first {
		musicxml.RemoveChildren(e, "divisions", "time")
	}
	musicxml.RemoveChildren(e, "staves", "part-symbol")
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "key", "clef", "staff-details", "transpose", "for-part":
			s.number(e, c)
		}
	}
	if len(e.ChildElements()) > 0 {
		s.attributes(e, at)
	}
}

// number says for which staves an attribute is.
func (s *stacked) number(attributes, e *etree.Element) {
	n, err := strconv.Atoi(musicxml.Attr(e, "number"))
	if err == nil {
		e.CreateAttr("number", strconv.Itoa(s.above+n))
		return
	}
	e.CreateAttr("number", strconv.Itoa(s.above+1))
	if e.Tag == "clef" {
		return // without a number it is the first staff's (MusicXML 4.0, clef)
	}
	for n := 2; n <= s.height; n++ {
		c := e.Copy()
		c.CreateAttr("number", strconv.Itoa(s.above+n))
		musicxml.AddInOrder(attributes, c)
	}
}
