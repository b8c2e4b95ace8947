package staff

import (
	"deskpart/instruments"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// CheckRange warns of notes that the instrument does not have: once a bar at
// most, at the first such note. level says whose ranges count.
func (p *Page) CheckRange(d *draft.Draft, level instruments.Level) error {
	s := &rangeCheck{d, level}
	said, err := transpose.Stretches(s.Timeline)
	if err != nil {
		return err
	}
	warned := -1
	var c compassRead
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.measure == warned || !n.head() || n.Unpitched() || n.Event.Cue {
			continue
		}
		if in := s.InstrumentAt(n.At()); in != c.instrument {
			c = s.compassOf(in)
		}
		sound, known := c.heldAgainst(n, said)
		if known && (sound < c.low.NoteNumber() || sound > c.high.NoteNumber()) && !draft.IsHarmonic(n.Event.Element) {
			s.warnRange(n, sound < c.low.NoteNumber(), c)
			warned = n.measure
		}
	}
	return nil
}

// rangeCheck holds notes against what players of a level have.
type rangeCheck struct {
	*draft.Draft
	level instruments.Level
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
func (s *rangeCheck) compassOf(in *instruments.Instrument) compassRead {
	c := compassRead{instrument: in}
	if in == nil || in.Flags.Unpitched {
		return c
	}
	r, ok := in.Range(s.level)
	if !ok {
		return c
	}
	c.low, c.high, c.known = r.Sounding.Low, r.Sounding.High, true
	unsaid := in.KeepsOctave() && in.Transposes() && s.Report.Transpose == (transpose.Transposition{}) && !s.Survey.ReadAsItSounds()
	if unsaid && (in != s.Assignment.Instrument || s.Survey.InWritten >= s.Survey.InSounding) {
		c.low, c.high, c.written = r.Written.Low, r.Written.High, true
	}
	return c
}

// heldAgainst returns the MIDI number that is held against the range. It is
// unknown where the part says another transposition than the instrument's, for
// then it is not known what is played.
func (c *compassRead) heldAgainst(n *Note, said []transpose.Stretch) (int, bool) {
	if !c.known {
		return 0, false
	}
	now := transpose.SaidAt(said, n.At(), n.Event.Staff).Interval()
	own := c.instrument.Interval().Chromatic
	switch {
	case c.written:
		return n.Sound, now == pitch.Interval{}
	case now.Chromatic == own, c.instrument.OctaveOnly() && now.Chromatic%12 == 0:
		return n.Sound + now.Chromatic, true
	}
	return 0, false
}

func (s *rangeCheck) warnRange(n *Note, below bool, c compassRead) {
	code, where, limit := notice.AboveRange, "above", c.high
	if below {
		code, where, limit = notice.BelowRange, "below", c.low
	}
	if !c.written {
		limit = c.instrument.Interval().Negate().Apply(limit)
	}
	pitch, err := music.ReadPitch(n.Pitch)
	if err != nil {
		return
	}
	s.WarnAt(n.At(), code, "written %v lies %s the range of %s, which ends at written %v", pitch, where, c.instrument.Label("en", ""), limit)
}
