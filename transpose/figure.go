package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// figureSigns are the signs of figured bass that stand for an alteration of the
// figure's note (MusicXML 4.0, prefix and suffix); others, such as plus or
// slash, are relative and stay.
var figureSigns = map[string]Alter{
	"flat-flat": Semitones(-2), "double-flat": Semitones(-2), "flat": Semitones(-1), "natural": 0,
	"sharp": Semitones(1), "double-sharp": Semitones(2), "sharp-sharp": Semitones(2),
}

// moveFigures works the accidentals of figured bass out anew: each figure names
// a note above the bass note that follows, and moves with it.
func (m *mover) moveFigures(ev *musicxml.Event, at place) {
	st := m.staffMove(ev, at)
	if st.move == (Interval{}) {
		return
	}
	bass := m.bassNote(ev, at)
	for _, figure := range musicxml.Children(ev.Element, "figure") {
		for _, tag := range []string{"prefix", "suffix"} {
			sign := musicxml.Child(figure, tag)
			value, known := figureSigns[musicxml.Text(sign)]
			if !known {
				continue
			}
			if bass == nil {
				m.warn(at, "figured-bass", "a figure's accidental has no bass note to be counted from; check it by eye")
				continue
			}
			m.moveFigure(figure, sign, value, bass, st, at)
		}
	}
}

func (m *mover) moveFigure(figure, sign *etree.Element, value Alter, bass *note, st *state, at place) {
	number, err := strconv.Atoi(musicxml.ChildText(figure, "figure-number"))
	if err != nil || number < 1 {
		number = 3 // a sign alone stands for the third
	}
	line := bass.source.place() + number - 1
	from := Pitch{Step: Step(line % 7), Alter: value, Octave: line / 7}
	to := st.move.Apply(from).Alter
	name, ok := signFor(to, musicxml.Text(sign))
	if _, figured := figureSigns[name]; !ok || !figured {
		m.warn(at, "figured-bass", "the accidental of a figure cannot be written in the new key; check it by eye")
		return
	}
	musicxml.SetText(sign, name)
}

// bassNote finds the note that a figured-bass element belongs to: the next note
// of the measure at its place.
func (m *mover) bassNote(ev *musicxml.Event, at place) *note {
	b := &m.bars[at.measure]
	for i := range b.notes {
		n := &b.notes[i]
		if n.place.order > at.order && n.event.Onset.Cmp(ev.Onset) >= 0 && !n.event.Grace {
			return n
		}
	}
	return nil
}
