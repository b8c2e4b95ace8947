package transpose

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// minOctave and maxOctave are what MusicXML 4.0 can write (octave: 0 to 9).
const minOctave, maxOctave = 0, 9

// ReadPitch reads a <pitch> element.
func ReadPitch(e *etree.Element) (pitch.Pitch, error) {
	var p pitch.Pitch
	var step, octave bool
	for _, token := range e.Child {
		c, ok := token.(*etree.Element)
		if !ok {
			continue
		}
		var err error
		switch c.Tag {
		case "step":
			p.Step, err = pitch.ParseStep(musicxml.Text(c))
			step = true
		case "alter":
			p.Alter, err = pitch.ParseAlter(musicxml.Text(c))
		case "octave":
			p.Octave, err = strconv.Atoi(musicxml.Text(c))
			if err != nil || p.Octave < minOctave || p.Octave > maxOctave {
				err = fmt.Errorf("octave %q is not one of 0 to 9", musicxml.Text(c))
			}
			octave = true
		}
		if err != nil {
			return pitch.Pitch{}, err
		}
	}
	if !step || !octave {
		return pitch.Pitch{}, errors.New("a <pitch> lacks its step or its octave")
	}
	return p, nil
}

// WritePitch writes p into a <pitch> element. An <alter> of 0 stays where the
// source had one and is not added where it had none.
func WritePitch(e *etree.Element, p pitch.Pitch) error {
	if p.Octave < minOctave || p.Octave > maxOctave {
		return fmt.Errorf("%s lies outside the octaves 0 to 9 that MusicXML can write", p)
	}
	musicxml.SetChildText(e, "step", p.Step.String())
	writeAlter(e, "alter", p.Alter)
	musicxml.SetChildText(e, "octave", digits[p.Octave:p.Octave+1])
	return nil
}

const digits = "0123456789"

// writeAlter sets an alteration child. It removes one that falls back to 0,
// unless it carries attributes that would be lost.
func writeAlter(e *etree.Element, tag string, a pitch.Alter) {
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
