package transpose

import (
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// largestFifths bounds what is believed of a signature. The schema sets no
// limit; past this no letter could be written with the signs that exist.
const largestFifths = 28

// signature is a key as a reader sees it: what each letter gets.
type signature struct {
	element *etree.Element // the <key> it came from, nil before the first
	fifths  int
	// traditional is false for a key given tone by tone (key-step, key-alter).
	traditional bool
	hidden      bool // print-object="no": in force as music, not on the page
	alters      [7]pitch.Alter
}

// readSignature reads a <key> element.
func readSignature(e *etree.Element) (signature, error) {
	s := signature{element: e, hidden: musicxml.Attr(e, "print-object") == "no"}
	if f := musicxml.Child(e, "fifths"); f != nil {
		n, err := strconv.Atoi(musicxml.Text(f))
		if err != nil || pitch.Abs(n) > largestFifths {
			return s, fmt.Errorf("key signature of %q fifths cannot be read", musicxml.Text(f))
		}
		return traditional(s, n), nil
	}
	step := pitch.Step(-1)
	for _, c := range e.ChildElements() {
		var err error
		switch c.Tag {
		case "key-step":
			step, err = pitch.ParseStep(musicxml.Text(c))
		case "key-alter":
			if step < 0 {
				return s, fmt.Errorf("<key-alter> without a <key-step> before it")
			}
			s.alters[step], err = pitch.ParseAlter(musicxml.Text(c))
		}
		if err != nil {
			return s, err
		}
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
	}
	musicxml.SetText(cancel, strconv.Itoa(fifths+by.Fifths()))
}

// tone is one altered tone of a non-traditional key, as it is listed.
type tone struct {
	step  pitch.Step
	alter pitch.Alter
	sign  string // text of <key-accidental>
}

// listedTones reads the tones of a non-traditional key in their order.
func listedTones(e *etree.Element) []tone {
	var tones []tone
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "key-step":
			step, _ := pitch.ParseStep(musicxml.Text(c)) // it was read before
			tones = append(tones, tone{step: step})
		case "key-alter":
			tones[len(tones)-1].alter, _ = pitch.ParseAlter(musicxml.Text(c))
		case "key-accidental":
			if len(tones) > 0 {
				tones[len(tones)-1].sign = musicxml.Text(c)
			}
		}
	}
	return tones
}

// movedTones moves the tones of a non-traditional key: those that the source
// lists, in its order, then the others that the move alters, in the order of
// fifths. A tone that becomes natural is not listed, unless it was as one.
func (s signature) movedTones(source []tone, by pitch.Interval) []tone {
	var moved []tone
	var listed [7]bool
	withSigns := false
	for _, t := range source {
		p := by.Apply(pitch.Pitch{Step: t.step, Alter: t.alter, Octave: 4})
		to := tone{step: p.Step, alter: p.Alter}
		if t.sign != "" {
			withSigns = true
			to.sign, _ = movedSign(t.sign, t.alter, p.Alter, true)
		}
		listed[p.Step] = true
		if to.alter != 0 || t.alter == 0 {
			moved = append(moved, to)
		}
	}
	for _, step := range [7]pitch.Step{pitch.F, pitch.C, pitch.G, pitch.D, pitch.A, pitch.E, pitch.B} {
		if listed[step] || s.alters[step] == 0 {
			continue
		}
		t := tone{step: step, alter: s.alters[step]}
		if withSigns {
			t.sign, _ = signFor(t.alter, "")
		}
		moved = append(moved, t)
	}
	return moved
}

// writeTones rewrites a non-traditional key.
func writeTones(e *etree.Element, s signature, by pitch.Interval) {
	if by.Diatonic%7 == 0 && by == pitch.Octaves(by.Diatonic/7) {
		return
	}
	tones := s.movedTones(listedTones(e), by)
	musicxml.RemoveChildren(e, "key-step", "key-alter", "key-accidental")
	at := 0
	for _, t := range tones {
		at = insertText(e, at, "key-step", t.step.String())
		at = insertText(e, at, "key-alter", t.alter.String())
		if t.sign != "" {
			at = insertText(e, at, "key-accidental", t.sign)
		}
	}
}

func insertText(e *etree.Element, at int, tag, text string) int {
	c := etree.NewElement(tag)
	c.SetText(text)
	e.InsertChildAt(at, c)
	return at + 1
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

func fifthsText(s signature) string { return strconv.Itoa(s.fifths) }

// ReadKey reads a <key>: its fifths (sharps positive), and whether it is a
// traditional signature; one given tone by tone counts no fifths.
func ReadKey(e *etree.Element) (fifths int, isTraditional bool, err error) {
	s, err := readSignature(e)
	return s.fifths, s.traditional, err
}
