package engraving

import (
	"errors"
	"fmt"

	"deskpart/musicxml"
)

// NewMusic returns music of one staff that begins with these signs and has no
// bars yet.
func NewMusic(name string, clef Clef, key Key, time Time) *Music {
	start := Change{Clef: &clef, Key: &key, Time: &time}
	return &Music{Staves: []Staff{{Name: name, Measures: nil}}, start: &start}
}

// AddBar adds a bar with one voice to music of one staff. Onsets and durations
// are worked out from the printed values. The bar is numbered from 1.
func (m *Music) AddBar(events ...Event) *Bar {
	events = Sequence(events)
	m.Bars = append(m.Bars, Bar{Number: fmt.Sprint(len(m.Bars) + 1)})
	measure := Measure{Voices: []Voice{{Events: events}}}
	if m.start != nil {
		measure.Changes, m.start = []Change{*m.start}, nil
	}
	m.Staves[0].Measures = append(m.Staves[0].Measures, measure)
	return &m.Bars[len(m.Bars)-1]
}

// LastMeasure returns the measure added last on the first staff, to set more of
// it (changes, marks, a second voice); nil before the first.
func (m *Music) LastMeasure() *Measure {
	if len(m.Staves) == 0 || len(m.Staves[0].Measures) == 0 {
		return nil
	}
	return &m.Staves[0].Measures[len(m.Staves[0].Measures)-1]
}

// Pitched returns a note. Step counts C to B as 0 to 6; octave 4 begins with
// middle C; alter is in semitones.
func Pitched(v Value, dots, step, octave int, alter float64) Event {
	return Event{Value: v, Dots: dots, Notes: []Note{{Place: Place{Step: step, Octave: octave}, Alter: alter}}}
}

// RestOf returns a rest.
func RestOf(v Value, dots int) Event { return Event{Value: v, Dots: dots} }

// Sequence sets the onset of each event to the end of the one before, and the
// duration to what is printed unless one is given. Grace notes take no time.
func Sequence(events []Event) []Event {
	var now musicxml.Fraction
	for i := range events {
		e := &events[i]
		e.Onset = now
		if e.Grace {
			continue
		}
		if e.Duration.Sign() == 0 {
			e.Duration = Length(e.Value, e.Dots, e.Ratio)
		}
		now = now.Add(e.Duration)
	}
	return events
}

var errBars = errors.New("music that is drawn together must have the same number of bars")

// Stack puts several pieces of music one above the other, aligned in time: the
// sounding pitch over the written one. Barlines, numbers and endings are those
// of the first.
func Stack(pieces ...*Music) (*Music, error) {
	if len(pieces) == 0 {
		return &Music{}, nil
	}
	all, number := &Music{Bars: pieces[0].Bars}, 0
	for _, m := range pieces {
		if len(m.Bars) != len(all.Bars) {
			return nil, fmt.Errorf("%w: %d and %d", errBars, len(all.Bars), len(m.Bars))
		}
		for _, g := range m.Groups {
			g.From, g.To = g.From+len(all.Staves), g.To+len(all.Staves)
			all.Groups = append(all.Groups, g)
		}
		for _, staff := range m.Staves {
			staff.piece += number
			all.Staves = append(all.Staves, staff)
		}
		number += len(m.Staves)
	}
	return all, nil
}
