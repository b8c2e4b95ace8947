package rests

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// Order puts the rests in order: bars in which the player does nothing have
// one whole-bar rest on each staff, rests that the score hides are shown where
// nothing else fills the time, and rests pushed aside for a second voice go back to
// their place (gehrkens-mnt s.5, s.33; harris s.13-18).
func Order(d *draft.Draft, lengths []musicxml.Fraction) error {
	s := &rester{d, lengths}
	repeats, staves := draft.RepeatedBars(s.Timeline), 1
	for i := range s.Timeline.Measures {
		m := &s.Timeline.Measures[i]
		staves = stavesIn(m, staves)
		s.Staves = max(s.Staves, staves)
		if repeats[i] {
			continue
		}
		if draft.Idle(m) {
			s.restWholeBar(m, staves)
		} else {
			tidyRests(m)
		}
	}
	showStaves(s.Draft)
	return nil
}

// rester orders the rests of a part.
type rester struct {
	*draft.Draft
	lengths []musicxml.Fraction // of the measures, in the part that fills each most
}

// stavesIn finds on how many staves the part is in a measure, given how many there
// were before.
func stavesIn(m *musicxml.Measure, before int) int {
	staves, noted := before, 1
	for k := range m.Events {
		switch ev := &m.Events[k]; ev.Kind {
		case musicxml.Note:
			noted = max(noted, ev.Staff)
		case musicxml.Attributes:
			if e := musicxml.Child(ev.Element, "staves"); e != nil {
				if n, err := strconv.Atoi(musicxml.Text(e)); err == nil && n > 0 {
					staves = n
				}
			}
		}
	}
	return min(max(staves, noted), mostStaves)
}

// mostStaves bounds the staves that are given rests; no instrument has more.
const mostStaves = 16

// tidyRests shows the hidden rests of a bar and puts the displaced ones back.
func tidyRests(m *musicxml.Measure) {
	if slices.ContainsFunc(m.Events, isOdd) {
		showRests(m)
		replaceRests(m)
	}
}

// isOdd reports whether a rest is hidden or has a place of its own.
func isOdd(ev musicxml.Event) bool {
	if !ev.Rest {
		return false
	}
	_, shown := music.ReadShown(musicxml.Child(ev.Element, "rest"))
	return shown || draft.Hidden(&ev)
}

// restWholeBar writes one whole-bar rest for each staff of an idle bar. A short
// bar, such as a pickup, keeps the rests that it has.
func (s *rester) restWholeBar(m *musicxml.Measure, staves int) {
	length := s.barLength(m)
	if length.Sign() == 0 || m.Length != length && m.Length.Sign() != 0 || !plainRests(m) || !s.isWhole(m, length) {
		tidyRests(m)
		return
	}
	b := barOfRest{rester: s, measure: m, length: length, staves: staves}
	b.write()
}

// barLength is how long a measure is in the part that fills it most.
func (s *rester) barLength(m *musicxml.Measure) musicxml.Fraction {
	if m.Index < len(s.lengths) {
		return s.lengths[m.Index]
	}
	return m.Length
}

// isWhole reports whether a measure is as long as its time signature says, or has
// none. A measure that has its whole-bar rest already is.
func (s *rester) isWhole(m *musicxml.Measure, length musicxml.Fraction) bool {
	for i := range m.Events {
		if ev := &m.Events[i]; ev.Rest && musicxml.Attr(musicxml.Child(ev.Element, "rest"), "measure") == "yes" {
			return true
		}
	}
	nominal, known := nominalLength(m)
	return musicxml.Attr(m.Element, "implicit") != "yes" && (!known || nominal == length)
}

// nominalLength is how long a measure is by its time signature, in quarter notes.
func nominalLength(m *musicxml.Measure) (musicxml.Fraction, bool) {
	beats := 0
	for p := range strings.SplitSeq(m.Beats, "+") {
		n, err := strconv.Atoi(strings.TrimSpace(p))
		if err != nil {
			return musicxml.Fraction{}, false
		}
		beats += n
	}
	unit, err := strconv.Atoi(m.BeatType)
	if err != nil || beats <= 0 || unit <= 0 {
		return musicxml.Fraction{}, false
	}
	return musicxml.NewFraction(int64(beats)*4, int64(unit)), true
}

// plainRests reports whether nothing hangs on the rests of a bar but a pause, and
// whether everything else in it can be placed beside one rest.
func plainRests(m *musicxml.Measure) bool {
	for i := range m.Events {
		switch ev := &m.Events[i]; ev.Kind {
		case musicxml.Note:
			if !plainRest(ev.Element) {
				return false
			}
		case musicxml.Attributes:
			if ev.Onset.Sign() != 0 && ev.Onset != m.Length {
				return false
			}
		case musicxml.Barline:
			if draft.LocationOf(ev.Element) == "middle" {
				return false
			}
		}
	}
	return true
}

func plainRest(note *etree.Element) bool {
	for _, e := range note.ChildElements() {
		switch e.Tag {
		case "rest", "duration", "voice", "type", "dot", "staff", "time-modification", "stem", "instrument":
		case "notations":
			for _, n := range e.ChildElements() {
				if n.Tag != "fermata" && n.Tag != "tuplet" {
					return false
				}
			}
		default:
			return false
		}
	}
	return true
}

// showRests shows the hidden rests of a bar where nothing else that is printed
// fills their time.
func showRests(m *musicxml.Measure) {
	for i := range m.Events {
		ev := &m.Events[i]
		if ev.Rest && draft.Hidden(ev) && !filled(m, ev) {
			draft.RemoveAttr(ev.Element, "print-object")
		}
	}
}

// filled reports whether something else is printed while a rest lasts.
func filled(m *musicxml.Measure, rest *musicxml.Event) bool {
	end := rest.Onset.Add(rest.Duration)
	for ev := range m.Each(musicxml.Note) {
		if ev.Element == rest.Element || draft.Hidden(ev) || ev.Grace {
			continue
		}
		if ev.Onset.Less(end) && rest.Onset.Less(ev.Onset.Add(ev.Duration)) {
			return true
		}
	}
	return false
}

// replaceRests puts rests back to their place on staves that have one voice only.
func replaceRests(m *musicxml.Measure) {
	voices := map[int]string{}
	shared := map[int]bool{}
	for ev := range m.Each(musicxml.Note) {
		if draft.Hidden(ev) {
			continue
		}
		if v, ok := voices[ev.Staff]; ok && v != ev.Voice {
			shared[ev.Staff] = true
		}
		voices[ev.Staff] = ev.Voice
	}
	for i := range m.Events {
		if ev := &m.Events[i]; ev.Rest && !shared[ev.Staff] {
			musicxml.RemoveChildren(musicxml.Child(ev.Element, "rest"), "display-step", "display-octave")
		}
	}
}
