package reading

import (
	"errors"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Sound is one note as it is heard.
type Sound struct {
	MeasureIndex  int
	Measure, Beat string
	Onset         musicxml.Fraction // from the start of the bar, in quarter notes
	Duration      musicxml.Fraction // in quarter notes; 0 for a grace note
	MIDI          musicxml.Fraction // semitones, middle C is 60; not set for an unpitched note
	Pitch         Pitch             // spelled as it sounds; the display position of an unpitched note
	Staff         int
	Voice         string
	Grace         int // 0 for a full note; the place in its group of grace notes from 1
	Cue           bool
	Unpitched     bool
	Doubling      bool // the octave that a <double> adds to the note before it in the list
	TieStart      bool
	TieStop       bool
}

// Sounding returns what is heard when every note is played as <pitch> says, in
// the order of time.
func (p *Page) Sounding() []Sound {
	return p.AppendSounding(nil)
}

// AppendSounding adds to a list what Sounding returns.
func (p *Page) AppendSounding(list []Sound) []Sound {
	return p.sounds(list, func(n *Note) Pitch { return n.Written })
}

// SoundingAsRead returns what is heard when every note is played as a player
// reads it.
func (p *Page) SoundingAsRead() []Sound {
	return p.sounds(nil, func(n *Note) Pitch { return n.Read })
}

func (p *Page) sounds(list []Sound, choose func(*Note) Pitch) []Sound {
	list = slices.Grow(list, len(p.Notes))
	for i := range p.Notes {
		n := &p.Notes[i]
		s := n.sound(choose(n))
		list = append(list, s)
		if octaves := n.transpose.doubling; octaves != 0 && !s.Unpitched {
			s.Doubling = true
			s.Pitch.Octave += octaves
			s.MIDI = s.Pitch.MIDI()
			list = append(list, s)
		}
	}
	return list
}

func (n *Note) sound(played Pitch) Sound {
	s := Sound{
		MeasureIndex: n.MeasureIndex, Measure: n.Measure, Beat: n.Beat,
		Onset: n.Onset, Duration: n.Duration, Staff: n.Staff, Voice: n.Voice,
		Grace: n.Grace, Cue: n.Cue, Unpitched: n.Unpitched,
		TieStart: n.TieStart, TieStop: n.TieStop, Pitch: played,
	}
	if !n.Unpitched {
		s.Pitch = n.transpose.sounding(played)
		s.MIDI = s.Pitch.MIDI()
	}
	return s
}

// transposition is a <transpose>: what is added to written pitch to get sounding
// pitch, its octaves folded in.
type transposition struct {
	steps     int               // letter steps
	semitones musicxml.Fraction // may be a fraction for microtonal instruments
	doubling  int               // octaves from the sounding note to its doubling; 0 for none
}

// sounding adds the semitones and then spells the result on the letter that lies
// that many steps away.
func (t transposition) sounding(written Pitch) Pitch {
	sound := pitchAt(written.place() + t.steps)
	sound.Alter = written.MIDI().Add(t.semitones).Sub(sound.MIDI())
	return sound
}

var errTranspose = errors.New("a <transpose> that is not a number of semitones")

// usualSteps are the letter steps of an interval of 0 to 11 semitones where a
// <transpose> names none; the tritone is taken as a fourth.
var usualSteps = [12]int{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6}

// readTransposition reads a <transpose>. An octave-change is an octave up for each
// one; <double> adds the octave below, or above with above="yes".
func readTransposition(e *etree.Element) (transposition, error) {
	chromatic, err := readAlter(musicxml.ChildText(e, "chromatic"))
	if err != nil {
		return transposition{}, errTranspose
	}
	octaves, octavesErr := wholeNumber(musicxml.ChildText(e, "octave-change"), 0)
	steps, stepsErr := wholeNumber(musicxml.ChildText(e, "diatonic"), stepsOf(chromatic))
	if octavesErr != nil || stepsErr != nil {
		return transposition{}, errTranspose
	}
	t := transposition{steps: steps + 7*octaves, semitones: chromatic.Add(whole(int64(12 * octaves)))}
	if double := musicxml.Child(e, "double"); double != nil {
		t.doubling = -1
		if musicxml.Attr(double, "above") == "yes" {
			t.doubling = 1
		}
	}
	return t, nil
}

func stepsOf(chromatic musicxml.Fraction) int {
	n := int(chromatic.Num() / chromatic.Den())
	if n < 0 {
		return -(7*(-n/12) + usualSteps[-n%12])
	}
	return 7*(n/12) + usualSteps[n%12]
}

// wholeNumber reads a small whole number; absent stands for no text.
func wholeNumber(text string, absent int) (int, error) {
	if text == "" {
		return absent, nil
	}
	n, err := strconv.Atoi(text)
	if err == nil && (n < -100 || n > 100) {
		err = errTranspose
	}
	return n, err
}
