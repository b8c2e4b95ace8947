package transpose

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// signature is a key as a reader sees it: what each letter gets.
type signature struct {
	element *etree.Element // the <key> it came from, nil before the first
	fifths  int
	// traditional is false for a key given tone by tone (key-step, key-alter).
	traditional bool
	hidden      bool // print-object="no": in force as music, not on the page
	// keyless: the source says no sharps or flats and mode "none", which is music
	// in no key. No player reads a signature then, and accidentals stand at the
	// notes (common practice, no source; the standard names the mode alone).
	keyless bool
	alters  [7]pitch.Alter
}

// readSignature reads a <key> element.
func readSignature(e *etree.Element) (signature, error) {
	s := signature{element: e, hidden: musicxml.Attr(e, "print-object") == "no"}
	k, err := music.ReadKey(e)
	switch {
	case err != nil:
		return s, err
	case k.Traditional:
		s.keyless = k.Fifths == 0 && musicxml.ChildText(e, "mode") == "none"
		return traditional(s, k.Fifths), nil
	}
	for _, t := range k.Tones {
		s.alters[t.Step] = t.Alter
	}
	return s, nil
}

func traditional(s signature, fifths int) signature {
	s.fifths, s.traditional = fifths, true
	for step := pitch.C; step <= pitch.B; step++ {
		s.alters[step] = pitch.Semitones(pitch.SignatureAlter(fifths, step))
	}
	return s
}

// moved returns the signature an interval away. All seven tones move, also
// those that the source leaves natural, as pitches without an octave.
func (s signature) moved(i pitch.Interval) signature {
	if s.keyless {
		return s
	}
	if s.traditional {
		return traditional(s, s.fifths+i.Fifths())
	}
	out := s
	for step := pitch.C; step <= pitch.B; step++ {
		p := i.Apply(pitch.Pitch{Step: step, Alter: s.alters[step], Octave: 4})
		out.alters[p.Step] = p.Alter
	}
	return out
}

// visible returns what the reader sees of the signature: nothing if it is hidden.
func (s *signature) visible() [7]pitch.Alter {
	if s.hidden {
		return [7]pitch.Alter{}
	}
	return s.alters
}

// writeSignature rewrites a <key> element for the signature moved by an
// interval. previous is the state whose signature it cancels, nil at the start of
// the part. What cannot be moved is reported in the second result.
func writeSignature(e *etree.Element, s signature, by pitch.Interval, previous *state) string {
	if s.traditional {
		musicxml.SetChildText(e, "fifths", strconv.Itoa(s.fifths))
		writeCancel(e, by, previous)
	} else {
		writeTones(e, s, by)
	}
	return moveKeyOctaves(e, by)
}

// writeCancel moves <cancel> as the signature that it cancels moves, so that it
// stays equal to it (MusicXML 4.0, cancel). The first signature of a part moves
// what its source cancelled by its own interval.
func writeCancel(e *etree.Element, by pitch.Interval, previous *state) {
	cancel := musicxml.Child(e, "cancel")
	if cancel == nil {
		return
	}
	fifths, err := strconv.Atoi(musicxml.Text(cancel))
	if err != nil {
		return
	}
	if previous != nil {
		by = previous.move
		if previous.key.keyless {
			by = pitch.Interval{}
		}
	}
	musicxml.SetText(cancel, strconv.Itoa(fifths+by.Fifths()))
}

// movedTones moves the tones of a non-traditional key: those that the source
// lists, in its order, then the others that the move alters, in the order of
// fifths. A tone that becomes natural is not listed, unless it was as one.
func (s signature) movedTones(source []music.Tone, by pitch.Interval) []music.Tone {
	var moved []music.Tone
	var listed [7]bool
	withSigns := false
	for _, t := range source {
		p := by.Apply(pitch.Pitch{Step: t.Step, Alter: t.Alter})
		to := music.Tone{Step: p.Step, Alter: p.Alter}
		if t.Sign != "" {
			withSigns = true
			to.Sign, _ = movedAccidental(t.Sign, t.Alter, p.Alter, true)
		}
		listed[p.Step] = true
		if to.Alter != 0 || t.Alter == 0 {
			moved = append(moved, to)
		}
	}
	for _, step := range pitch.BySharps() {
		if listed[step] || s.alters[step] == 0 {
			continue
		}
		t := music.Tone{Step: step, Alter: s.alters[step]}
		if withSigns {
			t.Sign, _ = accidentalFor(t.Alter, "")
		}
		moved = append(moved, t)
	}
	return moved
}

// writeTones rewrites a non-traditional key.
func writeTones(e *etree.Element, s signature, by pitch.Interval) {
	if by == pitch.Octaves(by.Diatonic/7) {
		return
	}
	source, _ := music.ReadKey(e) // it was read before
	tones := s.movedTones(source.Tones, by)
	musicxml.RemoveChildren(e, "key-step", "key-alter", "key-accidental")
	for _, t := range tones {
		e.CreateElement("key-step").SetText(t.Step.String())
		e.CreateElement("key-alter").SetText(t.Alter.String())
		if t.Sign != "" {
			e.CreateElement("key-accidental").SetText(t.Sign)
		}
	}
}

// moveKeyOctaves keeps <key-octave> where the move is by whole octaves and
// removes it otherwise: it fixes the octave of each sign, and the signs are
// others now.
func moveKeyOctaves(e *etree.Element, by pitch.Interval) string {
	octaves := musicxml.Children(e, "key-octave")
	if len(octaves) == 0 || by == (pitch.Interval{}) {
		return ""
	}
	if by == pitch.Octaves(by.Diatonic/7) {
		for _, o := range octaves {
			if n, err := strconv.Atoi(musicxml.Text(o)); err == nil {
				musicxml.SetText(o, strconv.Itoa(n+by.Diatonic/7))
			}
		}
		return ""
	}
	musicxml.RemoveChildren(e, "key-octave")
	return "the octaves that the score gave to single signs of its key signature do not fit the new one and were left out"
}

// keyOf makes a <key> of a number of fifths, to be read like any other.
func keyOf(fifths string) *etree.Element {
	e := etree.NewElement("key")
	musicxml.SetChildText(e, "fifths", fifths)
	return e
}
