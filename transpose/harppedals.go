package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// moveHarpPedals moves the tones that a pedal diagram names, where the harp's own
// music moves: a harp that stays at sounding pitch keeps its pedals. The order of
// the pedals is that of the instrument, D C B E F G A (MusicXML 4.0,
// harp-pedals).
func (m *mover) moveHarpPedals(ev *musicxml.Event, at position) {
	diagram := musicxml.Descend(ev.Element, "direction-type", "harp-pedals")
	if diagram == nil {
		return
	}
	st := m.staffMove(ev, at)
	if st.move.Fifths() == 0 {
		return
	}
	pedals, tones := pedalTones(diagram)
	if len(tones) != 7 {
		return
	}
	for i, step := range [7]pitch.Step{pitch.D, pitch.C, pitch.B, pitch.E, pitch.F, pitch.G, pitch.A} {
		from := st.move.Negate().Apply(pitch.Pitch{Step: step}).Step
		to := st.move.Apply(pitch.Pitch{Step: from, Alter: tones[from]})
		if n, whole := to.Alter.Whole(); !whole || pitch.Abs(n) > 1 {
			m.warn(at, notice.HarpPedals, "the pedal for "+step.String()+" cannot be set to what the moved music needs")
		}
		musicxml.SetChildText(pedals[i], "pedal-step", step.String())
		musicxml.SetChildText(pedals[i], "pedal-alter", to.Alter.String())
	}
}

// pedalTones reads a pedal diagram: its pedals in order, and what each letter is
// set to.
func pedalTones(diagram *etree.Element) (pedals []*etree.Element, tones map[pitch.Step]pitch.Alter) {
	tones = map[pitch.Step]pitch.Alter{}
	for _, pedal := range musicxml.Children(diagram, "pedal-tuning") {
		step, err := pitch.ParseStep(musicxml.ChildText(pedal, "pedal-step"))
		alter, err2 := pitch.ParseAlter(musicxml.ChildText(pedal, "pedal-alter"))
		if err != nil || err2 != nil {
			continue
		}
		pedals, tones[step] = append(pedals, pedal), alter
	}
	return pedals, tones
}
