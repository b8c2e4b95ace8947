package transpose

import (
	"fmt"
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Stretch says how a part is to be written from a place on: what its
// <transpose> is to be there. A part has at least one, from its first bar.
type Stretch struct {
	Measure int               // index of the measure, from 0
	Onset   musicxml.Fraction // in quarter notes from the start of that measure
	Graces  int               // grace notes of that moment that stand before it
	Staff   int               // counted from 1 at the top; 0 for all staves
	To      Transposition
	// WithoutSignature writes no key signature; accidentals then stand at the
	// notes. Default: with the signature.
	WithoutSignature bool
	// Shift is added to what sounds, for a part given to another instrument in
	// another octave. Default: nothing, the sound stays.
	Shift pitch.Interval
	// DropDoubling leaves out the <double> of the source's <transpose>, for a
	// player who no longer shares the staff. Default: keep it.
	DropDoubling bool
	// AsIs takes To as it stands and no enharmonic twin, however many sharps or
	// flats that gives: for a part that goes back to where it came from, whose
	// <transpose> already says what was respelled. Default: the twin is taken
	// past Options.MaxSignature.
	AsIs bool
}

// Position is where the stretch begins.
func (s *Stretch) Position() musicxml.Position {
	return musicxml.Position{Measure: s.Measure, Onset: s.Onset}
}

// check refuses a stretch that has no place in a part of so many measures.
func (s *Stretch) check(measures int) error {
	switch {
	case s.Measure < 0 || s.Measure >= measures:
		return fmt.Errorf("a transposition is to begin in measure %d of %d", s.Measure+1, measures)
	case !s.Onset.Valid() || s.Onset.Sign() < 0:
		return fmt.Errorf("a transposition is to begin before its measure")
	case s.Staff < 0 || s.Staff > maxStaves:
		return fmt.Errorf("a transposition is to begin on staff %d", s.Staff)
	case !s.AsIs && !s.To.InUse():
		return fmt.Errorf("no instrument transposes by %d letter steps and %d semitones", s.To.Diatonic, s.To.Chromatic)
	}
	return nil
}

// state is what is in force on one staff from a place on.
type state struct {
	position
	source Transposition // the source's <transpose>
	double *etree.Element
	// partTranspose is what a <for-part> says, saysForPart that there is one.
	partTranspose Transposition
	saysForPart   bool
	// inConcertSounding: a concert score has the part at sounding pitch, though it
	// transposes by whole octaves.
	inConcertSounding bool
	// unsigned is a staff on which no accidentals are printed.
	unsigned  bool
	key       signature // the source's key
	hasKey    bool
	target    Stretch
	move      pitch.Interval // what is added to written pitch
	written   Transposition  // what the part's <transpose> says
	twin      bool           // the signature was taken by its twin
	newKey    signature
	keysHere  int  // how many <key> elements the source has at this place
	keyBefore bool // a key was in force before this place
}

// staffStates is one staff's states in order; the first is the start of the part.
type staffStates []state

// states follows transposition and key through a part, staff by staff.
type states struct {
	staves  []staffStates // staves[0] is staff 1
	changes []change
	graces  graces
}

// readStates gathers the changes of a part and works out every state.
func readStates(t *musicxml.Timeline, o Options) (*states, error) {
	for i := range o.Stretches {
		if err := o.Stretches[i].check(len(t.Measures)); err != nil {
			return nil, err
		}
	}
	g := gatherChanges(t, o.Stretches)
	c := &states{staves: make([]staffStates, g.staves), changes: g.changes, graces: g.graces}
	for i := range c.staves {
		c.staves[i] = staffStates{{position: position{order: -1}}}
	}
	for _, ch := range c.changes {
		for i := range c.staves {
			if ch.staff != 0 && ch.staff != i+1 {
				continue
			}
			if err := c.apply(i, ch); err != nil {
				m := &t.Measures[ch.measure]
				return nil, &musicxml.Error{Measure: m.Number, Beat: m.Beat(ch.onset), Code: notice.NoMusic, Err: err}
			}
		}
	}
	for i := range c.staves {
		c.staves[i].resolve(o.MaxSignature, o.ConcertScore)
	}
	return c, nil
}

// apply adds a change to a staff's states; changes at one moment that no grace note of the
// staff parts share a state.
func (c *states) apply(staff int, ch change) error {
	s := &c.staves[staff]
	last := &(*s)[len(*s)-1]
	if last.moment() != ch.moment() || c.graces.part(ch.moment(), last.order, ch.order, staff+1) {
		next := *last
		next.position, next.keysHere, next.keyBefore = ch.position, 0, last.hasKey
		*s = append(*s, next)
		last = &(*s)[len(*s)-1]
	}
	if ch.stretch != nil {
		last.target = *ch.stretch
		return nil
	}
	return last.take(ch.element)
}

// take puts an element of <attributes> into force.
func (st *state) take(e *etree.Element) (err error) {
	switch e.Tag {
	case "key":
		st.key, err = readSignature(e)
		st.hasKey = true
		st.keysHere++
	case "transpose":
		st.source, err = music.ReadTransposition(e, st.key.fifths)
		st.double = musicxml.Child(e, "double")
		st.inConcertSounding = remarkSaying(e, remarkSounding) >= 0
	case "for-part":
		st.partTranspose, err = partTransposeOf(e, st.key.fifths)
		st.saysForPart = true
	case "clef":
		st.unsigned = isUnsigned(e)
	}
	return err
}

// resolve works out the interval and the new key of every state. Past
// maxSignature the state takes the enharmonic twin: the interval one diminished
// second away, and the <transpose> says so in its diatonic value; in a concert
// score the <for-part> does.
func (s staffStates) resolve(maxSignature int, concert bool) {
	for i := range s {
		st := &s[i]
		st.move = st.source.Interval().Add(st.target.Shift).Sub(st.target.To.Interval())
		st.written = st.target.To
		// A part that keeps its key (a violin in seven sharps) is left as the score
		// has it: the twin is for signatures that the move made.
		if st.mayRespell() && st.move.Fifths() != 0 {
			if n := twinSteps(st.key.fifths+st.move.Fifths(), maxSignature); n != 0 {
				st.move = st.move.Respelled(n)
				st.twin = true
				if !concert {
					st.written.Diatonic -= n
				}
			}
		}
		if st.hasKey { // no signature stays none, and moves no tone
			st.newKey = st.key.moved(st.move)
		}
		if st.target.WithoutSignature {
			st.newKey = traditional(signature{element: st.key.element}, 0)
		}
	}
}

// mayRespell reports whether the state's signature may be taken by its twin.
func (st *state) mayRespell() bool {
	return st.key.traditional && !st.key.keyless && !st.target.WithoutSignature && !st.target.AsIs
}

// twinSteps returns by how many steps the interval changes so that a signature
// of that many fifths stays within the limit: +1, −1, or 0 where it need not or
// where the twin would be no better.
func twinSteps(fifths, limit int) int {
	if pitch.Abs(fifths) <= limit || pitch.Abs(pitch.Twin(fifths)) >= pitch.Abs(fifths) {
		return 0
	}
	return fifths / pitch.Abs(fifths)
}

// at returns the state in force on a staff at a position. At one moment a change holds for
// everything but a grace note of the staff written before it.
func (c *states) at(staff int, p position) *state {
	staff = min(max(staff, 1), len(c.staves)) // past the last one, which only a faulty source has, the last
	s := c.staves[staff-1]
	i := sort.Search(len(s), func(i int) bool { return !c.holds(s[i].position, staff, p) }) // the first holds for everything
	return &s[i-1]
}

// holds reports whether a change is in force on a staff at a position.
func (c *states) holds(change position, staff int, p position) bool {
	if change.moment() != p.moment() {
		return change.earlier(p)
	}
	return change.order <= p.order || !c.graces.part(p.moment(), p.order, change.order, staff)
}

// staff returns the states of a staff; a number past the last one, which only a
// faulty source has, reads as the last.
func (c *states) staff(n int) staffStates {
	return c.staves[min(max(n, 1), len(c.staves))-1]
}

// unmoved reports whether nothing changes at all: no interval (so that the
// source's <transpose> already says what it should) and no signature taken away.
func (c *states) unmoved() bool {
	for _, s := range c.staves {
		for i := range s {
			st := &s[i]
			if st.move != (pitch.Interval{}) || st.written.Interval() != st.source.Interval() || st.target.WithoutSignature || st.target.DropDoubling && st.double != nil {
				return false
			}
		}
	}
	return true
}

// changesInterval reports whether some staff changes between intervals.
func (c *states) changesInterval() bool {
	for _, s := range c.staves {
		for i := 1; i < len(s); i++ {
			if s[i].move != s[i-1].move {
				return true
			}
		}
	}
	return false
}

// passages tells what is done, staff by staff, where it changes.
func (c *states) passages() []Passage {
	var passages []Passage
	for i, s := range c.staves {
		for k := range s {
			st := &s[k]
			if k > 0 && st.source == s[k-1].source && st.move == s[k-1].move && st.written == s[k-1].written {
				continue
			}
			passages = append(passages, Passage{
				Measure: st.measure, Onset: st.onset, Staff: i + 1,
				Source: st.source, Moved: st.move, Written: st.written, Twin: st.twin,
			})
		}
	}
	return passages
}
