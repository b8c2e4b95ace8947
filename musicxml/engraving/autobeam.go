package engraving

import (
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml"
)

// Beam joins the notes of voices that have no beams at all, by the time
// signature: notes within one beat, and plain eighth notes within half a bar of
// 4/4 or a bar of 2/4 and 3/4. No beam runs through a signature within the bar.
func (m *Music) Beam() {
	for s := range m.Staves {
		now := state{}
		for b := range m.Staves[s].Measures {
			measure := &m.Staves[s].Measures[b]
			now = now.opened(measure)
			for v := range measure.Voices {
				beamVoice(measure.Voices[v].Events, now.time, measure.Changes)
			}
			for _, c := range measure.Changes {
				now = now.with(c)
			}
		}
	}
}

// beamVoice sets the first-level beams of a voice; the others follow from the
// values when they are drawn.
func beamVoice(events []Event, t Time, changes []Change) {
	for i := range events {
		if len(events[i].Beams) > 0 {
			return
		}
	}
	beat, span := t.Beat()
	ends := t.groups()
	if n := len(ends); n > 0 {
		if span = ends[n-1]; t.BeatType != "4" && t.BeatType != "2" {
			beat = span
		}
	}
	for _, c := range changes {
		if c.Key != nil || c.Time != nil {
			ends = append(ends, c.Onset)
		}
	}
	for i := 0; i < len(events); {
		j := i + 1
		if beamable(&events[i]) {
			for j < len(events) && beamable(&events[j]) && !parted(events[i:j+1], ends) && sameBeam(events[i:j+1], beat, span) {
				j++
			}
			markBeam(events[i:j])
		}
		i = j
	}
}

func beamable(e *Event) bool {
	return len(e.Notes) > 0 && !e.Hidden && e.Value >= Eighth
}

// parted reports whether a run of notes goes over one of the places.
func parted(run []Event, places []musicxml.Fraction) bool {
	return slices.ContainsFunc(places, func(at musicxml.Fraction) bool { return run[0].Onset.Less(at) && !run[len(run)-1].Onset.Less(at) })
}

// groups are where the groups of an additive signature end, such as 3+2 over 8, in
// quarter notes; any other has none.
func (t Time) groups() []musicxml.Fraction {
	kind, err := strconv.ParseInt(strings.TrimSpace(t.BeatType), 10, 16)
	if err != nil || kind <= 0 || !strings.Contains(t.Beats, "+") {
		return nil
	}
	var ends []musicxml.Fraction
	sum := int64(0)
	for text := range strings.SplitSeq(t.Beats, "+") {
		beats, err := strconv.ParseInt(strings.TrimSpace(text), 10, 16)
		if err != nil || beats <= 0 {
			return nil
		}
		sum += beats
		ends = append(ends, musicxml.NewFraction(4*sum, kind))
	}
	return ends
}

// sameBeam reports whether a run of notes may stand under one beam.
func sameBeam(run []Event, beat, span musicxml.Fraction) bool {
	first, last := &run[0], &run[len(run)-1]
	if first.Grace != last.Grace {
		return false
	}
	if first.Grace {
		return first.Onset == last.Onset
	}
	if slot(first.Onset, beat) == slot(last.Onset, beat) {
		return true
	}
	for i := range run {
		if run[i].Value != Eighth || run[i].Dots > 0 || run[i].Ratio.Actual > 0 {
			return false
		}
	}
	return slot(first.Onset, span) == slot(last.Onset, span)
}

// slot numbers the beats (of that length) from the start of the bar.
func slot(onset, length musicxml.Fraction) int64 {
	q := onset.Div(length)
	if !q.Valid() {
		return 0
	}
	return q.Num() / q.Den()
}

func markBeam(run []Event) {
	if len(run) < 2 {
		return
	}
	for i := range run {
		mark := BeamContinue
		switch i {
		case 0:
			mark = BeamBegin
		case len(run) - 1:
			mark = BeamEnd
		}
		run[i].Beams = []Beam{mark}
	}
}

// Beat returns the beat of a time signature and the span in which plain eighth
// notes stay together, both in quarter notes.
func (t Time) Beat() (beat, span musicxml.Fraction) {
	one := musicxml.NewFraction(1, 1)
	beats, err1 := strconv.ParseInt(strings.TrimSpace(t.Beats), 10, 16)
	kind, err2 := strconv.ParseInt(strings.TrimSpace(t.BeatType), 10, 16)
	if err1 != nil || err2 != nil || beats <= 0 || kind <= 0 {
		return one, one
	}
	unit := musicxml.NewFraction(4, kind)
	switch {
	case kind >= 8 && beats%3 == 0:
		beat = unit.Mul(musicxml.NewFraction(3, 1))
		return beat, beat
	case kind >= 8:
		return one, one
	case kind == 4 && beats == 4:
		return unit, musicxml.NewFraction(2, 1)
	case kind == 4 && beats <= 3:
		return unit, musicxml.NewFraction(beats, 1)
	}
	return unit, unit
}
