package engraving

import (
	"strconv"
	"strings"

	"deskpart/musicxml"
)

// Beam joins the notes of voices that have no beams at all, by the time
// signature: notes within one beat, and plain eighth notes within half a bar of
// 4/4 or a bar of 2/4 and 3/4.
func (m *Music) Beam() {
	for s := range m.Staves {
		now := state{}
		for b := range m.Staves[s].Measures {
			measure := &m.Staves[s].Measures[b]
			now = now.opened(measure)
			for v := range measure.Voices {
				beamVoice(measure.Voices[v].Events, now.time)
			}
			for _, c := range measure.Changes {
				now = now.with(c)
			}
		}
	}
}

// beamVoice sets the first-level beams of a voice; the others follow from the
// values when they are drawn.
func beamVoice(events []Event, t Time) {
	for i := range events {
		if len(events[i].Beams) > 0 {
			return
		}
	}
	beat, span := t.Beat()
	for i := 0; i < len(events); {
		j := i + 1
		if beamable(&events[i]) {
			for j < len(events) && beamable(&events[j]) && sameBeam(events[i:j+1], beat, span) {
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
