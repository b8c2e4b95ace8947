package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// figureSigns are the signs of figured bass that stand for an alteration of the
// figure's note (MusicXML 4.0, prefix and suffix); others, such as plus or
// slash, are relative and stay.
var figureSigns = map[string]pitch.Alter{
	"flat-flat": pitch.Semitones(-2), "double-flat": pitch.Semitones(-2), "flat": pitch.Semitones(-1), "natural": 0,
	"sharp": pitch.Semitones(1), "double-sharp": pitch.Semitones(2), "sharp-sharp": pitch.Semitones(2),
}

// moveFigures works the accidentals of figured bass out anew: each figure names
// a note above the bass note that follows, and moves with it.
func (m *mover) moveFigures(ev *musicxml.Event, at position) {
	bass := m.bassNote(ev, at)
	if bass == nil && m.staffMove(ev, at).move == (pitch.Interval{}) || bass != nil && bass.pitch == bass.source {
		return
	}
	for _, figure := range musicxml.Children(ev.Element, "figure") {
		for _, tag := range []string{"prefix", "suffix"} {
			sign := musicxml.Child(figure, tag)
			if sign == nil || !isFigureSign(musicxml.Text(sign)) {
				continue
			}
			if bass == nil {
				m.warn(at, notice.FiguredBass, "a figure's accidental has no bass note to be counted from")
				continue
			}
			m.moveFigure(figure, sign, bass, at)
		}
	}
}

func isFigureSign(name string) bool {
	_, is := figureSigns[name]
	return is
}

func (m *mover) moveFigure(figure, sign *etree.Element, bass *note, at position) {
	number, _ := strconv.Atoi(musicxml.ChildText(figure, "figure-number"))
	if number < 1 {
		number = 3 // a sign alone stands for the third
	}
	moved := func(s printedAccidental, to pitch.Pitch) (string, bool) { return movedFigure(s, to, number-1) }
	old, _ := takeAccidental(sign, bass.source, moved)
	name, ok := moved(old, bass.pitch)
	if !ok {
		m.warn(at, notice.FiguredBass, "the accidental of a figure cannot be written in the new key")
	}
	musicxml.SetText(sign, name)
	if m.options.AsPrinted && !comesBack(sign, old, bass.pitch, moved) {
		remember(sign, old)
	}
}

// movedFigure returns the sign of a figure so many steps above its bass, after
// the bass went to another pitch.
func movedFigure(s printedAccidental, to pitch.Pitch, steps int) (string, bool) {
	name, ok := movedBeside(s, figureSigns[s.name], to, steps)
	if !ok || !isFigureSign(name) {
		return s.name, false
	}
	return name, true
}

// figuredNotes are the bass notes of all figures.
func (m *mover) figuredNotes() map[*note]bool {
	figured := map[*note]bool{}
	for i := range m.timeline.Measures {
		for order := range m.timeline.Measures[i].Events {
			if ev := &m.timeline.Measures[i].Events[order]; ev.Kind == musicxml.FiguredBass {
				figured[m.bassNote(ev, position{i, ev.Onset, order})] = true
			}
		}
	}
	return figured
}

// bassNote finds the note that a figured-bass element belongs to: the next note
// of the measure at its place.
func (m *mover) bassNote(ev *musicxml.Event, at position) *note {
	b := &m.bars[at.measure]
	for i := range b.notes {
		n := &b.notes[i]
		if n.place.order > at.order && n.event.Onset.Cmp(ev.Onset) >= 0 && !n.event.Grace {
			return n
		}
	}
	return nil
}
