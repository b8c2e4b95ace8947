package explain

import (
	"errors"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Pair is a given note and its answer.
type Pair struct {
	Bar           int // index of the measure, from 0
	Measure, Beat string
	Onset         musicxml.Fraction // from the start of the bar, in quarter notes
	Start         musicxml.Fraction // from the start of the music
	Duration      musicxml.Fraction
	From, To      pitch.Pitch
	// FromSign and ToSign are the printed accidentals, "" for none.
	FromSign, ToSign string
	// FromFifths and ToFifths are the signatures in force, 0 where there is none.
	FromFifths, ToFifths int
	// TieStop is the end of a tie: it is not struck again.
	TieStop bool
	// Chord is a further note of a chord.
	Chord bool
}

// Raised is how many semitones the note lies above the note of its signature;
// flattened ones are negative. It survives the move.
func (p Pair) Raised() int {
	n, _ := (p.From.Alter - signatureAlter(p.FromFifths, p.From)).Whole()
	return n
}

// RaisedInAnswer is the same of the answer.
func (p Pair) RaisedInAnswer() int {
	n, _ := (p.To.Alter - signatureAlter(p.ToFifths, p.To)).Whole()
	return n
}

func signatureAlter(fifths int, p pitch.Pitch) pitch.Alter {
	return pitch.Semitones(pitch.SignatureAlter(fifths, p.Step))
}

var errPairs = errors.New("the answer has other notes than the question")

// pair puts the notes of a part and of its moved copy side by side.
func pair(given, answer *etree.Element) ([]Pair, error) {
	from, err := musicxml.NewTimeline(given)
	if err != nil {
		return nil, err
	}
	to, err := musicxml.NewTimeline(answer)
	if err != nil {
		return nil, err
	}
	a, err := readNotes(from)
	if err != nil {
		return nil, err
	}
	b, err := readNotes(to)
	if err != nil {
		return nil, err
	}
	if len(a) != len(b) {
		return nil, errPairs
	}
	pairs := make([]Pair, len(a))
	for i := range a {
		pairs[i] = a[i].Pair
		pairs[i].To, pairs[i].ToSign, pairs[i].ToFifths = b[i].From, b[i].FromSign, b[i].FromFifths
	}
	return pairs, nil
}

// readNote is a note of one part, as the given half of a Pair.
type readNote struct{ Pair }

// readNotes lists the pitched notes of a part in document order.
func readNotes(t *musicxml.Timeline) ([]readNote, error) {
	var notes []readNote
	fifths := 0
	for i := range t.Measures {
		m := &t.Measures[i]
		for k := range m.Events {
			ev := &m.Events[k]
			if ev.Kind == musicxml.Attributes {
				fifths = fifthsIn(ev.Element, fifths)
			}
			if ev.Kind != musicxml.Note || ev.Rest || ev.Cue {
				continue
			}
			n, ok, err := readPitched(m, ev)
			if err != nil {
				return nil, err
			}
			if ok {
				n.FromFifths = fifths
				notes = append(notes, n)
			}
		}
	}
	return notes, nil
}

func readPitched(m *musicxml.Measure, ev *musicxml.Event) (readNote, bool, error) {
	e := musicxml.Child(ev.Element, "pitch")
	if e == nil {
		return readNote{}, false, nil
	}
	p, err := transpose.ReadPitch(e)
	if err != nil {
		return readNote{}, false, &musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: notice.NoMusic, Err: err}
	}
	return readNote{Pair{
		Bar: m.Index, Measure: m.Number, Beat: m.Beat(ev.Onset), Onset: ev.Onset, Start: m.Start.Add(ev.Onset), Duration: ev.Duration,
		From: p, FromSign: musicxml.ChildText(ev.Element, "accidental"), TieStop: IsTied(ev.Element, "stop"), Chord: ev.Chord,
	}}, true, nil
}

// IsTied reports whether a note has that end of a tie.
func IsTied(note *etree.Element, end string) bool {
	for _, tie := range musicxml.Children(note, "tie") {
		if musicxml.Attr(tie, "type") == end {
			return true
		}
	}
	for _, notations := range musicxml.Children(note, "notations") {
		for _, tied := range musicxml.Children(notations, "tied") {
			if musicxml.Attr(tied, "type") == end {
				return true
			}
		}
	}
	return false
}

// fifthsIn is the signature after an <attributes>.
func fifthsIn(attributes *etree.Element, fifths int) int {
	for _, k := range musicxml.Children(attributes, "key") {
		if musicxml.Attr(k, "print-object") == "no" {
			fifths = 0
			continue
		}
		if n, traditional, err := transpose.ReadKey(k); err == nil && traditional {
			fifths = n
		}
	}
	return fifths
}

// KeyOf reads the key that a part begins with; false where it says none.
func KeyOf(part *etree.Element) (pitch.Key, bool) {
	for _, m := range musicxml.Children(part, "measure") {
		for _, a := range musicxml.Children(m, "attributes") {
			e := musicxml.Child(a, "key")
			if e == nil {
				continue
			}
			fifths, traditional, err := transpose.ReadKey(e)
			if err != nil || !traditional {
				return pitch.Key{}, false
			}
			mode := pitch.Mode(strings.ToLower(musicxml.ChildText(e, "mode")))
			if mode != pitch.Major && mode != pitch.Minor {
				mode = pitch.Unsaid
			}
			return pitch.Key{Fifths: fifths, Mode: mode}, true
		}
		break
	}
	return pitch.Key{}, false
}

// number reads a whole number, or gives the other one.
func number(text string, otherwise int) int {
	if n, err := strconv.Atoi(text); err == nil {
		return n
	}
	return otherwise
}
