package joining

import (
	"maps"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
)

// music is a part that bars are taken out of.
type music struct {
	timeline *musicxml.Timeline
	staff    int       // the first that is taken, 0 for all
	staves   int       // that are taken
	before   []inForce // beside the measures: what holds at their beginning
	gone     map[*etree.Element]bool
	named    map[string]bool         // boxed words that name instruments, added when the part was joined
	kept     map[*etree.Element]bool // marks at the very end of a stretch that belong to it
}

func newMusic(timeline *musicxml.Timeline, staff, staves int) *music {
	s := &music{timeline: timeline, staff: staff, staves: staves, gone: map[*etree.Element]bool{}, kept: map[*etree.Element]bool{}}
	now := inForce{}
	for i := range timeline.Measures {
		s.before = append(s.before, now)
		for ev := range timeline.Measures[i].Each(musicxml.Attributes) {
			now = maps.Clone(now)
			now.take(ev.Element, staff)
		}
	}
	return s
}

// measure is bar i, nil where the part is shorter.
func (s *music) measure(i int) *musicxml.Measure {
	if s == nil || i >= len(s.timeline.Measures) {
		return nil
	}
	return &s.timeline.Measures[i]
}

// holds is what is in force at a place of bar i, before what is said there.
func (s *music) holds(i int, at musicxml.Fraction) inForce {
	m := s.measure(i)
	if m == nil {
		return inForce{}
	}
	f := maps.Clone(s.before[i])
	var now musicxml.Fraction
	for k := range m.Events {
		ev := &m.Events[k]
		if ev.Kind == musicxml.Attributes && now.Less(at) {
			f.take(ev.Element, s.staff)
		}
		now = ev.After(now)
	}
	return f
}

// has reports whether an event is of the staff that is taken.
func (s *music) has(ev *musicxml.Event) bool {
	if s.gone[ev.Element] {
		return false
	}
	switch ev.Kind {
	case musicxml.Direction:
		return !s.names(ev.Element) && s.isOwn(ev) || ev.Staff <= 1 && draft.ForAll(ev.Element)
	case musicxml.Note, musicxml.Harmony, musicxml.FiguredBass:
		return s.isOwn(ev)
	}
	return true
}

func (s *music) isOwn(ev *musicxml.Event) bool {
	staff := max(ev.Staff, 1)
	return s.staff == 0 || s.staff <= staff && staff < s.staff+s.staves
}

// names reports whether a direction was added to name an instrument.
func (s *music) names(direction *etree.Element) bool {
	if len(s.named) == 0 {
		return false
	}
	words := draft.WordsIn(direction)
	return len(words) == 1 && musicxml.Attr(words[0], "enclosure") == "rectangle" && s.named[musicxml.Text(words[0])]
}

// onOwnStaff numbers the staff of a note or mark as the part that is taken has it.
func (s *music) onOwnStaff(e *etree.Element) {
	switch {
	case s.staff == 0:
	case s.staves == 1:
		musicxml.RemoveChildren(e, "staff")
	default:
		if n, err := strconv.Atoi(musicxml.ChildText(e, "staff")); err == nil {
			musicxml.SetChildText(e, "staff", strconv.Itoa(max(1, n-s.staff+1)))
		}
	}
}

// ownAttributes leaves of attributes what is for the staves that are taken.
func (s *music) ownAttributes(e *etree.Element) *etree.Element {
	if s.staff == 0 {
		return e
	}
	musicxml.RemoveChildren(e, "staves", "part-symbol")
	for _, c := range e.ChildElements() {
		n, err := strconv.Atoi(musicxml.Attr(c, "number"))
		switch {
		case err != nil:
		case n < s.staff || n >= s.staff+s.staves:
			e.RemoveChild(c)
		case s.staves == 1:
			c.RemoveAttr("number")
		default:
			c.CreateAttr("number", strconv.Itoa(n-s.staff+1))
		}
	}
	return e
}

// Sounds is when a part has something to play: notes, chord symbols, and all of a bar
// under a sign for repeating or under slashes.
func Sounds(t *musicxml.Timeline) desks.Sounds {
	var all []desks.Sound
	for i, repeated := range draft.RepeatedBars(t) {
		m := &t.Measures[i]
		if repeated {
			all = append(all, desks.Sound{Measure: i, To: m.Length})
		}
		for k := range m.Events {
			switch ev := &m.Events[k]; ev.Kind {
			case musicxml.Note:
				if !ev.Rest && !ev.Cue {
					all = append(all, desks.Sound{Measure: i, From: ev.Onset, To: ev.Onset.Add(ev.Duration)})
				}
			case musicxml.Harmony, musicxml.FiguredBass:
				all = append(all, desks.Sound{Measure: i, From: ev.Onset, To: ev.Onset})
			}
		}
	}
	return desks.Merged(all)
}
