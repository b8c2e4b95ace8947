package instruments

import "deskpart/transpose/pitch"

// Level is whose ranges are meant.
type Level string

// The levels of players that ranges are given for.
const (
	Professional Level = "professional"
	School       Level = "school" // young players; a guide, their teacher decides
)

// Levels lists them, the default first.
func Levels() []Level { return []Level{Professional, School} }

// A Compass is what lies between two notes: everything that can be played, and
// within it what is comfortable.
type Compass struct {
	Low, High                       pitch.Pitch
	ComfortableLow, ComfortableHigh pitch.Pitch
}

// Contains reports whether a MIDI note number lies within the full compass.
func (c Compass) Contains(midi int) bool {
	return c.Low.NoteNumber() <= midi && midi <= c.High.NoteNumber()
}

// Comfortable reports whether a MIDI note number lies within the comfortable part.
func (c Compass) Comfortable(midi int) bool {
	return c.ComfortableLow.NoteNumber() <= midi && midi <= c.ComfortableHigh.NoteNumber()
}

func (c Compass) moved(by pitch.Interval) Compass {
	return Compass{
		Low:             by.Apply(c.Low),
		High:            by.Apply(c.High),
		ComfortableLow:  by.Apply(c.ComfortableLow),
		ComfortableHigh: by.Apply(c.ComfortableHigh),
	}
}

// A Range is an instrument's compass for players of one level, as they read it and
// as it sounds.
type Range struct {
	Level      Level
	Grade      string // of a school range, "0.5" to "2"; "" where not known
	Written    Compass
	Sounding   Compass
	Source     string
	Confidence string // "published", "memory" or "derived"
	Note       string
}

// Range returns the instrument's range for a level. Of several school ranges it is
// that of the highest grade; where the catalogue has no school range, it is the
// comfortable part of the professional one, marked "derived". The second result
// is false where the instrument has no pitch to be in range.
func (i *Instrument) Range(level Level) (Range, bool) {
	var found *Range
	for n := range i.ranges {
		if r := &i.ranges[n]; r.Level == level && (found == nil || r.Grade > found.Grade) {
			found = r
		}
	}
	if found != nil {
		return *found, true
	}
	if level == School {
		return i.comfortable()
	}
	return Range{}, false
}

// Ranges returns all ranges of the instrument, as the catalogue orders them.
func (i *Instrument) Ranges() []Range {
	return append([]Range(nil), i.ranges...)
}

// comfortable is the school range of an instrument that no school table lists.
func (i *Instrument) comfortable() (Range, bool) {
	r, ok := i.Range(Professional)
	if !ok {
		return r, false
	}
	r.Level, r.Confidence = School, "derived"
	r.Source = "comfortable part of the professional range; " + r.Source
	r.Written = onlyComfortable(r.Written)
	r.Sounding = onlyComfortable(r.Sounding)
	return r, true
}

func onlyComfortable(c Compass) Compass {
	c.Low, c.High = c.ComfortableLow, c.ComfortableHigh
	return c
}
