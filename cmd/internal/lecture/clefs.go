package lecture

import (
	"strconv"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// named are the notes on which the clefs stand.
var named = map[string]pitch.Pitch{"G": {Step: pitch.G, Octave: 4}, "F": {Step: pitch.F, Octave: 3}, "C": {Step: pitch.C, Octave: 4}}

// clefs says what a clef is, and how a note keeps its name in another.
func (m *maker) clefs() error {
	t := m.t
	middleC := pitch.Pitch{Step: pitch.C, Octave: 4}
	line := m.step("line", t.Say("lecture.clef-line", nil), t.Say("lecture.clef-line-text", texts.Fill{"c": t.Pitch(middleC)}))
	line.Table = &Table{Head: []string{t.Say("lecture.column-clef", nil), t.Say("lecture.column-line", nil), t.Say("lecture.column-note", nil), t.Say("lecture.column-middle", nil)}}
	for _, c := range exercise.MovableClefs {
		line.Table.Rows = append(line.Table.Rows, []string{m.clef(c), strconv.Itoa(c.Line), t.Pitch(named[c.Sign]), t.Pitch(pitch.At(explain.MiddleLine(c)))})
	}
	same := m.step("same", t.Say("lecture.clef-same", nil), t.Say("lecture.clef-same-text", texts.Fill{"c": t.Pitch(middleC)}))
	if err := same.draw(everyClef(middleC)); err != nil {
		return err
	}
	moved := m.step("places", t.Say("lecture.clef-places", nil), t.Say("lecture.clef-places-text", nil))
	moved.Table = m.places()
	signs := m.step("signature", t.Say("lecture.clef-signs", nil), t.Say("lecture.clef-signs-text", nil))
	if err := signs.draw(m.signedClefs()...); err != nil {
		return err
	}
	_, err := m.example(3)
	return err
}

func (m *maker) clef(c instruments.Clef) string {
	name, _ := m.t.Clef(c.Name())
	return name
}

// everyClef is a note in one clef after another.
func everyClef(p pitch.Pitch) staff {
	s := staff{tune: explain.Tune{Clef: exercise.MovableClefs[0]}}
	for i := range exercise.MovableClefs {
		one := row(exercise.MovableClefs[i], nil, p).Bars[0]
		if i > 0 {
			one.Clef = &exercise.MovableClefs[i]
		}
		s.tune.Bars = append(s.tune.Bars, one)
	}
	return s
}

// places says how many places a note goes from one clef to another.
func (m *maker) places() *Table {
	t := m.t
	table := &Table{Head: []string{t.Say("lecture.column-from", nil), t.Say("lecture.column-to", nil), t.Say("lecture.column-places", nil)}}
	for _, pair := range [][2]instruments.Clef{{explain.Treble, explain.Bass}, {explain.Treble, explain.Alto}, {explain.Treble, explain.Tenor}, {explain.Bass, explain.Alto}, {explain.Bass, explain.Tenor}} {
		n := explain.MiddleLine(pair[0]) - explain.MiddleLine(pair[1])
		text := t.Say("lecture.places-higher", texts.Fill{"n": n})
		if n < 0 {
			text = t.Say("lecture.places-lower", texts.Fill{"n": -n})
		}
		table.Rows = append(table.Rows, []string{m.clef(pair[0]), m.clef(pair[1]), text})
	}
	return table
}

// signedClefs are three sharps in the usual clefs.
func (m *maker) signedClefs() (staves []staff) {
	key := pitch.Key{Fifths: 3, Mode: pitch.Major}
	for _, c := range exercise.MovableClefs[:4] {
		staves = append(staves, staff{name: m.clef(c), tune: row(c, &key, pitch.Pitch{Step: pitch.A, Octave: 3})})
	}
	return staves
}
