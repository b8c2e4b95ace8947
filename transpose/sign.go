package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// The rules that printed signs follow here: a sign holds to the end of the bar,
// for its own letter and octave and its own staff (Gehrkens 1914, s. 24; Birch,
// Kent State Encyclopedia, "Accidentals"); a tie carries it over the barline for
// the tied note alone, and later notes of that bar return to the signature
// (Gehrkens, s. 25). Signs printed at one moment in several voices of a staff
// are seen together.

// lines is the number of letter-and-octave places that MusicXML can write.
const lines = 7 * (maxOctave + 1)

// inForce is what the signs of one staff say so far in the bar.
type inForce struct {
	alter   [lines]Alter
	set     [lines]int // the era in which alter was set
	unclear [lines]int // the era in which two voices contradicted each other
	// era counts bars and changes of signature: what was set in another era no
	// longer holds.
	era       int
	signature [7]Alter
}

func (f *inForce) restart(signature [7]Alter) {
	f.era++
	f.signature = signature
}

// says returns what an unmarked note of that place is read as, and whether the
// page is clear about it.
func (f *inForce) says(p Pitch) (Alter, bool) {
	line := p.place()
	if f.unclear[line] == f.era {
		return 0, false
	}
	if f.set[line] == f.era {
		return f.alter[line], true
	}
	return f.signature[p.Step], true
}

func (f *inForce) print(p Pitch) {
	line := p.place()
	f.alter[line], f.set[line], f.unclear[line] = p.Alter, f.era, 0
}

// tieKey finds the other end of a tie: same place on the staff, same pitch.
type tieKey struct {
	line  int
	alter Alter
}

// signReader walks the notes of a part in reading order and says of each
// whether its sign is needed. pitch and signature tell which page is read: the
// source's or the new one.
type signReader struct {
	staves    []inForce
	keys      []*state
	ties      map[tieKey]musicxml.Fraction // end of the open tie
	pitch     func(*note) Pitch
	signature func(*state) [7]Alter
	// needed is told of every visible note.
	needed func(n *note, needed bool)
}

func newSignReader(staves int, pitch func(*note) Pitch, signature func(*state) [7]Alter, needed func(*note, bool)) *signReader {
	r := &signReader{
		staves: make([]inForce, staves), keys: make([]*state, staves),
		ties: map[tieKey]musicxml.Fraction{}, pitch: pitch, signature: signature, needed: needed,
	}
	for i := range r.staves {
		r.staves[i].era = 1
	}
	return r
}

// bar reads one measure.
func (r *signReader) bar(b *bar) {
	for i := range r.staves {
		r.staves[i].restart(r.staves[i].signature)
	}
	for from := 0; from < len(b.reading); {
		to := from + 1
		first := &b.notes[b.reading[from]]
		for to < len(b.reading) && sameMoment(first, &b.notes[b.reading[to]]) {
			to++
		}
		r.moment(b, b.reading[from:to])
		from = to
	}
}

// sameMoment joins notes that sound together; grace notes come one by one.
func sameMoment(a, b *note) bool {
	if a.event.Onset != b.event.Onset || a.event.Grace != b.event.Grace {
		return false
	}
	return !a.event.Grace || b.event.Chord
}

// moment reads the notes of one onset: first what is printed, then the others.
func (r *signReader) moment(b *bar, notes []int) {
	for _, i := range notes {
		r.follow(&b.notes[i])
	}
	clash := r.clashes(b, notes)
	for _, printed := range []bool{true, false} {
		for _, i := range notes {
			n := &b.notes[i]
			if n.hidden || (n.accidental != nil) != printed {
				continue
			}
			r.read(n, clash)
		}
	}
	for _, i := range notes {
		r.open(&b.notes[i])
	}
	for line := range clash {
		f := &r.staves[line.staff]
		f.unclear[line.line] = f.era
	}
}

// follow takes over a change of signature on the note's staff.
func (r *signReader) follow(n *note) {
	i := r.staff(n)
	if r.keys[i] != n.state {
		r.keys[i] = n.state
		if signature := r.signature(n.state); signature != r.staves[i].signature {
			r.staves[i].restart(signature)
		}
	}
}

func (r *signReader) staff(n *note) int { return min(n.event.Staff, len(r.staves)) - 1 }

// staffLine is a place on one staff of the part.
type staffLine struct{ staff, line int }

// clashes finds places that two visible notes of the moment alter differently:
// each of them then needs its own sign. Most moments have none, and no map.
func (r *signReader) clashes(b *bar, notes []int) map[staffLine]bool {
	var clash map[staffLine]bool
	for x, i := range notes {
		n := &b.notes[i]
		p := r.pitch(n)
		for _, j := range notes[:x] {
			m := &b.notes[j]
			q := r.pitch(m)
			if n.hidden || m.hidden || q.place() != p.place() || q.Alter == p.Alter || r.staff(n) != r.staff(m) {
				continue
			}
			if clash == nil {
				clash = map[staffLine]bool{}
			}
			clash[staffLine{r.staff(n), p.place()}] = true
		}
	}
	return clash
}

// read decides about one note.
func (r *signReader) read(n *note, clash map[staffLine]bool) {
	p := r.pitch(n)
	f := &r.staves[r.staff(n)]
	says, clear := f.says(p)
	needed := !clear || says != p.Alter || clash[staffLine{r.staff(n), p.place()}]
	if needed && r.tiedInto(n, p) {
		needed = false
	}
	r.needed(n, needed)
	if n.accidental != nil {
		f.print(p)
	}
}

// tiedInto reports whether an open tie of the same pitch ends at the note.
func (r *signReader) tiedInto(n *note, p Pitch) bool {
	end, open := r.ties[tieKey{p.place(), p.Alter}]
	return n.tieStop && open && end == n.start
}

// open notes the ties that start here, after those that end here.
func (r *signReader) open(n *note) {
	p := r.pitch(n)
	key := tieKey{p.place(), p.Alter}
	if n.tieStop {
		delete(r.ties, key)
	}
	if n.tieStart {
		r.ties[key] = n.start.Add(n.event.Duration)
	}
}

// markCourtesies finds the signs that the source printed without need.
func markCourtesies(bars []bar, staves int) {
	r := newSignReader(staves,
		func(n *note) Pitch { return n.source },
		func(s *state) [7]Alter { return s.key.visible() },
		func(n *note, needed bool) { n.courtesy = n.accidental != nil && !needed })
	for i := range bars {
		r.bar(&bars[i])
	}
}

// placeSigns prints what the player needs: every sign of the source stays at its
// note with the kind that the note now has, and every note that the page would
// misread gets one. Where afresh is true for a note's state, a sign that only
// the source's context needed goes.
func (m *mover) placeSigns(afresh func(*state) bool) {
	r := newSignReader(len(m.course.staves),
		func(n *note) Pitch { return n.pitch },
		func(s *state) [7]Alter { return s.newKey.visible() },
		func(n *note, needed bool) {
			switch {
			case n.accidental == nil && needed:
				m.addSign(n)
			case n.accidental != nil && !needed && !n.courtesy && afresh(n.state):
				n.event.Element.RemoveChild(n.accidental)
				n.accidental = nil
			case n.accidental != nil:
				m.moveSign(n)
			}
		})
	for i := range m.bars {
		r.bar(&m.bars[i])
	}
}

// addSign prints a sign at a note that had none.
func (m *mover) addSign(n *note) {
	name, ok := signFor(n.pitch.Alter, "")
	if !ok {
		m.warn(n.place, "no-sign", "no printed accidental stands for "+n.pitch.String()+"; check the note by eye")
		return
	}
	n.accidental = etree.NewElement("accidental")
	n.accidental.SetText(name)
	musicxml.AddInOrder(n.event.Element, n.accidental)
}

// moveSign gives a printed sign the kind that its note now has.
func (m *mover) moveSign(n *note) {
	old := musicxml.Text(n.accidental)
	name, ok := movedSign(old, n.source.Alter, n.pitch.Alter)
	if !ok {
		m.warn(n.place, "no-sign", "the accidental \""+old+"\" cannot be moved to "+n.pitch.String()+"; check the note by eye")
		return
	}
	musicxml.SetText(n.accidental, name)
}
