package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// moveFrame shifts a fretboard diagram along the neck with its chord, or takes
// it out where that cannot be done: an open string cannot be shifted.
func (m *mover) moveFrame(harmony *etree.Element, st *state, at position) {
	frame := musicxml.Child(harmony, "frame")
	shift := nearestShift(st.move.Chromatic)
	if frame == nil || shift == 0 {
		return
	}
	if frets, ok := shiftedFrets(frame, shift); ok {
		for e, fret := range frets {
			musicxml.SetText(e, strconv.Itoa(fret))
		}
		return
	}
	harmony.RemoveChild(frame)
	m.warn(at, notice.FretFrame, "the fretboard diagram describes the chord at its old pitch and was left out")
	if m.options.AsPrinted {
		addWas(harmony, frame, st.move)
	}
}

// returnFrame puts a diagram back that was left out, where the chord is again
// what it was.
func (m *mover) returnFrame(harmony, frame *etree.Element, since pitch.Interval) {
	switch {
	case nearestShift(since.Chromatic) == 0:
		musicxml.AddInOrder(harmony, frame)
	case m.options.AsPrinted:
		addWas(harmony, frame, since)
	}
}

// nearestShift reduces semitones to the nearest shift on the neck, so that a
// move and its undoing shift by opposite amounts.
func nearestShift(semitones int) int {
	if semitones < 0 {
		return -nearestShift(-semitones)
	}
	if n := semitones % 12; n > 6 {
		return n - 12
	} else {
		return n
	}
}

// lastFret is where a neck ends for a diagram.
const lastFret = 24

// shiftedFrets works out the new fret numbers of a frame.
func shiftedFrets(frame *etree.Element, shift int) (map[*etree.Element]int, bool) {
	frets := map[*etree.Element]int{}
	add := func(e *etree.Element) bool {
		n, err := strconv.Atoi(musicxml.Text(e))
		if err != nil || n < 1 || n+shift < 1 || n+shift > lastFret {
			return false
		}
		frets[e] = n + shift
		return true
	}
	for _, note := range musicxml.Children(frame, "frame-note") {
		if fret := musicxml.Child(note, "fret"); fret == nil || !add(fret) {
			return nil, false
		}
	}
	first := musicxml.Child(frame, "first-fret")
	if first == nil {
		return frets, framedWithin(frame, frets)
	}
	if musicxml.Attr(first, "text") != "" {
		return nil, false
	}
	return frets, add(first)
}

// framedWithin reports whether shifted frets still fit a diagram that begins at
// the nut.
func framedWithin(frame *etree.Element, frets map[*etree.Element]int) bool {
	most, err := strconv.Atoi(musicxml.ChildText(frame, "frame-frets"))
	for _, fret := range frets {
		if err == nil && fret > most {
			return false
		}
	}
	return true
}
