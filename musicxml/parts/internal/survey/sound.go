package survey

import (
	"fmt"

	"deskpart/instruments"
	"deskpart/musicxml/hearing"
	"deskpart/transpose/pitch"
)

// byEar tells by the sound how the silent parts are to be read.
func (c *Score) byEar(ear *hearing.Ear) verdict {
	var parts []*hearing.Part
	var written hearing.Shifts
	for i := range c.Parts {
		if s := &c.Parts[i]; s.heard() {
			parts, written = append(parts, &s.Sound), append(written, s.shiftIfWritten())
		}
	}
	told := ear.Prefer(parts, written, make(hearing.Shifts, len(parts)))
	switch {
	case told.Clear():
		return earVerdict(Written, told.First, told.Second, told.Evidence)
	case told.Opposite().Clear():
		return earVerdict(Concert, told.Second, told.First, told.Evidence.Opposite())
	case told.Leans():
		return verdict{reading: Written, why: "the parts seem to sound together so"}
	case told.Opposite().Leans():
		return verdict{reading: Concert, why: "the parts seem to sound together so"}
	}
	return verdict{}
}

func earVerdict(reading Input, better, worse float64, e hearing.Evidence) verdict {
	return verdict{reading: reading, clear: true, certain: e.Certain(),
		why: fmt.Sprintf("the parts sound together so (consonance %.2f, read otherwise %.2f)", better, worse)}
}

// heard reports whether the part is listened to. Kettledrums are not: old scores write
// them in C and G, whatever they are tuned to.
func (s *Part) heard() bool {
	return s.Notes > 0 && (s.Match.Instrument == nil || s.Match.Instrument.Group != instruments.Percussion)
}

// shiftIfWritten is what is added to the part's Sound, in semitones, if silent parts
// are in written pitch.
func (s *Part) shiftIfWritten() int {
	if s.silent() {
		return s.Match.Instrument.Interval().Chromatic
	}
	return 0
}

// listen hears each part that may be transposed otherwise at all twelve shifts against
// the rest.
func (c *Score) listen(ear *hearing.Ear) {
	var parts []hearing.Heard
	var place []int
	doubtful := false
	for i := range c.Parts {
		s := &c.Parts[i]
		if !s.heard() {
			continue
		}
		h := hearing.Heard{Part: &s.Sound, Kin: s.kin(), Sure: !s.mayTranspose()}
		if c.Reading.Silent == Written {
			h.Shift = s.shiftIfWritten()
		}
		parts, place = append(parts, h), append(place, i)
		doubtful = doubtful || !h.Sure
	}
	if !doubtful {
		return
	}
	for _, d := range ear.Doubts(parts) {
		s := &c.Parts[place[d.Part]]
		s.Doubt = c.question(s, d.Shift, parts[d.Part].Shift+d.Shift)
	}
}

// kin names the parts that stand or fall together: those of one instrument.
func (s *Part) kin() string {
	if s.Match.Instrument == nil {
		return ""
	}
	return s.Match.Instrument.ID
}

// mayTranspose reports whether the part's transposition can be doubted: it says one, it
// is for a wind instrument, or for what nobody knows. Voices, strings and keyboards
// sound as they stand.
func (s *Part) mayTranspose() bool {
	in := s.Match.Instrument
	return s.Declared() || in == nil || Transposes(in) || in.IsWind()
}

// otherOfKind finds an instrument of the part's kind that sounds so many semitones away
// from what is written, whatever the octave.
func (c *Score) otherOfKind(s *Part, shift int) *instruments.Instrument {
	if s.Match.Instrument == nil {
		return nil
	}
	var said int
	if len(s.Source) > 0 {
		said = s.Source[0].To.Interval().Chromatic
	}
	for _, in := range c.Catalogue.All() {
		if in.Kind == s.Match.Instrument.Kind && !in.Flags.Rare && (in.Interval().Chromatic-said-shift)%12 == 0 {
			return in
		}
	}
	return nil
}

// question says by how much the part would sound elsewhere, and asks what is meant:
// an instrument of its kind that sounds so many semitones from what is written, or the
// transposition that it says.
func (c *Score) question(s *Part, shift, sounding int) string {
	text := "the part would sound right with the others " + movedWords(intervalOf(shift))
	switch in := c.otherOfKind(s, sounding); {
	case in != nil:
		return text + ": is it written for " + in.Label("en", "") + "?"
	case len(s.Source) > 0:
		return text + ": is its transposition right?"
	}
	return text + ": is it in written pitch, or for another instrument?"
}

// intervalOf names −6 to 6 semitones.
func intervalOf(semitones int) pitch.Interval {
	if semitones < 0 {
		return intervalOf(-semitones).Negate()
	}
	return pitch.Interval{Diatonic: usualSteps[semitones], Chromatic: semitones}
}

// usualSteps are the letter steps of 0 to 6 semitones.
var usualSteps = [...]int{0, 1, 1, 2, 2, 3, 3}
