package reading

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// reader goes through a part bar by bar and keeps what stays in force.
type reader struct {
	clock     clock
	staves    map[int]*staff
	ties      ties
	notes     []Note
	beatType  string
	beats     map[musicxml.Fraction]string // the names of onsets in a bar of that beat type
	signature signature                    // of staves that have none of their own
	transpose transposition                // of staves that have none of their own
}

// staff is what holds on one staff.
type staff struct {
	clef      clef
	signature signature
	transpose transposition
	lowered   map[string]int // octaves by which open octave lines lower the heads, by the line's number
	bar       signs
	before    signs // of the bar before, for reminders
}

// signs are the places that a sign was printed at, and what it makes of them: a bar has
// few.
type signs []signAt

type signAt struct {
	spot
	alter musicxml.Fraction
}

// at is what holds at a place.
func (s signs) at(place spot) (alter musicxml.Fraction, ok bool) {
	for i := range s {
		if s[i].spot == place {
			return s[i].alter, true
		}
	}
	return alter, false
}

// set puts a sign in force.
func (s *signs) set(place spot, alter musicxml.Fraction) {
	for i := range *s {
		if (*s)[i].spot == place {
			(*s)[i].alter = alter
			return
		}
	}
	*s = append(*s, signAt{place, alter})
}

// spot is a line or space with its octave.
type spot struct{ step, octave int }

func newReader() *reader {
	return &reader{clock: newClock(), staves: map[int]*staff{}, ties: ties{}, beats: map[musicxml.Fraction]string{}}
}

// staff returns a staff by its number, new where it has not been heard of.
func (r *reader) staff(number int) *staff {
	s := r.staves[number]
	if s == nil {
		s = &staff{clef: treble, signature: r.signature, transpose: r.transpose, lowered: map[string]int{}}
		r.staves[number] = s
	}
	return s
}

func (r *reader) measure(e *etree.Element, index int) error {
	for _, s := range r.staves {
		s.before, s.bar = s.bar, s.before[:0]
	}
	start := r.clock.start
	number := musicxml.Attr(e, "number")
	items, err := r.clock.measure(e)
	if err != nil {
		return r.locate(err, number, r.clock.now)
	}
	for len(items) > 0 {
		n := sameMoment(items)
		if items[0].rank == rankMark {
			err = r.mark(&items[0])
		} else {
			err = r.moment(items[:n], Note{MeasureIndex: index, Measure: number, Start: start})
		}
		if err != nil {
			return r.locate(err, number, items[0].onset)
		}
		items = items[n:]
	}
	return nil
}

// mostBeats bounds the names that are kept: a piece has some dozens.
const mostBeats = 1000

func (r *reader) locate(err error, measure string, onset musicxml.Fraction) error {
	return musicxml.Locate(err, musicxml.Error{Measure: measure, Beat: r.beat(onset)})
}

func (r *reader) beat(onset musicxml.Fraction) string {
	name, ok := r.beats[onset]
	if !ok {
		if len(r.beats) > mostBeats {
			clear(r.beats)
		}
		name = musicxml.BeatName(onset, r.beatType)
		r.beats[onset] = name
	}
	return name
}

// mark takes in attributes and octave lines.
func (r *reader) mark(it *item) error {
	if it.element.Tag == "direction" {
		r.octaveLines(it)
		return nil
	}
	for e := range it.element.ChildElementsSeq() {
		switch e.Tag {
		case "time":
			if beatType := musicxml.ChildText(e, "beat-type"); beatType != "" {
				r.beatType = beatType
				clear(r.beats)
			}
		case "clef":
			if musicxml.Attr(e, "additional") != "yes" {
				r.staff(numberOf(e, 1)).clef = readClef(e)
			}
		case "key":
			r.newSignature(e)
		case "transpose":
			if err := r.newTranspose(e); err != nil {
				return err
			}
		}
	}
	return nil
}

// newSignature puts a signature in force on one staff, or on all where it names
// none, and ends the signs before it.
func (r *reader) newSignature(e *etree.Element) {
	s := readSignature(e)
	if n := numberOf(e, 0); n > 0 {
		r.staff(n).renew(s, printed(e))
		return
	}
	r.signature = s
	for _, st := range r.staves {
		st.renew(s, printed(e))
	}
}

// renew puts a signature in force. One that nobody sees, and that changes nothing of what
// is seen, ends no sign.
func (s *staff) renew(sig signature, seen bool) {
	if seen || sig != s.signature {
		s.bar = s.bar[:0]
	}
	s.signature = sig
}

func (r *reader) newTranspose(e *etree.Element) error {
	t, err := readTransposition(e)
	if err != nil {
		return err
	}
	if n := numberOf(e, 0); n > 0 {
		r.staff(n).transpose = t
		return nil
	}
	r.transpose = t
	for _, st := range r.staves {
		st.transpose = t
	}
	return nil
}

// octaveLines opens and closes 8va lines. Type "down" is a printed 8va: the heads
// are lower than the notes (MusicXML 4.0, octave-shift).
func (r *reader) octaveLines(it *item) {
	for types := range musicxml.Each(it.element, "direction-type") {
		for e := range musicxml.Each(types, "octave-shift") {
			line := musicxml.Attr(e, "number")
			octaves := 1
			if n, err := strconv.Atoi(musicxml.Attr(e, "size")); err == nil {
				octaves = (n - 1) / 7
			}
			switch musicxml.Attr(e, "type") {
			case "down":
				r.staff(it.staff).lowered[line] = octaves
			case "up":
				r.staff(it.staff).lowered[line] = -octaves
			case "stop":
				delete(r.staff(it.staff).lowered, line)
			}
		}
	}
}

// lower is the sum of the octave lines in force.
func (s *staff) lower() int {
	sum := 0
	for _, octaves := range s.lowered {
		sum += octaves
	}
	return sum
}

func numberOf(e *etree.Element, absent int) int {
	if n, err := strconv.Atoi(musicxml.Attr(e, "number")); err == nil {
		return n
	}
	return absent
}
