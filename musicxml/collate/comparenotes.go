package collate

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// heard is what a pair of notes came to: a difference, or none.
type heard struct {
	at            place
	measure, beat string
	kind          Kind // "" where nothing differs
	by            pitch.Interval
	off           int // height of the part's note above the score's
	stands        string
	should        string
}

// compareNotes goes through the pairs of a bar.
func (b *barComparison) compareNotes() {
	b.odd = map[moment]bool{}
	shift := musicxml.Fraction{} // of the part's notes against the score's
	for _, p := range b.pairs {
		switch {
		case p.got < 0:
			w := &b.want.notes[p.want]
			b.odd[w.moment()] = true
			if b.partial {
				continue // another player's
			}
			b.hear(w.onset, Missing, "", b.wantText(w))
		case p.want < 0:
			g := &b.got.notes[p.got]
			b.odd[g.moment()] = true
			b.hear(g.onset, Extra, noteText(g.written, g), "")
		default:
			b.noteComes(p, &shift)
		}
	}
}

// noteComes compares two notes that answer each other. One note that comes late
// takes those behind it along, so that only a change of the shift is a
// difference, and only where nothing else in the bar explains it.
func (b *barComparison) noteComes(p pair, shift *musicxml.Fraction) {
	w, g := &b.want.notes[p.want], &b.got.notes[p.got]
	late := g.onset.Sub(w.onset)
	b.anchors = append(b.anchors, anchor{g.onset, w.onset}, anchor{g.end(), w.end()})
	if late.Sign() != 0 && late != *shift && !b.disturbed {
		b.hear(w.onset, Rhythm, b.wantText(w)+" on beat "+b.got.beat(g.onset), "on beat "+b.want.beat(w.onset))
	}
	*shift = late
	same := true
	if off := g.moved(b.moved()) - w.height; off != 0 {
		same = false
		b.hearPitch(w, g, off)
	}
	if w.length != g.length && !b.soundsOn(p) {
		same = false
		name := b.wantText(w)
		if w.unpitched {
			name = "the stroke"
		}
		b.hear(w.onset, Rhythm, name+" lasting "+g.length.Quarters(), w.length.Quarters())
	}
	if !same {
		return
	}
	b.matched++
	b.heard = append(b.heard, heard{at: place{b.step, w.onset}})
	if w.length == g.length {
		b.compareTies(w, g)
		b.compareLooks(w, g)
	}
}

// compareLooks looks for a note that sounds right and is read as another: by its head, its
// printed value, the stroke through a grace note, the instrument that is struck.
func (b *barComparison) compareLooks(w, g *note) {
	if b.excused {
		return
	}
	if w.head != g.head {
		b.find(w.onset, Articulation, headText(g), headText(w))
	}
	if g.printed.Sign() > 0 && g.printed != g.length && (w.printed.Sign() == 0 || w.printed == w.length) {
		b.find(w.onset, Rhythm, noteText(g.written, g)+" printed as "+g.printed.Quarters(), w.length.Quarters())
	}
	if w.slashed != g.slashed {
		name := map[bool]string{true: " with a stroke through its stem", false: " without a stroke through its stem"}
		b.find(w.onset, Rhythm, noteText(g.written, g)+name[g.slashed], b.wantText(w)+name[w.slashed])
	}
	// Instruments go by names, which a copyist may put into another language.
	if g.instrument != w.instrument && g.instrument != "" && w.instrument != "" && (b.comparison.want.strikes[g.instrument] || b.comparison.got.strikes[w.instrument]) {
		b.find(w.onset, Pitch, "a stroke on the "+g.instrument, "one on the "+w.instrument)
	}
}

// headText names a notehead.
func headText(n *note) string { return "a " + cmp.Or(n.head, "plain") + " notehead" }

// soundsOn reports whether the note was paired as the first of a chain of tied
// notes that sounds as long: then the members behind it are in no pair.
func (b *barComparison) soundsOn(p pair) bool {
	return b.isChain(b.want.notes, p.want, func(q pair) int { return q.want }) || b.isChain(b.got.notes, p.got, func(q pair) int { return q.got })
}

func (b *barComparison) isChain(notes []note, first int, side func(pair) int) bool {
	n := &notes[first]
	for i := range notes {
		next := &notes[i]
		if next.tieStop && n.tieStart && next.onset == n.end() && next.height == n.height {
			return !slices.ContainsFunc(b.pairs, func(q pair) bool { return side(q) == i })
		}
	}
	return false
}

func (b *barComparison) hear(onset musicxml.Fraction, kind Kind, stands, should string) {
	b.disturbed, b.faultyBars[b.steps[b.step].want] = true, true
	b.heard = append(b.heard, heard{at: place{b.step, onset}, measure: b.want.number, beat: b.beatAt(onset), kind: kind, stands: stands, should: should})
}

func (b *barComparison) hearPitch(w, g *note, off int) {
	b.hear(w.onset, Pitch, noteText(g.written, g), b.wantText(w))
	last := &b.heard[len(b.heard)-1]
	last.off = off
	if !w.unpitched {
		last.by = between(w.sounding, b.by.Apply(g.sounding))
	}
}

// wantText names a note of the score as the part's player would read it.
func (b *barComparison) wantText(w *note) string {
	if w.unpitched {
		return noteText(w.written, w)
	}
	return noteText(b.by.Add(b.got.by).Negate().Apply(w.sounding), w)
}

// noteText names a note.
func noteText(p pitch.Pitch, n *note) string {
	switch {
	case n.unpitched && n.grace > 0:
		return "a grace stroke at " + p.String()
	case n.unpitched:
		return "a stroke at " + p.String()
	case n.grace > 0:
		return "grace note " + p.String()
	}
	return p.String()
}

// compareReading looks for notes that the part's player would read as something
// else than they are meant to be, where the score's own page does not mislead in
// the same way. A sign that is missing misleads to the end of the bar, and is
// missed once. Where the whole signature is another one, that has been said.
func (b *barComparison) compareReading(otherKey bool) {
	b.misread = map[musicxml.Fraction]bool{}
	type line struct{ staff, place int }
	said := map[line]bool{}
	for _, p := range b.pairs {
		if p.want < 0 || p.got < 0 {
			continue
		}
		w, g := &b.want.notes[p.want], &b.got.notes[p.got]
		if !g.misread() || w.misread() || otherKey && g.from == reading.Signature {
			continue
		}
		if w.tieStop || g.tieStop {
			continue // it is read as the note before it, or their tie is what differs
		}
		b.misread[w.onset] = true
		at := line{g.staff, g.written.Place()}
		if said[at] {
			continue
		}
		said[at] = true
		b.find(w.onset, Pitch, g.read.String()+", by "+g.from.String(), g.written.String())
	}
}
