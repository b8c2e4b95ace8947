package octaves

import "deskpart/instruments"

// Compass is what an instrument has, as MIDI numbers of what sounds.
type Compass struct {
	Low, High                       int // the notes that it has at all: law
	ExpectedLow, ExpectedHigh       int // those that its players are expected to have
	ComfortableLow, ComfortableHigh int
	WritableLow, WritableHigh       int // those that can be written down for it
}

// The MIDI numbers of C#0 and of Bb9, between which MusicXML can write a note,
// whatever its sign.
const lowestWritable, highestWritable = 13, 130

// CompassOf is that of an instrument for players of a level. It has none where no
// range of it is known.
func CompassOf(in *instruments.Instrument, level instruments.Level) (Compass, bool) {
	expected, ok := in.Range(level)
	if !ok {
		return Compass{}, false
	}
	physical := expected
	if full, ok := in.Range(instruments.Professional); ok {
		physical = full
	}
	down := in.Interval().Chromatic
	p, e := &physical.Sounding, &expected.Sounding
	return Compass{
		Low: min(p.Low.NoteNumber(), e.Low.NoteNumber()), High: max(p.High.NoteNumber(), e.High.NoteNumber()),
		ExpectedLow: e.Low.NoteNumber(), ExpectedHigh: e.High.NoteNumber(),
		ComfortableLow: e.ComfortableLow.NoteNumber(), ComfortableHigh: e.ComfortableHigh.NoteNumber(),
		WritableLow: lowestWritable + down, WritableHigh: highestWritable + down,
	}, true
}

// beyond counts the semitones by which a note lies out of a range.
func beyond(sound, low, high int) int { return max(0, low-sound, sound-high) }

// Has reports whether the instrument has a note.
func (c *Compass) Has(sound int) bool { return beyond(sound, c.Low, c.High) == 0 }

// Expects reports whether players of the level are expected to have a note.
func (c *Compass) Expects(sound int) bool { return beyond(sound, c.ExpectedLow, c.ExpectedHigh) == 0 }

// Comfortable reports whether a note lies well.
func (c *Compass) Comfortable(sound int) bool {
	return beyond(sound, c.ComfortableLow, c.ComfortableHigh) == 0
}
