package explain

import (
	"errors"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// Pair is a given note and its answer.
type Pair struct {
	Bar      int // index of the measure, from 0
	Measure  string
	Onset    musicxml.Fraction // from the start of the bar, in quarter notes
	Start    musicxml.Fraction // from the start of the music
	Duration musicxml.Fraction
	From, To pitch.Pitch
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
	a, err := readNotes(given)
	if err != nil {
		return nil, err
	}
	b, err := readNotes(answer)
	if err != nil {
		return nil, err
	}
	if len(a) != len(b) {
		return nil, errPairs
	}
	for i := range a {
		a[i].To, a[i].ToSign, a[i].ToFifths = b[i].From, b[i].FromSign, b[i].FromFifths
	}
	return a, nil
}

// readNotes lists the pitched notes of a part in document order, as the given halves of
// pairs.
func readNotes(element *etree.Element) ([]Pair, error) {
	part, err := music.ReadPart(element)
	if err != nil {
		return nil, err
	}
	var notes []Pair
	fifths := 0
	for i := range part.Measures {
		m := &part.Measures[i]
		for item := range m.Items() {
			for k := range item.Changes {
				fifths = fifthsAfter(&item.Changes[k], fifths)
			}
			if n := item.Note; n != nil && n.Pitched() && !n.Cue {
				notes = append(notes, Pair{
					Bar: m.Index, Measure: m.Number, Onset: n.Onset, Start: n.Start, Duration: n.Duration,
					From: n.Pitch, FromSign: n.Sign(), FromFifths: fifths, TieStop: n.Ties.Stop(), Chord: n.Chord,
				})
			}
		}
	}
	return notes, nil
}

// fifthsAfter is the printed signature after a change.
func fifthsAfter(c *music.Change, fifths int) int {
	switch {
	case c.Element.Tag != "key":
		return fifths
	case c.Hidden:
		return 0
	}
	if k, err := music.ReadKey(c.Element); err == nil && k.Traditional {
		return k.Fifths
	}
	return fifths
}

// KeyOf reads the key that a part begins with; false where it says none.
func KeyOf(part *etree.Element) (pitch.Key, bool) {
	keys := musicxml.Along(musicxml.Child(part, "measure"), "attributes", "key")
	if len(keys) == 0 {
		return pitch.Key{}, false
	}
	k, err := music.ReadKey(keys[0])
	return k.Key, err == nil && k.Traditional
}
