package instruments

import "deskpart/transpose/pitch"

// A Query is what stands in a score about one of its parts, in the words of the
// score. What is not known is left empty.
type Query struct {
	Name            string         // part-name
	Display         string         // part-name-display, where it differs
	Abbreviation    string         // part-abbreviation
	Groups          []string       // names of the groups of parts that the part stands in, the nearest first
	InstrumentNames []string       // instrument-name of each score-instrument
	Sound           string         // instrument-sound, a standard sound id
	Program         int            // General MIDI program 1 to 128 of the playback, 0 for none
	Language        pitch.Language // of the score's names where known, decides what a plain B means
	Music           *Music         // nil where the notes have not been read
}

// Music is what the notes of a part tell of its instrument.
type Music struct {
	Clef    Clef            // that the part begins with, on its first staff; the zero Clef where none stands
	Lyrics  bool            // syllables stand under the notes
	Pitches *[128]int       // how often each MIDI note number is written
	Said    *pitch.Interval // what the part itself adds to written pitch, nil where it says nothing
}

// lyrics reports whether syllables stand under the notes, and whether that is known.
func (q *Query) lyrics() (sung, known bool) {
	if q.Music == nil || q.Music.notes() == 0 {
		return false, false
	}
	return q.Music.Lyrics, true
}

// clef is the one that the part begins with; false where that is not known.
func (q *Query) clef() (Clef, bool) {
	if q.Music == nil || q.Music.Clef.Sign == "" {
		return Clef{}, false
	}
	return q.Music.Clef, true
}

// said is the transposition of the part where it tells of a key, which a plain octave
// does not.
func (q *Query) said() *pitch.Interval {
	if q.Music == nil || q.Music.Said == nil || q.Music.Said.Chromatic%12 == 0 {
		return nil
	}
	return q.Music.Said
}

func (m *Music) notes() int {
	count := 0
	if m.Pitches != nil {
		for _, n := range m.Pitches {
			count += n
		}
	}
	return count
}

// inside returns the share of the notes that lie in the range of an instrument, in
// hundredths: as they sound where the part says its transposition, else as they
// sound or as the player reads them, whichever is more. It is false where the part
// has no notes or the instrument no range.
func (m *Music) inside(i *Instrument) (hundredths int, known bool) {
	r, ok := i.Range(Professional)
	all := m.notes()
	if !ok || all == 0 {
		return 0, false
	}
	by := 0
	if m.Said != nil {
		by = m.Said.Chromatic
	}
	sounding, written := 0, 0
	for midi, n := range m.Pitches {
		if r.Sounding.Contains(midi + by) {
			sounding += n
		}
		if m.Said == nil && r.Written.Contains(midi) {
			written += n
		}
	}
	return 100 * max(sounding, written) / all, true
}
