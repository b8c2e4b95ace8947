package transpose

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// The rules that printed signs follow here: a sign holds to the end of the bar,
// for its own letter and octave and its own staff (Gehrkens 1914, s. 24; Birch,
// Kent State Encyclopedia, "Accidentals"); a tie carries it over the barline for
// the tied note alone, and later notes of that bar return to the signature
// (Gehrkens, s. 25). Signs printed at one moment in several voices of a staff
// are seen together. A new signature ends what signs before it said.

// lines is the number of letter-and-octave places that MusicXML can write.
const lines = 7 * (music.MaxOctave + 1)

// inForce is what the signs of one staff say so far in the bar.
type inForce struct {
	alter   [lines]pitch.Alter
	set     [lines]int // the era in which alter was set
	unclear [lines]int // the era in which two voices contradicted each other
	// era counts bars and changes of signature: what was set in another era no
	// longer holds.
	era       int
	signature [7]pitch.Alter
	state     *state
	// met and metBefore are how each letter was read, in any octave, in this bar
	// and in the bar before.
	met, metBefore [7]readings
}

// readings is the lowest and highest alteration that a letter was read with.
type readings struct {
	any       bool
	low, high pitch.Alter
}

func (r *readings) add(a pitch.Alter) {
	if !r.any {
		*r = readings{true, a, a}
		return
	}
	r.low, r.high = min(r.low, a), max(r.high, a)
}

// otherThan reports whether the letter was read with another alteration.
func (r readings) otherThan(a pitch.Alter) bool { return r.any && (r.low != a || r.high != a) }

func (f *inForce) nextBar() {
	f.era++
	f.metBefore, f.met = f.met, [7]readings{}
}

// follow takes over the signature of a note's state.
func (f *inForce) follow(st *state, signature func(*state) [7]pitch.Alter) {
	if f.state == st {
		return
	}
	f.state = st
	if s := signature(st); s != f.signature {
		f.signature = s
		f.era++
	}
}

// says returns what an unmarked note of that place is read as, and whether the
// page is clear about it.
func (f *inForce) says(p pitch.Pitch) (pitch.Alter, bool) {
	line := p.Place()
	if f.unclear[line] == f.era {
		return 0, false
	}
	if f.set[line] == f.era {
		return f.alter[line], true
	}
	return f.signature[p.Step], true
}

func (f *inForce) print(p pitch.Pitch) {
	line := p.Place()
	f.alter[line], f.set[line], f.unclear[line] = p.Alter, f.era, 0
}

// verdict is what a page says of the sign at a note.
type verdict struct {
	// needed: without a sign the note would be misread.
	needed bool
	// answers: the letter stood with another alteration before, in this bar or
	// the last, so that a sign removes a doubt even if it is not needed.
	answers bool
}

// openTie waits for the note that a tie leads to.
type openTie struct {
	pitch pitch.Pitch
	until musicxml.Fraction // from the start of the piece
}

// accidentalReader walks the notes of a part in reading order and says of each
// whether its sign is needed. pitch and signature tell which page is read: the
// source's or the new one.
type accidentalReader struct {
	staves    []inForce
	ties      []openTie
	pitch     func(*note) pitch.Pitch
	signature func(*state) [7]pitch.Alter
	// judge is told of every note; it may print a sign or take one away.
	judge func(*note, verdict)
	// beside, where it is wanted, is told of every note what the staff says when all signs
	// of the moment are read.
	beside func(*note, *inForce)
}

// readAccidentals reads a page of the part from its first bar to its last.
func (m *mover) readAccidentals(pitch func(*note) pitch.Pitch, signature func(*state) [7]pitch.Alter, judge func(*note, verdict), beside func(*note, *inForce)) {
	r := &accidentalReader{staves: make([]inForce, len(m.states.staves)), pitch: pitch, signature: signature, judge: judge, beside: beside}
	for i := range m.bars {
		r.bar(&m.bars[i])
	}
}

// bar reads one measure.
func (r *accidentalReader) bar(b *bar) {
	for i := range r.staves {
		r.staves[i].nextBar()
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
func (r *accidentalReader) moment(b *bar, notes []int) {
	for _, i := range notes {
		n := &b.notes[i]
		n.printed = n.accidental != nil
		r.staff(n).follow(n.state, r.signature)
	}
	clash := r.clashes(b, notes)
	for _, printed := range []bool{true, false} {
		for _, i := range notes {
			if n := &b.notes[i]; n.printed == printed {
				r.read(n, clash)
			}
		}
	}
	for _, i := range notes {
		r.tie(&b.notes[i])
	}
	for line := range clash {
		line.staff.unclear[line.line] = line.staff.era
	}
	if r.beside == nil {
		return
	}
	for _, i := range notes {
		n := &b.notes[i]
		r.beside(n, r.staff(n))
	}
}

func (r *accidentalReader) staff(n *note) *inForce {
	return &r.staves[min(max(n.event.Staff, 1), len(r.staves))-1]
}

// staffLine is a place on one staff of the part.
type staffLine struct {
	staff *inForce
	line  int
}

// clashes finds places that two visible notes of the moment alter differently:
// each of them then needs its own sign. Most moments have none, and no map.
func (r *accidentalReader) clashes(b *bar, notes []int) map[staffLine]bool {
	var clash map[staffLine]bool
	for x, i := range notes {
		n := &b.notes[i]
		p := r.pitch(n)
		for _, j := range notes[:x] {
			m := &b.notes[j]
			q := r.pitch(m)
			if n.hidden || m.hidden || q.Place() != p.Place() || q.Alter == p.Alter || r.staff(n) != r.staff(m) {
				continue
			}
			if clash == nil {
				clash = map[staffLine]bool{}
			}
			clash[staffLine{r.staff(n), p.Place()}] = true
		}
	}
	return clash
}

// read decides about one note. A hidden note and one on a staff without printed
// signs need none and govern none.
func (r *accidentalReader) read(n *note, clash map[staffLine]bool) {
	if n.hidden || n.state.unsigned {
		r.judge(n, verdict{answers: true})
		return
	}
	p := r.pitch(n)
	f := r.staff(n)
	says, clear := f.says(p)
	v := verdict{
		needed:  !clear || says != p.Alter || clash != nil && clash[staffLine{f, p.Place()}],
		answers: f.met[p.Step].otherThan(p.Alter) || f.metBefore[p.Step].otherThan(p.Alter),
	}
	v.needed = v.needed && !n.proposed && !r.tiedInto(n, p)
	r.judge(n, v)
	if n.accidental != nil {
		f.print(p)
	}
	f.met[p.Step].add(p.Alter)
}

// tiedInto reports whether an open tie of the same pitch ends at the note.
func (r *accidentalReader) tiedInto(n *note, p pitch.Pitch) bool {
	if !n.tieStop {
		return false
	}
	return slices.ContainsFunc(r.ties, func(t openTie) bool { return t.pitch == p && t.until == n.start })
}

// tie closes the tie that ends at a note and opens the one that starts there.
// Ties that found no second note are forgotten when their time has passed.
func (r *accidentalReader) tie(n *note) {
	p := r.pitch(n)
	closed := !n.tieStop
	r.ties = slices.DeleteFunc(r.ties, func(t openTie) bool {
		ends := !closed && t.pitch == p && t.until == n.start
		closed = closed || ends
		return ends || t.until.Less(n.start)
	})
	if n.tieStart {
		r.ties = append(r.ties, openTie{p, n.start.Add(n.event.Duration)})
	}
}
