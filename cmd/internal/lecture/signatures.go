package lecture

import (
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// signatures says how signatures are written, named and moved.
func (m *maker) signatures() error {
	t := m.t
	order := m.step("order", t.Say("lecture.order", nil), t.Say("lecture.order-text", texts.Fill{"sharps": t.SignatureNotes(pitch.MostSigns), "flats": t.SignatureNotes(-pitch.MostSigns)}))
	for _, fifths := range []int{pitch.MostSigns, -pitch.MostSigns} {
		key := pitch.Key{Fifths: fifths, Mode: pitch.Major}
		tonic := pitch.Pitch{Step: key.TonicStep(), Octave: 4, Alter: pitch.Semitones(pitch.SignatureAlter(fifths, key.TonicStep()))}
		low := tonic
		low.Octave--
		if err := order.draw(staff{tune: row(explain.Treble, &key, tonic)}, staff{tune: row(explain.Bass, &key, low)}); err != nil {
			return err
		}
	}
	name := m.step("name", t.Say("lecture.key-name", nil), t.Say("lecture.key-name-sharps", texts.Fill{"sharp": t.Note(noteOf(3, pitch.G)), "key": t.Major(3)}), t.Say("lecture.key-name-flats", texts.Fill{"flat": t.Note(noteOf(-3, pitch.E)), "key": t.Major(-3), "one": t.Major(-1)}),
		t.Say("lecture.key-name-minor", texts.Fill{"major": t.Major(-3), "minor": t.Minor(-3)}))
	name.Table = &Table{Head: []string{t.Say("lecture.column-signature", nil), t.Say("lecture.column-major", nil), t.Say("lecture.column-minor", nil)}}
	for fifths := -pitch.MostSigns; fifths <= pitch.MostSigns; fifths++ {
		name.Table.Rows = append(name.Table.Rows, []string{t.Signature(fifths), t.Major(fifths), t.Minor(fifths)})
	}
	m.keyMoves()
	m.step("twin", t.Say("lecture.twin", nil), t.Say("lecture.twin-text", texts.Fill{"flats": t.Major(-6), "sharps": t.Major(6)}))
	_, err := m.example(3)
	return err
}

// noteOf is a letter as a signature has it.
func noteOf(fifths int, s pitch.Step) pitch.Pitch {
	return pitch.Pitch{Step: s, Octave: 4, Alter: pitch.Semitones(pitch.SignatureAlter(fifths, s))}
}
