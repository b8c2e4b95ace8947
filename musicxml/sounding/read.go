package sounding

import (
	"errors"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

var (
	errDivisions = errors.New("the divisions of a quarter note are not a number above 0")
	errDuration  = errors.New("a note without a usable duration")
)

// Read works out when a <part> sounds. It changes nothing in the tree. The error is a
// *musicxml.Error that names the measure.
func Read(part *etree.Element) (Times, error) {
	var t Times
	r := reader{divisions: musicxml.NewFraction(1, 1)}
	for measure := range musicxml.Each(part, "measure") {
		spans, err := r.measure(measure)
		number := musicxml.Attr(measure, "number")
		if err != nil {
			return Times{}, musicxml.Locate(err, musicxml.Error{Measure: number, Code: notice.NoMusic})
		}
		t.bars = append(t.bars, bar{number: number, beatType: r.beatType, spans: spans})
	}
	return t, nil
}

// reader keeps what holds from bar to bar.
type reader struct {
	divisions musicxml.Fraction // in one quarter note
	beatType  string
}

// measure lists the spans of one bar in which something sounds.
func (r *reader) measure(e *etree.Element) ([]span, error) {
	var spans []span
	var now musicxml.Fraction
	for child := range e.ChildElementsSeq() {
		if child.Space != "" {
			continue
		}
		var err error
		switch child.Tag {
		case "attributes":
			err = r.attributes(child)
		case "backup", "forward":
			now, err = r.move(child, now)
		case "note":
			var s span
			if s, now, err = r.note(child, now); s.from.Less(s.to) {
				spans = append(spans, s)
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return merged(spans), nil
}

func (r *reader) attributes(e *etree.Element) error {
	if text := musicxml.ChildText(e, "divisions"); text != "" {
		d, err := musicxml.ParseFraction(text)
		if err != nil || d.Sign() <= 0 {
			return errDivisions
		}
		r.divisions = d
	}
	if time := musicxml.Child(e, "time"); time != nil {
		r.beatType = musicxml.ChildText(time, "beat-type")
	}
	return nil
}

// move goes on, or back, by a duration.
func (r *reader) move(e *etree.Element, now musicxml.Fraction) (musicxml.Fraction, error) {
	length, err := r.duration(e)
	if e.Tag == "backup" {
		length = length.Neg()
	}
	return now.Add(length), err
}

// note returns when a note sounds, which is empty for one that does not, and where
// the next one begins. A chord note ends with the note that it stands with, or
// before it (MusicXML 4.0, chord).
func (r *reader) note(e *etree.Element, now musicxml.Fraction) (span, musicxml.Fraction, error) {
	var grace, chord, silent bool
	for child := range e.ChildElementsSeq() {
		switch child.Tag {
		case "grace":
			grace = true
		case "chord":
			chord = true
		case "rest", "cue":
			silent = true
		}
	}
	if grace || chord {
		return span{}, now, nil
	}
	length, err := r.duration(e)
	end := now.Add(length)
	if silent {
		return span{}, end, err
	}
	return span{now, end}, end, err
}

func (r *reader) duration(e *etree.Element) (musicxml.Fraction, error) {
	d, err := musicxml.ParseFraction(musicxml.ChildText(e, "duration"))
	if err != nil || d.Sign() < 0 {
		return musicxml.Fraction{}, errDuration
	}
	return d.Div(r.divisions), nil
}
