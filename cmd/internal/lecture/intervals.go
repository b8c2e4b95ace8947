package lecture

import (
	"strconv"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// withinOctave are the intervals up to an octave.
var withinOctave = []pitch.Interval{{Diatonic: 1, Chromatic: 1}, {Diatonic: 1, Chromatic: 2}, {Diatonic: 2, Chromatic: 3}, {Diatonic: 2, Chromatic: 4}, {Diatonic: 3, Chromatic: 5}, {Diatonic: 3, Chromatic: 6}, {Diatonic: 4, Chromatic: 6},
	{Diatonic: 4, Chromatic: 7}, {Diatonic: 5, Chromatic: 8}, {Diatonic: 5, Chromatic: 9}, {Diatonic: 6, Chromatic: 10}, {Diatonic: 6, Chromatic: 11}, {Diatonic: 7, Chromatic: 12}}

// intervals says how an interval is named and how music moves by one.
func (m *maker) intervals() error {
	t := m.t
	m.step("letters", t.Say("lecture.letters", nil), t.Say("lecture.letters-text", texts.Fill{"c": t.Letter(pitch.C), "d": t.Letter(pitch.D), "e": t.Letter(pitch.E)}))
	semitones := m.step("semitones", t.Say("lecture.semitones", nil), t.Say("lecture.semitones-text", nil))
	low, high := pitch.Pitch{Step: pitch.C, Octave: 4}, pitch.Pitch{Step: pitch.C, Octave: 5}
	table := &Table{Head: []string{t.Say("lecture.column-interval", nil), t.Say("lecture.column-letters", nil), t.Say("lecture.column-semitones", nil), t.Say("lecture.column-up", texts.Fill{"c": t.Pitch(low)}), t.Say("lecture.column-down", texts.Fill{"c": t.Pitch(high)})}}
	notes := staff{tune: explain.Tune{Clef: explain.Treble}}
	for _, i := range withinOctave {
		table.Rows = append(table.Rows, []string{t.Size(i), strconv.Itoa(i.Diatonic), strconv.Itoa(i.Chromatic), t.Pitch(i.Apply(low)), t.Pitch(i.Negate().Apply(high))})
		chord := row(explain.Treble, nil, low).Bars[0]
		chord.Notes[0].Pitches = append(chord.Notes[0].Pitches, i.Apply(low))
		notes.tune.Bars = append(notes.tune.Bars, chord)
		notes.under = append(notes.under, strconv.Itoa(i.Chromatic))
	}
	semitones.Table = table
	if err := semitones.draw(notes); err != nil {
		return err
	}
	m.step("kinds", t.Say("lecture.kinds", nil), t.Say("lecture.kinds-text", nil), t.Say("lecture.kinds-other", nil))
	m.step("turned", t.Say("lecture.turned", nil), t.Say("lecture.turned-text", texts.Fill{"a": t.Moved(pitch.Interval{Diatonic: -2, Chromatic: -3}), "b": t.Moved(pitch.Interval{Diatonic: 5, Chromatic: 9})}))
	m.keyMoves()
	_, err := m.example(2)
	return err
}

// keyMoves says how far a signature goes with an interval.
func (m *maker) keyMoves() {
	t := m.t
	s := m.step("key", t.Say("lecture.key-moves", nil), t.Say("lecture.key-moves-text", nil))
	s.Table = &Table{Head: []string{t.Say("lecture.column-upwards", nil), t.Say("lecture.column-signature", nil)}}
	for _, i := range withinOctave[:len(withinOctave)-1] {
		if i.Chromatic == 6 {
			continue // too rare to be learned
		}
		s.Table.Rows = append(s.Table.Rows, []string{t.Size(i), m.against(i.Fifths())})
	}
}
