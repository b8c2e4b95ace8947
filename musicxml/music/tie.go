package music

import (
	"cmp"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Ties are the ends of ties at a note, as sound (<tie>) and as what stands on the
// page (<tied>). See the package's documentation on ties.
type Ties uint8

// The ends of ties.
const (
	TieStart  Ties = 1 << iota // a <tie> begins here
	TieStop                    // a <tie> ends here
	TiedStart                  // a curve begins here
	TiedStop                   // a curve ends here
	LetRing                    // the note rings on, with a curve that leads nowhere
)

// Start reports whether a tie begins at the note, Stop whether one ends there.
func (t Ties) Start() bool { return t&(TieStart|TiedStart) != 0 }

// Stop reports whether a tie ends at the note.
func (t Ties) Stop() bool { return t&(TieStop|TiedStop) != 0 }

// Add takes up a <tie> or <tied>.
func (t *Ties) Add(e *etree.Element) {
	start, stop := TieStart, TieStop
	if e.Tag == "tied" {
		start, stop = TiedStart, TiedStop
	}
	switch musicxml.Attr(e, "type") {
	case "start":
		*t |= start
	case "stop":
		*t |= stop
	case "continue":
		*t |= start | stop
	case "let-ring":
		*t |= LetRing
	}
}

// ReadTies reads the ends of ties at a <note>.
func ReadTies(note *etree.Element) Ties {
	var t Ties
	for e := range musicxml.Each(note, "tie") {
		t.Add(e)
	}
	for notations := range musicxml.Each(note, "notations") {
		for e := range musicxml.Each(notations, "tied") {
			t.Add(e)
		}
	}
	return t
}

// AddTie adds one end of a tie ("start", "stop") to a <note>, the sound and the curve,
// where the note has it not yet. A cue note has the curve only (MusicXML 4.0, note).
func AddTie(note *etree.Element, end string) {
	ties := ReadTies(note)
	if end == "start" && ties.Start() || end == "stop" && ties.Stop() {
		return
	}
	if musicxml.Child(note, "cue") == nil {
		musicxml.AddInOrder(note, tieElement("tie", end))
	}
	AddNotation(note, tieElement("tied", end))
}

// AddNotation adds an element to the <notations> of a <note>.
func AddNotation(note, e *etree.Element) {
	musicxml.AddInOrder(musicxml.ChildOrNew(note, "notations"), e)
}

func tieElement(tag, end string) *etree.Element {
	e := etree.NewElement(tag)
	e.CreateAttr("type", end)
	return e
}

// DropTie takes one end of a tie ("start", "stop") out of a <note>, the sound and the
// curve, and a <notations> that held nothing else.
func DropTie(note *etree.Element, end string) {
	dropEnd(note, "tie", end)
	for _, notations := range musicxml.Children(note, "notations") {
		dropEnd(notations, "tied", end)
		if len(notations.ChildElements()) == 0 {
			note.RemoveChild(notations)
		}
	}
}

func dropEnd(from *etree.Element, tag, end string) {
	for _, e := range musicxml.Children(from, tag) {
		if musicxml.Attr(e, "type") == end {
			from.RemoveChild(e)
		}
	}
}

// held is a note that waits for the one that its tie leads to.
type held struct {
	note *Note
	end  musicxml.Fraction // from the start of the piece
}

// joinTies finds for every tied note the notes that it is tied to.
func (p *Part) joinTies() {
	var tied []*Note
	for i := range p.Notes {
		if n := &p.Notes[i]; n.Ties.Start() || n.Ties.Stop() {
			tied = append(tied, n)
		}
	}
	slices.SortStableFunc(tied, (*Note).compare)
	waiting := map[pitch.Alter][]held{}
	for _, n := range tied {
		sound := n.sound()
		if n.Ties.Stop() {
			waiting[sound] = n.takeTie(waiting[sound])
		}
		if n.Ties.Start() {
			waiting[sound] = append(forgetBefore(waiting[sound], n.Start), held{n, n.End()})
		}
	}
}

// sound tells notes apart that a tie may not join. One without pitch is known by its
// place on the staff, far from all that sounds.
func (n *Note) sound() pitch.Alter {
	if n.Unpitched {
		return pitch.Semitones(n.Pitch.Place() - 1_000_000)
	}
	return n.Sounding().MIDI()
}

// takeTie joins a note with the one that is held into it, if there is one, and
// returns those that go on waiting.
func (n *Note) takeTie(waiting []held) []held {
	best := -1
	for i, h := range waiting {
		if h.end != n.Start || h.note == n {
			continue
		}
		if best < 0 || h.note.inVoiceOf(n) && !waiting[best].note.inVoiceOf(n) {
			best = i
		}
	}
	if best < 0 {
		return waiting
	}
	n.TiedFrom, waiting[best].note.TiedTo = waiting[best].note, n
	return slices.Delete(waiting, best, best+1)
}

// forgetBefore drops the notes whose tie led nowhere.
func forgetBefore(waiting []held, now musicxml.Fraction) []held {
	waiting = slices.DeleteFunc(waiting, func(h held) bool { return h.end.Less(now) })
	if len(waiting) > mostOpen {
		return waiting[1:]
	}
	return waiting
}

func (n *Note) inVoiceOf(m *Note) bool { return n.Voice == m.Voice && n.Staff == m.Staff }

// compare orders notes in time; at one moment grace notes come first, and others as
// they stand in the document.
func (n *Note) compare(m *Note) int {
	switch c := cmp.Or(cmp.Compare(n.Measure, m.Measure), n.Start.Cmp(m.Start)); {
	case c != 0:
		return c
	case n.Grace != m.Grace && n.Grace:
		return -1
	case n.Grace != m.Grace:
		return 1
	}
	return 0
}

// Struck reports whether the note begins to sound here: it is not held into from
// another one.
func (n *Note) Struck() bool { return n.TiedFrom == nil }

// Held is how long the note sounds with all that it is tied to from here on, in
// quarter notes.
func (n *Note) Held() musicxml.Fraction {
	length := n.Duration
	for next := n.TiedTo; next != nil; next = next.TiedTo {
		length = length.Add(next.Duration)
	}
	return length
}
