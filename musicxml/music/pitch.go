package music

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// MinOctave and MaxOctave are what MusicXML 4.0 can write (octave).
const MinOctave, MaxOctave = 0, 9

var (
	errNoPitch = errors.New("a <pitch> lacks its step or its octave")
	errNoHead  = errors.New("a note is neither pitch, stroke nor rest")
)

// ReadPitch reads a <pitch> element.
func ReadPitch(e *etree.Element) (pitch.Pitch, error) {
	p, said, err := readPitch(e)
	if err == nil && !said {
		err = errNoPitch
	}
	return p, err
}

// PitchOf reads the pitch of a <note> and nothing else of it; pitched is false for a rest
// and a stroke without pitch.
func PitchOf(note *etree.Element) (p pitch.Pitch, pitched bool, err error) {
	if e := musicxml.Child(note, "pitch"); e != nil {
		p, err = ReadPitch(e)
		return p, true, err
	}
	if musicxml.Child(note, "unpitched") == nil && musicxml.Child(note, "rest") == nil {
		err = errNoHead
	}
	return p, false, err
}

// ReadShown reads where an <unpitched> or <rest> says that it is shown; said is false
// where it says nothing, or nothing that can be read.
func ReadShown(e *etree.Element) (p pitch.Pitch, said bool) {
	p, said, err := readPitch(e)
	return p, said && err == nil
}

// readPitch reads step, alteration and octave, or the place that an <unpitched> or
// <rest> is shown at, and whether step and octave are there.
func readPitch(e *etree.Element) (p pitch.Pitch, said bool, err error) {
	var step, octave bool
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "step", "display-step":
			p.Step, err = pitch.ParseStep(musicxml.Text(c))
			step = true
		case "alter":
			p.Alter, err = pitch.ParseAlter(musicxml.Text(c))
		case "octave", "display-octave":
			p.Octave, err = readOctave(musicxml.Text(c))
			octave = true
		}
		if err != nil {
			return pitch.Pitch{}, false, err
		}
	}
	return p, step && octave, nil
}

func readOctave(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < MinOctave || n > MaxOctave {
		return 0, fmt.Errorf("octave %q is not one of 0 to 9", text)
	}
	return n, nil
}

// WritePitch writes p into a <pitch> element. An <alter> of 0 stays where the
// source had one and is not added where it had none.
func WritePitch(e *etree.Element, p pitch.Pitch) error {
	if p.Octave < MinOctave || p.Octave > MaxOctave {
		return fmt.Errorf("%s lies outside the octaves 0 to 9 that MusicXML can write", p)
	}
	musicxml.SetChildText(e, "step", p.Step.String())
	WriteAlter(e, "alter", p.Alter)
	musicxml.SetChildText(e, "octave", digits[p.Octave:p.Octave+1])
	return nil
}

const digits = "0123456789"

// WriteAlter sets an alteration child of that name. It removes one that falls back
// to 0, unless it carries attributes that would be lost.
func WriteAlter(e *etree.Element, tag string, a pitch.Alter) {
	c := musicxml.Child(e, tag)
	switch {
	case c == nil && a == 0:
	case c == nil:
		musicxml.SetChildText(e, tag, a.String())
	case a == 0 && len(c.Attr) == 0 && !says(c, 0):
		e.RemoveChild(c)
	case !says(c, a):
		musicxml.SetText(c, a.String())
	}
}

// says reports whether an element's text is that alteration, however written.
func says(e *etree.Element, a pitch.Alter) bool {
	is, err := pitch.ParseAlter(musicxml.Text(e))
	return err == nil && is == a
}
