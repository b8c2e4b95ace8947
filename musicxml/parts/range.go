package parts

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// checkRange warns of notes that the instrument does not have: once a bar at
// most, at the first such note.
func (s *sheet) checkRange() error {
	said, err := transpose.Stretches(s.timeline)
	if err != nil {
		return err
	}
	warned := -1
	var c compassRead
	for i := range s.page.notes {
		n := &s.page.notes[i]
		if n.measure == warned || !n.head() || n.unpitched() || n.event.Cue {
			continue
		}
		if in := s.instrumentAt(n.at()); in != c.instrument {
			c = s.compassOf(in)
		}
		sound, known := c.heldAgainst(n, said)
		if known && (sound < c.low.NoteNumber() || sound > c.high.NoteNumber()) && !isHarmonic(n.event.Element) {
			s.warnRange(n, sound < c.low.NoteNumber(), c)
			warned = n.measure
		}
	}
	return nil
}

// compassRead is the range that the notes are held against.
type compassRead struct {
	instrument *instruments.Instrument
	low, high  pitch.Pitch
	known      bool
	written    bool // as read, for a part that does not say its octave
}

// compassOf is the range of an instrument at the players' level. A part for an
// octave instrument that says no octave is read as its player reads it, unless
// its notes lie where the instrument sounds.
func (s *sheet) compassOf(in *instruments.Instrument) compassRead {
	c := compassRead{instrument: in}
	if in == nil || in.Flags.Unpitched {
		return c
	}
	r, ok := in.Range(s.options.level())
	if !ok {
		return c
	}
	c.low, c.high, c.known = r.Sounding.Low, r.Sounding.High, true
	unsaid := in.OctaveOnly() && in.Transposes() && s.report.Transpose == (transpose.Transposition{})
	if unsaid && (in != s.assignment.Instrument || s.survey.inWritten >= s.survey.inSounding) {
		c.low, c.high, c.written = r.Written.Low, r.Written.High, true
	}
	return c
}

// heldAgainst returns the MIDI number that is held against the range. It is
// unknown where the part says another transposition than the instrument's, for
// then it is not known what is played.
func (c *compassRead) heldAgainst(n *staffNote, said []transpose.Stretch) (int, bool) {
	if !c.known {
		return 0, false
	}
	var now pitch.Interval
	for i := range said {
		t := &said[i]
		if (t.Staff == 0 || t.Staff == n.event.Staff) && (point{t.Measure, t.Onset}).compare(n.at()) <= 0 {
			now = t.To.Interval()
		}
	}
	own := c.instrument.Interval().Chromatic
	switch {
	case c.written:
		return n.sound, now == pitch.Interval{}
	case now.Chromatic == own, c.instrument.OctaveOnly() && now.Chromatic%12 == 0:
		return n.sound + now.Chromatic, true
	}
	return 0, false
}

// isHarmonic reports whether a note is a harmonic, which sounds elsewhere.
func isHarmonic(note *etree.Element) bool {
	return musicxml.Descend(note, "notations", "technical", "harmonic") != nil
}

func (s *sheet) warnRange(n *staffNote, below bool, c compassRead) {
	code, where, limit := notice.AboveRange, "above", c.high
	if below {
		code, where, limit = notice.BelowRange, "below", c.low
	}
	if !c.written {
		limit = c.instrument.Interval().Negate().Apply(limit)
	}
	pitch, err := transpose.ReadPitch(n.pitch)
	if err != nil {
		return
	}
	m := &s.timeline.Measures[n.measure]
	s.warn(musicxml.Warning{Code: code, Measure: m.Number, Beat: m.Beat(n.event.Onset),
		Text: fmt.Sprintf("written %v lies %s the range of %s, which ends at written %v", pitch, where, c.instrument.Label("en", ""), limit)})
}
