package musicxml

import (
	"errors"
	"iter"
	"slices"
	"strconv"

	"github.com/beevik/etree"
)

// Kind says what a child of a measure is.
type Kind uint8

// The kinds of a measure's children (MusicXML 4.0, group music-data).
const (
	Other Kind = iota
	Note
	Backup
	Forward
	Direction
	Attributes
	Harmony
	FiguredBass
	Print
	Sound
	Listening
	Barline
	Grouping
	Link
	Bookmark
)

// kindOf returns the kind of a measure's child.
func kindOf(tag string) Kind {
	switch tag {
	case "note":
		return Note
	case "backup":
		return Backup
	case "forward":
		return Forward
	case "direction":
		return Direction
	case "attributes":
		return Attributes
	case "harmony":
		return Harmony
	case "figured-bass":
		return FiguredBass
	case "print":
		return Print
	case "sound":
		return Sound
	case "listening":
		return Listening
	case "barline":
		return Barline
	case "grouping":
		return Grouping
	case "link":
		return Link
	case "bookmark":
		return Bookmark
	}
	return Other
}

// Event is one child element of a measure at its place in time.
type Event struct {
	Element *etree.Element
	Kind    Kind
	// Onset is counted in quarter notes from the start of the measure, and
	// includes the element's own offset for a direction, harmony or sound.
	// A chord note has the onset of the note it stands with.
	Onset Fraction
	// Duration is what is played in quarter notes; 0 for grace notes and for
	// everything that is not a note, backup or forward.
	Duration Fraction
	// Voice is the text of <voice>, "1" where a note has none; Staff counts
	// from 1 at the top.
	Voice                   string
	Staff                   int
	Chord, Grace, Cue, Rest bool
	// Marked: the note has <notations>.
	Marked bool
}

// After is the time at which what follows the event in the text stands; now is that at
// which the event itself stands there.
func (ev *Event) After(now Fraction) Fraction {
	switch ev.Kind {
	case Note:
		if !ev.Chord && !ev.Grace {
			return ev.Onset.Add(ev.Duration)
		}
	case Forward:
		return ev.Onset.Add(ev.Duration)
	case Backup:
		return ev.Onset.Sub(ev.Duration)
	}
	return now
}

// Measure is one <measure> with the events inside it, in document order.
type Measure struct {
	Element *etree.Element
	Index   int
	Number  string
	// Start is counted from the start of the piece, Length is how far the
	// longest voice reaches, both in quarter notes.
	Start, Length Fraction
	// Beats and BeatType are the time signature in force at the start of the
	// measure as text, "" before the first and in unmeasured music.
	Beats, BeatType string
	Events          []Event
}

// Timeline is a part laid out in time.
type Timeline struct {
	Measures []Measure
	events   []Event  // the measures' events are pieces of it
	clock    clock    // as it stands at the end
	states   []timing // beside Measures: what held before each
}

// Each goes through the events of a kind in the order of the text, with the index of the
// measure of each.
func (t *Timeline) Each(kind Kind) iter.Seq2[int, *Event] {
	return func(yield func(int, *Event) bool) {
		for i := range t.Measures {
			for ev := range t.Measures[i].Each(kind) {
				if !yield(i, ev) {
					return
				}
			}
		}
	}
}

// Each goes through the events of a kind in the order of the text.
func (m *Measure) Each(kind Kind) iter.Seq[*Event] {
	return func(yield func(*Event) bool) {
		for k := range m.Events {
			if ev := &m.Events[k]; ev.Kind == kind && !yield(ev) {
				return
			}
		}
	}
}

// Beat names the place of an onset in the bar as musicians count it: in units of
// the time signature's lower number from 1 ("1", "2.5"), in quarter notes where
// there is no signature.
func (m *Measure) Beat(onset Fraction) string { return BeatName(onset, m.BeatType) }

// BeatName is [Measure.Beat] in a bar of that beat type, "" for none.
func BeatName(onset Fraction, beatType string) string {
	unit, err := strconv.ParseInt(beatType, 10, 32)
	if err != nil || unit <= 0 {
		unit = 4
	}
	beat := onset.Mul(NewFraction(unit, 4)).Add(NewFraction(1, 1))
	if beat.Den() == 1 {
		return strconv.FormatInt(beat.Num(), 10)
	}
	return strconv.FormatFloat(float64(int64(beat.Float()*1000+0.5))/1000, 'f', -1, 64)
}

var (
	errDivisions   = errors.New("the divisions of a quarter note are not a number above 0")
	errDuration    = errors.New("a note has no usable <duration>")
	errBeforeStart = errors.New("a note starts before its bar")
	errStaff       = errors.New("a staff number is not a whole number above 0")
)

// NewTimeline lays a <part> out in time: exact onsets and durations of every
// note and mark, through backup, forward, chords, grace notes and changes of
// divisions. It keeps pointers into the tree and changes nothing. The error is
// an *Error that names measure and beat.
func NewTimeline(part *etree.Element) (*Timeline, error) {
	t := new(Timeline)
	return t, t.LayOut(part)
}

// LayOut is NewTimeline into a timeline that there is, whose memory is used
// again: what was taken from it before is no longer valid.
func (t *Timeline) LayOut(part *etree.Element) error {
	t.clock.reset()
	events := 0
	for _, token := range part.Child {
		if e, ok := token.(*etree.Element); ok {
			events += len(e.Child)
		}
	}
	t.Measures = slices.Grow(t.Measures[:0], len(part.Child))
	t.states = slices.Grow(t.states[:0], len(part.Child))
	// One array for all events, with room for Renew: a part of a long movement has
	// tens of thousands.
	t.events = slices.Grow(t.events[:0], events+events/8)
	for _, token := range part.Child {
		element, ok := token.(*etree.Element)
		if !ok || !isMeasure(element) {
			continue
		}
		m := Measure{Element: element, Index: len(t.Measures), Number: Attr(element, "number"), Start: t.clock.start}
		state := t.clock.timing
		if err := t.measure(&m); err != nil {
			return err
		}
		t.Measures = append(t.Measures, m)
		t.states = append(t.states, state)
	}
	return nil
}

func isMeasure(e *etree.Element) bool { return e.Tag == "measure" && e.Space == "" }

// measure lays out one measure behind the events that there are.
func (t *Timeline) measure(m *Measure) error {
	from := len(t.events)
	all, err := t.clock.measure(m, t.events)
	t.events = all
	m.Events = all[from:len(all):len(all)]
	return err
}

// Renew brings the timeline up to date after children of measures were added, taken
// out or put elsewhere. What it has of the elements that stayed is not read again:
// their voice, staff, duration, offset and whether they have notations must be as the
// events say. It costs a small part of LayOut.
func (t *Timeline) Renew(part *etree.Element) error {
	next := 0
	t.clock.start = Fraction{}
	for _, token := range part.Child {
		element, ok := token.(*etree.Element)
		if !ok || !isMeasure(element) {
			continue
		}
		if next == len(t.Measures) || t.Measures[next].Element != element {
			return t.LayOut(part)
		}
		m := &t.Measures[next]
		m.Start, m.Number = t.clock.start, Attr(element, "number")
		if m.asLaidOut() {
			t.clock.start = t.clock.start.Add(m.Length)
			next++
			continue
		}
		t.clock.take(t.states[next])
		if err := t.measure(m); err != nil {
			return err
		}
		next++
		if next < len(t.states) && t.states[next] != t.clock.timing {
			return t.LayOut(part) // it holds for what follows
		}
	}
	if next < len(t.Measures) {
		return t.LayOut(part)
	}
	return nil
}

// asLaidOut reports whether the measure has the children that its events are, and
// none that say how time is counted.
func (m *Measure) asLaidOut() bool {
	next := 0
	for _, token := range m.Element.Child {
		element, ok := token.(*etree.Element)
		if !ok || element.Space != "" {
			continue
		}
		if next == len(m.Events) || m.Events[next].Element != element || m.Events[next].Kind == Attributes {
			return false
		}
		next++
	}
	return next == len(m.Events)
}

// Forget lets go of the tree that was laid out, for a timeline that goes on to
// another score.
func (t *Timeline) Forget() {
	clear(t.Measures[:cap(t.Measures)])
	clear(t.events[:cap(t.events)])
	clear(t.states[:cap(t.states)])
	*t = Timeline{Measures: t.Measures[:0], events: t.events[:0], states: t.states[:0]} // the clock, too, has pieces of its text
}

// InsertionPoint returns the index among the measure's children at which an
// <attributes> of that onset belongs: before the first note or move that begins
// there or later, and before the voice turns back.
func (m *Measure) InsertionPoint(onset Fraction) int {
	for i := range m.Events {
		ev := &m.Events[i]
		switch ev.Kind {
		case Backup:
			return ev.Element.Index()
		case Note, Forward:
			if !ev.Chord && !ev.Onset.Less(onset) {
				return ev.Element.Index()
			}
		case Print, Attributes:
		default:
			if onset.Sign() == 0 && ev.Onset.Sign() == 0 {
				return ev.Element.Index()
			}
		}
	}
	return len(m.Element.Child)
}
