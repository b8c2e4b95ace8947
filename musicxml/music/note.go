package music

import (
	"cmp"
	"iter"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Note is a <note>: a note, a rest, or one head of a chord. Its place in time, its
// voice and staff, and whether it is a rest, a chord note, a grace or a cue note are
// its event's.
type Note struct {
	*musicxml.Event

	// Head is the <pitch>, <unpitched> or <rest>; nil where the note has none.
	Head *etree.Element
	// Pitch is the written pitch; of an unpitched note or a rest the place that it is
	// shown at. Without one it stands on the middle line, as in treble clef
	// (MusicXML 4.0, unpitched).
	Pitch     pitch.Pitch
	Unpitched bool // it is a stroke without pitch
	Placed    bool // an unpitched note or a rest says where it is shown

	Ties Ties

	// What else stands in the note; nil where it is absent.
	Accidental, Type, TimeModification, Stem, Notehead *etree.Element
	// Notations is the first <notations>, Beam the first <beam>, Lyric the first
	// <lyric>.
	Notations, Beam, Lyric *etree.Element

	Dots   int
	Hidden bool // it is not printed

	// What follows is known of the notes of a part.

	Measure int               // index, from 0
	Start   musicxml.Fraction // from the start of the piece
	// By is what is added to the written pitch to get the sounding one.
	By pitch.Interval
	// GraceOrder is the place among the grace notes of its voice that lead to one note,
	// from 1, the notes of a chord counting as one; 0 for a full note.
	GraceOrder int
	// Marks are what stands at the note, in document order.
	Marks []Mark
	// TiedFrom is held into this note, which is held into TiedTo; nil for none.
	TiedFrom, TiedTo *Note
}

// middleLine is B4, where a note without a place of its own stands.
var middleLine = pitch.Pitch{Step: pitch.B, Octave: 4}

// ReadNote reads a <note> of a part that is laid out in time. What is known of the
// notes of a whole part alone (its start, ties, marks and transposition) is empty.
// The error is that of a pitch that cannot be read, without its place.
func ReadNote(ev *musicxml.Event) (Note, error) {
	n := Note{Event: ev, Pitch: middleLine, Hidden: hidden(ev.Element)}
	for _, token := range ev.Element.Child {
		e, ok := token.(*etree.Element)
		if !ok || e.Space != "" {
			continue
		}
		if err := n.child(e); err != nil {
			return n, err
		}
	}
	return n, nil
}

// child takes up one child of the note.
func (n *Note) child(e *etree.Element) (err error) {
	switch e.Tag {
	case "pitch":
		n.Head = e
		n.Pitch, err = ReadPitch(e)
	case "unpitched":
		n.Head, n.Unpitched = e, true
		n.shown(e)
	case "rest":
		n.Head = e
		n.shown(e)
	case "tie":
		n.Ties.Add(e)
	case "type":
		n.Type = e
	case "dot":
		n.Dots++
	case "accidental":
		n.Accidental = e
	case "time-modification":
		n.TimeModification = e
	case "stem":
		n.Stem = e
	case "notehead":
		n.Notehead = e
	case "beam":
		n.Beam = cmp.Or(n.Beam, e)
	case "lyric":
		n.Lyric = cmp.Or(n.Lyric, e)
	case "notations":
		n.Notations = cmp.Or(n.Notations, e)
		for _, token := range e.Child {
			if tied, ok := token.(*etree.Element); ok && tied.Tag == "tied" {
				n.Ties.Add(tied)
			}
		}
	}
	return err
}

// shown reads where an unpitched note or a rest stands. A place that cannot be read
// is none: nothing sounds otherwise for it.
func (n *Note) shown(e *etree.Element) {
	if p, said := ReadShown(e); said {
		n.Pitch, n.Placed = p, true
	}
}

// Pitched reports whether the note has a pitch: it is neither a rest nor a stroke.
func (n *Note) Pitched() bool { return n.Head != nil && !n.Rest && !n.Unpitched }

// Sounds reports whether something is heard: rests and cue notes are silent.
func (n *Note) Sounds() bool { return !n.Rest && !n.Cue }

// Sounding is the pitch that is heard, by the transposition in force.
func (n *Note) Sounding() pitch.Pitch { return n.By.Apply(n.Pitch) }

// End is where the note ends, from the start of the piece.
func (n *Note) End() musicxml.Fraction { return n.Start.Add(n.Duration) }

// Small reports whether the note is printed at cue size (MusicXML 4.0, cue, type,
// symbol-size).
func (n *Note) Small() bool {
	if n.Type != nil {
		switch musicxml.Attr(n.Type, "size") {
		case "cue", "grace-cue":
			return true
		case "full", "large":
			return false
		}
	}
	return n.Cue
}

// WholeBar reports whether it is a rest that the file says is for the whole bar.
func (n *Note) WholeBar() bool {
	return n.Rest && musicxml.Attr(n.Head, "measure") == "yes"
}

// Sign is the printed accidental's name, "" for none.
func (n *Note) Sign() string { return musicxml.Text(n.Accidental) }

// Beams goes through the levels of beams at the note, from 1, the eighth notes'
// beam, and what each does there: "begin", "continue", "end" and the hooks.
func (n *Note) Beams() iter.Seq2[int, string] {
	return func(yield func(int, string) bool) {
		if n.Beam == nil {
			return
		}
		for e := range musicxml.Each(n.Element, "beam") {
			level, err := strconv.Atoi(musicxml.Attr(e, "number"))
			if err != nil {
				level = 1 // MusicXML 4.0, beam: 1 by default
			}
			if !yield(level, musicxml.Text(e)) {
				return
			}
		}
	}
}
