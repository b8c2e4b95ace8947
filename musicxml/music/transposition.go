package music

import (
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Transposition is the value of MusicXML's <transpose>: what is added to written
// pitch to get sounding pitch. Diatonic and Chromatic leave out whole octaves,
// which stand in OctaveChange (MusicXML 4.0, transpose).
type Transposition struct {
	Diatonic     int `json:"diatonic"`
	Chromatic    int `json:"chromatic"`
	OctaveChange int `json:"octave_change"`
}

// Interval folds the octaves in: what is added to written pitch.
func (t Transposition) Interval() pitch.Interval {
	return pitch.Interval{Diatonic: t.Diatonic, Chromatic: t.Chromatic}.Add(pitch.Octaves(t.OctaveChange))
}

// OctaveOnly reports whether it moves by whole octaves or not at all: such an
// instrument keeps its notation in a concert score.
func (t Transposition) OctaveOnly() bool {
	i := t.Interval()
	return i == pitch.Octaves(pitch.FloorDiv(i.Diatonic, 7))
}

// InConcert is how an instrument stands in a concert score: at sounding pitch, or at
// its own octave where it transposes by octaves alone (MusicXML 4.0, concert-score).
func (t Transposition) InConcert() Transposition {
	if t.OctaveOnly() {
		return t
	}
	return Transposition{}
}

// TranspositionBy writes an interval as a transposition with as few octaves in
// octave-change as its direction allows: −9 steps is −1 octave and −2 steps.
func TranspositionBy(i pitch.Interval) Transposition {
	octaves := i.Chromatic / 12
	i = i.Sub(pitch.Octaves(octaves))
	return Transposition{i.Diatonic, i.Chromatic, octaves}
}

// ReadTransposition reads a <transpose> or <part-transpose> element. fifths is
// the signature in force, which settles the spelling where <diatonic> is absent
// (it is optional in the schema) or cannot be meant.
func ReadTransposition(e *etree.Element, fifths int) (Transposition, error) {
	t, said, err := readTransposition(e)
	if err == nil && (!said || t.stepsAstray()) {
		t.Diatonic = stepsFor(t.Chromatic, fifths)
	}
	return t, err
}

// readTransposition reads the three numbers, and whether <diatonic> is there.
func readTransposition(e *etree.Element) (t Transposition, said bool, err error) {
	if t.Chromatic, err = transposeChild(e, "chromatic"); err != nil {
		return t, false, err
	}
	if t.OctaveChange, err = transposeChild(e, "octave-change"); err != nil {
		return t, false, err
	}
	t.Diatonic, err = transposeChild(e, "diatonic")
	return t, musicxml.ChildText(e, "diatonic") != "", err
}

// mostKeyShift is how far an interval in use, or its twin, moves a key at most: a
// tritone is six fifths, and the twin twelve.
const mostKeyShift = 18

// stepsAstray reports whether the letter steps cannot be meant: further from any
// plain interval of that many semitones than two twins are, as where an octave
// is in one number and not in the other. The semitones are what sounds.
func (t Transposition) stepsAstray() bool { return pitch.Abs(t.Interval().Fifths()) > mostKeyShift+12 }

// largestMove bounds what is believed of a <transpose>, in steps or semitones.
const largestMove = 120

// InUse reports whether some instrument might transpose so.
func (t Transposition) InUse() bool {
	return pitch.Abs(t.Interval().Fifths()) <= mostKeyShift && max(pitch.Abs(t.Diatonic), pitch.Abs(t.Chromatic), pitch.Abs(t.OctaveChange)) <= largestMove
}

func transposeChild(e *etree.Element, tag string) (int, error) {
	text := musicxml.ChildText(e, tag)
	if text == "" {
		return 0, nil
	}
	// chromatic is a decimal in the schema; a fraction would be no transposition
	// that a reader could undo by letter and sign.
	value, err := musicxml.ParseFraction(text)
	if err != nil || value.Den() != 1 || value.Num() > largestMove || value.Num() < -largestMove {
		return 0, fmt.Errorf("<%s> %q of a transposition is not a usable whole number", tag, text)
	}
	return int(value.Num()), nil
}

// stepsFor chooses the letter steps of a move by semitones: the plain interval
// of that size, and for a tritone the one that leaves the simpler signature.
func stepsFor(chromatic, fifths int) int {
	octaves := pitch.FloorDiv(chromatic, 12)
	within := chromatic - 12*octaves
	steps := [12]int{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6}[within]
	if within == 6 {
		fourth := pitch.Interval{Diatonic: 3, Chromatic: 6}.Fifths() + fifths
		fifth := pitch.Interval{Diatonic: 4, Chromatic: 6}.Fifths() + fifths
		if pitch.Abs(fifth) < pitch.Abs(fourth) {
			steps = 4
		}
	}
	return steps + 7*octaves
}

// Write fills a <transpose> element; octave-change only from an octave on
// (MusicXML 4.0, transpose).
func (t Transposition) Write(e *etree.Element) {
	musicxml.SetChildText(e, "diatonic", strconv.Itoa(t.Diatonic))
	musicxml.SetChildText(e, "chromatic", strconv.Itoa(t.Chromatic))
	if t.OctaveChange == 0 {
		musicxml.RemoveChildren(e, "octave-change")
		return
	}
	musicxml.SetChildText(e, "octave-change", strconv.Itoa(t.OctaveChange))
}
