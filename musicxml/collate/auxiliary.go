package collate

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// auxiliary is the note that an ornament goes to, by its distance from the main note,
// which no transposition changes.
type auxiliary struct {
	height int // above the main note, in thousandths of a semitone
	known  bool
	// marked: a sign at the ornament says it, not the signature or a note before it.
	marked bool
}

// auxiliaries are the notes below and above the main one.
type auxiliaries [2]auxiliary

// differ reports whether a player is told to play other auxiliary notes. Where neither
// page has a sign at the ornament, what differs is the signature or a note.
func (a *auxiliaries) differ(o *auxiliaries) bool {
	for i, x := range a {
		if y := o[i]; (x.marked || y.marked) && x.known && y.known && x.height != y.height {
			return true
		}
	}
	return false
}

// auxiliariesOf reads the notes that an ornament goes to, and words for the signs that it
// has.
func (r *transcriber) auxiliariesOf(n *music.Note, ornament *etree.Element) (beside auxiliaries, text string) {
	for _, side := range transpose.AuxiliarySides(ornament.Tag) {
		p := pitch.At(n.Pitch.Place() + side)
		p.Alter, beside[max(side, 0)].known = r.says(n, p)
		beside[max(side, 0)].height = heightOf(p, false) - heightOf(n.Pitch, false)
	}
	for e := ornament.NextSibling(); e != nil && e.Tag == "accidental-mark"; e = e.NextSibling() {
		side := transpose.AuxiliarySide(e, ornament.Tag)
		p := pitch.At(n.Pitch.Place() + side)
		var known bool
		p.Alter, known = transpose.AccidentalValue(musicxml.Text(e))
		beside[max(side, 0)] = auxiliary{heightOf(p, false) - heightOf(n.Pitch, false), known, true}
		if by, whole := pitch.Between(n.Pitch, p); whole && known {
			text += " with a sign for " + by.WithArticle(pitch.English) + map[int]string{-1: " below", 1: " above"}[side]
		}
	}
	return beside, text
}

// says is what the page gives to a line beside a note: what the last note on it in the
// bar has, else what the signature says.
func (r *transcriber) says(n *music.Note, at pitch.Pitch) (pitch.Alter, bool) {
	for i := len(r.bar.notes) - 1; i >= 0; i-- {
		if o := &r.bar.notes[i]; o.staff == n.Staff && !o.tieStop && o.written.Place() == at.Place() {
			return o.written.Alter, !o.unpitched
		}
	}
	k := &r.bar.key
	for i := range r.bar.moves {
		if m := &r.bar.moves[i]; m.key != nil && !n.Onset.Less(m.onset) {
			k = m.key
		}
	}
	return pitch.Semitones(pitch.SignatureAlter(k.written, at.Step)), k.tones == ""
}
