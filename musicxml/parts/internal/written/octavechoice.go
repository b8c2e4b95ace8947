package written

import (
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/octaves"
	"deskpart/transpose"
)

// bestOctaves chooses the octaves of all phrases together, as they suit the player's
// instrument. The first holds from the first bar on, rests and all. An edition, which
// whoever comes is to play, keeps to what lies well and to one octave where that has all
// the notes.
func (s *writer) bestOctaves(source []transpose.Stretch) ([]draft.OctaveChange, error) {
	compass, ok := octaves.CompassOf(s.Assignment.Instrument, s.o.Level)
	if !ok {
		return nil, nil
	}
	part, err := music.Read(s.Timeline)
	if err != nil {
		return nil, err
	}
	phrases, places := octaves.MarksOf(part).Cut(lineOf(part, source))
	if s.Assignment.Edition != "" {
		compass.ExpectedLow, compass.ExpectedHigh = compass.ComfortableLow, compass.ComfortableHigh
		if octave, ok := octaves.Whole(phrases, compass); ok {
			return s.oneOctave(octave), nil
		}
	}
	var changes []draft.OctaveChange
	last := 0
	for i, octave := range octaves.Choose(phrases, compass) {
		if octave != last && i == 0 {
			changes = append(changes, draft.OctaveChange{Octave: octave})
		} else if octave != last {
			changes = append(changes, draft.OctaveChange{At: places[i], Octave: octave})
		}
		last = octave
	}
	return s.named(changes), nil
}

// lineOf is the part's pitched notes as they sound in the score, cue notes left out.
func lineOf(part *music.Part, source []transpose.Stretch) []octaves.Note {
	var line []octaves.Note
	for i := range part.Notes {
		n := &part.Notes[i]
		if !n.Pitched() || n.Cue || !n.Struck() && !n.TiedFrom.Cue {
			continue
		}
		at := musicxml.Position{Measure: n.Measure, Onset: n.Onset}
		line = append(line, octaves.Note{At: at, Start: n.Start, End: n.Start.Add(n.Held()),
			Sound: transpose.SaidAt(source, at, n.Staff).Interval().Apply(n.Pitch).NoteNumber(), Elsewhere: draft.IsHarmonic(n.Element)})
	}
	return line
}
