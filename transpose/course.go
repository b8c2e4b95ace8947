package transpose

import (
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Stretch says how a part is to be written from a place on: what its
// <transpose> is to be there. A part has at least one, from its first bar.
type Stretch struct {
	Measure int               // index of the measure, from 0
	Onset   musicxml.Fraction // in quarter notes from the start of that measure
	Staff   int               // counted from 1 at the top; 0 for all staves
	To      Transposition
	// WithoutSignature writes no key signature; accidentals then stand at the
	// notes. Default: with the signature.
	WithoutSignature bool
	// Shift is added to what sounds, for a part given to another instrument in
	// another octave. Default: nothing, the sound stays.
	Shift Interval
	// DropDoubling leaves out the <double> of the source's <transpose>, for a
	// player who no longer shares the staff. Default: keep it.
	DropDoubling bool
}

// place is a point of a part in the order in which it is read.
type place struct {
	measure int
	onset   musicxml.Fraction
	order   int // of the event within the measure
}

// before reports whether a change at place p holds for an event at q. At one
// moment a change holds for everything but a grace note written before it.
func (p place) before(q place, grace bool) bool {
	switch c := p.onset.Cmp(q.onset); {
	case p.measure != q.measure:
		return p.measure < q.measure
	case c != 0:
		return c < 0
	}
	return p.order <= q.order || !grace
}

// state is what is in force on one staff from a place on.
type state struct {
	place
	source    Transposition // the source's <transpose>
	double    *etree.Element
	key       signature // the source's key
	hasKey    bool
	target    Stretch
	move      Interval      // what is added to written pitch
	written   Transposition // what the part's <transpose> says
	newKey    signature
	keyHere   bool // the source has a <key> at this place
	keyBefore bool // a key was in force before this place
}

// staffCourse is one staff's states in order; the first is the start of the part.
type staffCourse []state

// course follows transposition and key through a part, staff by staff.
type course struct {
	staves  []staffCourse // staves[0] is staff 1
	changes []change
}

// change is a <key> or <transpose> of the source at its place.
type change struct {
	place
	element *etree.Element
	staff   int // 0 for all
	stretch *Stretch
}

// newCourse gathers the changes of a part and works out every state.
func newCourse(t *musicxml.Timeline, o Options) (*course, error) {
	changes, staves := gatherChanges(t, o.Stretches)
	c := &course{staves: make([]staffCourse, staves), changes: changes}
	for i := range c.staves {
		c.staves[i] = staffCourse{{place: place{order: -1}}}
	}
	for _, ch := range changes {
		for i := range c.staves {
			if ch.staff != 0 && ch.staff != i+1 {
				continue
			}
			if err := c.staves[i].apply(ch); err != nil {
				m := &t.Measures[ch.measure]
				return nil, &musicxml.Error{Measure: m.Number, Beat: m.Beat(ch.onset), Code: "no-music", Err: err}
			}
		}
	}
	for i := range c.staves {
		c.staves[i].resolve(o.MaxSignature)
	}
	return c, nil
}

// gatherChanges lists the changes in the order of time; the stretches come first
// at their moment, so that a key there is read under them. It also counts the
// staves that are used.
func gatherChanges(t *musicxml.Timeline, stretches []Stretch) ([]change, int) {
	var changes []change
	staves := 1
	for i := range stretches {
		s := &stretches[i]
		changes = append(changes, change{place: place{s.Measure, s.Onset, -1}, staff: s.Staff, stretch: s})
		staves = max(staves, s.Staff)
	}
	for i := range t.Measures {
		for order := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[order]
			staves = max(staves, min(ev.Staff, maxStaves))
			if ev.Kind != musicxml.Attributes {
				continue
			}
			for _, e := range ev.Element.ChildElements() {
				if e.Tag == "key" || e.Tag == "transpose" {
					staff := staffNumber(e)
					staves = max(staves, staff)
					changes = append(changes, change{place: place{i, ev.Onset, order}, element: e, staff: staff})
				}
			}
		}
	}
	sort.SliceStable(changes, func(i, j int) bool {
		a, b := changes[i], changes[j]
		if a.measure != b.measure {
			return a.measure < b.measure
		}
		if c := a.onset.Cmp(b.onset); c != 0 {
			return c < 0
		}
		return a.order < b.order
	})
	return changes, staves
}

// maxStaves bounds the staves of one part that are followed; no instrument has more.
const maxStaves = 64

// staffNumber reads the number attribute of a key, clef or transpose: 0 where
// it is absent and all staves are meant.
func staffNumber(e *etree.Element) int {
	n, err := strconv.Atoi(musicxml.Attr(e, "number"))
	if err != nil || n < 1 {
		return 0
	}
	return min(n, maxStaves)
}

// apply adds a change to a staff's states; changes at one moment share a state.
func (s *staffCourse) apply(ch change) error {
	last := &(*s)[len(*s)-1]
	if last.measure != ch.measure || last.onset != ch.onset {
		next := *last
		next.place, next.keyHere, next.keyBefore = ch.place, false, last.hasKey
		*s = append(*s, next)
		last = &(*s)[len(*s)-1]
	}
	switch {
	case ch.stretch != nil:
		last.target = *ch.stretch
	case ch.element.Tag == "key":
		key, err := readSignature(ch.element)
		if err != nil {
			return err
		}
		last.key, last.hasKey, last.keyHere = key, true, true
	default:
		source, err := ReadTransposition(ch.element, last.key.fifths)
		if err != nil {
			return err
		}
		last.source, last.double = source, musicxml.Child(ch.element, "double")
	}
	return nil
}

// resolve works out the interval and the new key of every state. Past
// maxSignature the state takes the enharmonic twin: the interval one diminished
// second away, and the <transpose> says so in its diatonic value.
func (s staffCourse) resolve(maxSignature int) {
	for i := range s {
		st := &s[i]
		st.move = st.source.Interval().Add(st.target.Shift).Sub(st.target.To.Interval())
		st.written = st.target.To
		// A part that keeps its key (a violin in seven sharps) is left as the score
		// has it: the twin is for signatures that the move made.
		if st.hasKey && st.key.traditional && !st.target.WithoutSignature && st.move.Fifths() != 0 {
			if n := twinSteps(st.key.fifths+st.move.Fifths(), maxSignature); n != 0 {
				st.move = st.move.respelled(n)
				st.written.Diatonic -= n
			}
		}
		st.newKey = st.key.moved(st.move)
		if st.target.WithoutSignature {
			st.newKey = traditional(signature{element: st.key.element}, 0)
		}
	}
}

// twinSteps returns by how many steps the interval changes so that a signature
// of that many fifths stays within the limit: +1, −1, or 0 where it need not or
// where the twin would be no better.
func twinSteps(fifths, limit int) int {
	if abs(fifths) <= limit || abs(Twin(fifths)) >= abs(fifths) {
		return 0
	}
	if fifths > 0 {
		return 1
	}
	return -1
}

// at returns the state in force for an event.
func (s staffCourse) at(p place, grace bool) *state {
	i := sort.Search(len(s), func(i int) bool { return i > 0 && !s[i].place.before(p, grace) })
	return &s[i-1]
}

// staff returns the course of a staff; a number past the last one, which only a
// faulty source has, reads as the last.
func (c *course) staff(n int) staffCourse {
	return c.staves[min(max(n, 1), len(c.staves))-1]
}

// unmoved reports whether nothing changes at all: no interval (so that the
// source's <transpose> already says what it should) and no signature taken away.
func (c *course) unmoved() bool {
	for _, s := range c.staves {
		for i := range s {
			st := &s[i]
			if st.move != (Interval{}) || st.target.WithoutSignature || st.target.DropDoubling && st.double != nil {
				return false
			}
		}
	}
	return true
}

// spansRespelling reports whether some staff changes between intervals.
func (c *course) spansRespelling() bool {
	for _, s := range c.staves {
		for i := 1; i < len(s); i++ {
			if s[i].move != s[i-1].move {
				return true
			}
		}
	}
	return false
}

// sortedMoments sorts places and keeps one for each moment.
func sortedMoments(places []place) []place {
	sort.SliceStable(places, func(i, j int) bool {
		a, b := places[i], places[j]
		if a.measure != b.measure {
			return a.measure < b.measure
		}
		if c := a.onset.Cmp(b.onset); c != 0 {
			return c < 0
		}
		return a.order > b.order
	})
	kept := places[:0]
	for _, p := range places {
		if n := len(kept); n == 0 || kept[n-1].measure != p.measure || kept[n-1].onset != p.onset {
			kept = append(kept, p)
		}
	}
	return kept
}
