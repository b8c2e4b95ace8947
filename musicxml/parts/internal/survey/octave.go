package survey

// What tells whether a part for an octave instrument that says no <transpose> stands
// where its player reads it or where it sounds: an octave clef, strings and frets, and
// else the range of the notes.

// octaveFit is the share of notes, in tenths, that must lie in range as sounding,
// and half of which must not as written, for an octave instrument without
// <transpose> to be taken as sounding.
const octaveFit = 9

// LiesAsItSounds reports whether a part for an octave instrument says no octave and yet
// stands where only the sound can be meant, such as a double bass on low C, or a guitar
// whose frets say so. Under an octave clef and in tablature it is read as it sounds and
// may stay.
func (s *Part) LiesAsItSounds() bool {
	if len(s.Source) > 0 || s.Notes == 0 || s.ReadAsItSounds() {
		return false
	}
	if sounding, read := s.byFrets(); sounding != read {
		return sounding > read
	}
	return s.InSounding*10 >= s.Notes*octaveFit && s.InWritten*2 < s.Notes
}

// UnsaidOctave reports whether a part for an octave instrument says no octave and
// lies where its player reads it.
func (s *Part) UnsaidOctave() bool {
	in := s.Match.Instrument
	return in != nil && in.KeepsOctave() && in.Transposes() && len(s.Source) == 0 && s.ForPart == nil && s.Notes > 0 &&
		!s.LiesAsItSounds() && !s.ReadAsItSounds()
}

// ReadAsItSounds reports whether most notes of an octave instrument stand in tablature,
// or under a clef whose small 8 says the instrument's octave: what is written there
// sounds there.
func (s *Part) ReadAsItSounds() bool {
	in := s.Match.Instrument
	if in == nil || !in.KeepsOctave() || !in.Transposes() {
		return false
	}
	marked := s.facts.above
	if in.OctaveChange < 0 {
		marked = s.facts.below
	}
	return 2*(marked+s.facts.tab) > s.Notes
}

// byFrets counts the notes whose string and fret give the note as it is written, and
// those whose give it as it sounds when the instrument's player reads it.
func (s *Part) byFrets() (sounding, read int) {
	in := s.Match.Instrument
	if in == nil || len(s.facts.opens) == 0 {
		return 0, 0
	}
	strings := s.facts.strings
	if len(strings) == 0 {
		strings = map[int]int{}
		for k, p := range in.Tuning() {
			strings[k+1] = p.NoteNumber()
		}
	}
	for o, notes := range s.facts.opens {
		midi, known := strings[o.number]
		switch {
		case !known:
		case o.midi == midi:
			sounding += notes
		case o.midi == midi-in.Interval().Chromatic:
			read += notes
		}
	}
	return sounding, read
}
