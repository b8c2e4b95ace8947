package lecture

import (
	"strconv"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// chordKinds are what chords are told apart by: the intervals over the root.
var chordKinds = []struct {
	kind string
	over []pitch.Interval
}{
	{"major", []pitch.Interval{{Diatonic: 2, Chromatic: 4}, {Diatonic: 4, Chromatic: 7}}},
	{"minor", []pitch.Interval{{Diatonic: 2, Chromatic: 3}, {Diatonic: 4, Chromatic: 7}}},
	{"diminished", []pitch.Interval{{Diatonic: 2, Chromatic: 3}, {Diatonic: 4, Chromatic: 6}}},
	{"dominant", []pitch.Interval{{Diatonic: 2, Chromatic: 4}, {Diatonic: 4, Chromatic: 7}, {Diatonic: 6, Chromatic: 10}}},
	{"minor-seventh", []pitch.Interval{{Diatonic: 2, Chromatic: 3}, {Diatonic: 4, Chromatic: 7}, {Diatonic: 6, Chromatic: 10}}},
}

// scoreReading says how a score is brought to one pitch and its chords are named.
func (m *maker) scoreReading() error {
	t := m.t
	m.step("pitch", t.Say("lecture.to-pitch", nil), t.Say("lecture.to-pitch-names", nil), t.Say("lecture.to-pitch-key", nil), t.Say("lecture.to-pitch-bass", nil))
	c := pitch.Pitch{Step: pitch.C, Octave: 4}
	name := m.step("name", t.Say("lecture.name-chord", nil), t.Say("lecture.name-chord-thirds", nil), t.Say("lecture.name-chord-root", nil))
	name.Table = &Table{Head: []string{t.Say("lecture.column-chord", nil), t.Say("lecture.column-over", nil), t.Say("lecture.column-on", texts.Fill{"c": t.Letter(pitch.C)})}}
	for _, k := range chordKinds {
		over, notes := "", t.Note(c)
		for n, i := range k.over {
			if n > 0 {
				over += ", "
			}
			over += t.Size(i)
			notes += " " + t.Note(i.Apply(c))
		}
		name.Table.Rows = append(name.Table.Rows, []string{t.Pick("chord-kind", k.kind), over, notes})
	}
	e, err := m.example(2)
	if err != nil {
		return err
	}
	worked := m.step("worked", t.Say("lecture.worked-chords", nil))
	worked.Table = &Table{Head: []string{t.Say("lecture.column-bar", nil)}}
	staves := e.Staves()
	for _, s := range staves {
		worked.Table.Head = append(worked.Table.Head, t.InstrumentTitle(s.Instrument))
	}
	worked.Table.Head = append(worked.Table.Head, t.Say("lecture.column-chord", nil))
	for bar, chord := range e.Band.Chords {
		row := []string{strconv.Itoa(bar + 1)}
		for _, s := range staves {
			row = append(row, t.Say("lecture.becomes", texts.Fill{"from": t.Note(s.Pairs[bar].From), "to": t.Note(s.Pairs[bar].To)}))
		}
		worked.Table.Rows = append(worked.Table.Rows, append(row, chord.NameIn(t)))
	}
	return nil
}
