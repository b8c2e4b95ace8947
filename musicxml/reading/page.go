package reading

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Source says what gave a note its alteration.
type Source uint8

// The sources of an alteration, strongest first.
const (
	Unread    Source = iota // not read as a pitch: hidden, unpitched, tablature
	Sign                    // an accidental printed at the note
	Tie                     // the note that it is tied to
	Bar                     // an accidental earlier in the bar
	Signature               // the key signature, or its absence
)

// String names the source for a musician.
func (s Source) String() string {
	return [...]string{"not read", "its own sign", "its tie", "a sign earlier in the bar", "the key signature"}[s]
}

// Note is one note on the page.
type Note struct {
	Element      *etree.Element
	MeasureIndex int               // from 0
	Measure      string            // printed number
	Beat         string            // as musicians count, from 1
	Onset        musicxml.Fraction // from the start of the bar, in quarter notes
	Start        musicxml.Fraction // from the start of the piece, in quarter notes
	Duration     musicxml.Fraction // in quarter notes; 0 for a grace note
	Staff        int               // from 1 at the top
	Voice        string
	Grace        int // 0 for a full note; the place in its group of grace notes from 1
	Chord, Cue   bool
	Hidden       bool // not printed, so not read
	Unpitched    bool // Written is its display position
	TieStart     bool // a tie leads on from here
	TieStop      bool // a tie leads here

	Written  Pitch  // what <pitch> says
	Read     Pitch  // what a player reads; equal to Written where From is Unread
	From     Source // what gave Read its alteration
	Position int    // 0 on the bottom line, 1 in the space above it

	Sign     string // the printed accidental's name, "" for none
	Courtesy bool   // the sign is cautionary, editorial, in brackets or in parentheses

	// proposal is an accidental above or below the note, an editor's. A player may
	// follow it or not, so it can explain <pitch> but never contradict it. It
	// holds for this note alone.
	proposal  string
	without   musicxml.Fraction // alteration that the note would be read with if its sign were not there
	reminder  bool              // the letter was altered otherwise in this bar or the one before
	transpose transposition
}

// Mismatch is a note that a player would play otherwise than <pitch> says.
type Mismatch struct {
	MeasureIndex         int
	Measure, Beat, Voice string
	Staff                int
	Read, Written        Pitch
	From                 Source // what misleads the player
}

// Superfluous is a printed sign that is not marked as a courtesy and tells the
// player nothing that the rules do not.
type Superfluous struct {
	MeasureIndex         int
	Measure, Beat, Voice string
	Staff                int
	Written              Pitch
	Sign                 string
	// Reminder says that it takes back an alteration of the same letter in this
	// bar or the one before: so usual in print as to be nearly a rule
	// (trade/notation-rules.md, section 3).
	Reminder bool
}

// Page is a part as read.
type Page struct {
	Notes []Note // in the order of time; rests are left out
}

// Read reads a <part> element. It changes nothing in the tree. The error is a
// *musicxml.Error with measure and beat.
func Read(part *etree.Element) (*Page, error) {
	p := new(Page)
	return p, p.Read(part)
}

// Read is Read onto a page that there is, whose memory is used again: the notes that
// were on it are gone.
func (p *Page) Read(part *etree.Element) error {
	count := 0
	for measure := range musicxml.Each(part, "measure") {
		count += len(measure.Child)
	}
	r := newReader()
	r.notes = slices.Grow(p.Notes[:0], count)
	index := 0
	for measure := range musicxml.Each(part, "measure") {
		if err := r.measure(measure, index); err != nil {
			return err
		}
		index++
	}
	p.Notes = r.notes
	return nil
}

// Forget lets go of the notes that were read, for a page that goes on to another
// score.
func (p *Page) Forget() {
	clear(p.Notes[:cap(p.Notes)])
	p.Notes = p.Notes[:0]
}

// Mismatches returns the notes whose reading differs from <pitch>, in the order
// of time.
func (p *Page) Mismatches() []Mismatch {
	var list []Mismatch
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.Read != n.Written {
			list = append(list, Mismatch{n.MeasureIndex, n.Measure, n.Beat, n.Voice, n.Staff, n.Read, n.Written, n.From})
		}
	}
	return list
}

// Needless returns the signs that could be left out without changing what a
// player reads, courtesies excepted.
func (p *Page) Needless() []Superfluous {
	var list []Superfluous
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.From == Sign && n.Sign != "" && !n.Courtesy && n.without == n.Read.Alter {
			list = append(list, Superfluous{n.MeasureIndex, n.Measure, n.Beat, n.Voice, n.Staff, n.Written, n.Sign, n.reminder})
		}
	}
	return list
}
