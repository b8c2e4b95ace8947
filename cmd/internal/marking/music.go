package marking

import (
	"sort"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// head is a note as it stands on the page.
type head struct {
	bar           int // index of the measure, from 0
	measure, beat string
	onset         musicxml.Fraction // from the start of the bar, in quarter notes
	length        musicxml.Fraction
	pitch         pitch.Pitch
	sign          string // the printed accidental, "" for none
	// tieTo and tieFrom lead over a barline; ties within a bar are one head.
	tieTo, tieFrom bool
}

// place counts the head's letter steps from C0.
func (h head) place() int { return explain.Place(h.pitch) }

// music is one staff of a file.
type music struct {
	heads   []head // by bar, onset, and downwards in a chord
	lengths []musicxml.Fraction
	numbers []string // printed numbers of the bars
	unit    []string // of the time signature, by bar
	fifths  int
	hasKey  bool
	clef    instruments.Clef
	hasClef bool
	slurs   int
}

// readMusic reads one staff of a part, counted from 1.
func readMusic(part *etree.Element, staff int) (*music, error) {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, err
	}
	m := &music{clef: explain.Treble}
	for i := range timeline.Measures {
		measure := &timeline.Measures[i]
		m.lengths = append(m.lengths, measure.Length)
		m.numbers = append(m.numbers, measure.Number)
		m.unit = append(m.unit, measure.BeatType)
		for k := range measure.Events {
			if err := m.event(measure, &measure.Events[k], staff); err != nil {
				return nil, err
			}
		}
	}
	m.order()
	m.joinTies()
	return m, nil
}

func (m *music) event(measure *musicxml.Measure, ev *musicxml.Event, staff int) error {
	switch {
	case ev.Kind == musicxml.Attributes && len(m.heads) == 0:
		m.attributes(ev.Element, staff)
	case ev.Kind == musicxml.Note && ev.Staff == staff && !ev.Rest && !ev.Grace && !ev.Cue:
		e := musicxml.Child(ev.Element, "pitch")
		if e == nil {
			return nil
		}
		pitch, err := transpose.ReadPitch(e)
		if err != nil {
			return &musicxml.Error{Measure: measure.Number, Beat: measure.Beat(ev.Onset), Code: notice.NoMusic, Err: err}
		}
		h := head{bar: measure.Index, measure: measure.Number, beat: measure.Beat(ev.Onset), onset: ev.Onset, length: ev.Duration,
			pitch: pitch, sign: musicxml.ChildText(ev.Element, "accidental")}
		h.tieTo, h.tieFrom = explain.IsTied(ev.Element, "start"), explain.IsTied(ev.Element, "stop")
		for _, notations := range musicxml.Children(ev.Element, "notations") {
			for _, slur := range musicxml.Children(notations, "slur") {
				if musicxml.Attr(slur, "type") == "start" {
					m.slurs++
				}
			}
		}
		m.heads = append(m.heads, h)
	}
	return nil
}

// attributes reads the key and clef with which the staff begins.
func (m *music) attributes(a *etree.Element, staff int) {
	mine := func(e *etree.Element) bool {
		n := musicxml.Attr(e, "number")
		return n == "" || n == string(rune('0'+staff))
	}
	for _, k := range musicxml.Children(a, "key") {
		if fifths, traditional, err := transpose.ReadKey(k); err == nil && traditional && mine(k) && musicxml.Attr(k, "print-object") != "no" {
			m.fifths, m.hasKey = fifths, true
		}
	}
	for _, c := range musicxml.Children(a, "clef") {
		if mine(c) {
			m.clef, m.hasClef = explain.ReadClef(c), true
		}
	}
}

// order sorts the heads: in time, and downwards within a chord.
func (m *music) order() {
	sort.SliceStable(m.heads, func(i, k int) bool {
		a, b := m.heads[i], m.heads[k]
		if a.bar != b.bar {
			return a.bar < b.bar
		}
		if c := a.onset.Cmp(b.onset); c != 0 {
			return c < 0
		}
		return a.place() > b.place()
	})
}

// joinTies makes one head of those that are tied within a bar: a dotted note may
// be written as two.
func (m *music) joinTies() {
	var kept []head
	for _, h := range m.heads {
		if h.tieFrom {
			if i := tiedTo(kept, h); i >= 0 {
				kept[i].length = kept[i].length.Add(h.length)
				kept[i].tieTo = h.tieTo
				continue
			}
		}
		kept = append(kept, h)
	}
	m.heads = kept
}

// tiedTo finds the head of the same bar and pitch that ends where h begins.
func tiedTo(heads []head, h head) int {
	for i := len(heads) - 1; i >= 0 && heads[i].bar == h.bar; i-- {
		if g := heads[i]; g.tieTo && g.pitch == h.pitch && g.onset.Add(g.length) == h.onset {
			return i
		}
	}
	return -1
}

// trim leaves out the bars without notes at the beginning and the end: title
// measures and bars that a program adds. Upbeats stay.
func (m *music) trim() {
	if len(m.heads) == 0 {
		return
	}
	first, last := m.heads[0].bar, m.heads[len(m.heads)-1].bar
	for i := range m.heads {
		m.heads[i].bar -= first
	}
	m.lengths, m.numbers, m.unit = m.lengths[first:last+1], m.numbers[first:last+1], m.unit[first:last+1]
}

// sameHeads reports whether two staves have the same notes at the same places.
func (m *music) sameHeads(other *music) bool {
	if len(m.heads) != len(other.heads) {
		return false
	}
	for i, h := range m.heads {
		if g := other.heads[i]; g.pitch != h.pitch || g.bar != h.bar || g.onset != h.onset {
			return false
		}
	}
	return true
}
