package staff

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// SettlePlacement puts the marks that followed a stem where the stem now lets
// them stand. A mark that an editor put on the other side of its own will stays
// there, unless the part was taken out of a shared staff: there the sides told
// the voices apart.
func (p *Page) SettlePlacement(split bool) error {
	var slurs slurFollower
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.Pitch == nil && !split {
			continue
		}
		turn := turned{from: n.stemWas, to: n.stemNow, split: split}
		settle := n.turned && (split || turn.from != turn.to) || n.Event.Rest && split
		if settle {
			turn.note(n.Event.Element)
		}
		slurs.follow(n, settle)
	}
	return nil
}

// turned is how a stem was turned, and whether the note stood on a shared staff.
type turned struct {
	from, to direction
	split    bool
}

// stemSide and headSide are the sides of a note as placement names them.
func stemSide(d direction) string {
	switch d {
	case stemUp:
		return "above"
	case stemDown:
		return "below"
	}
	return ""
}

func headSide(d direction) string { return stemSide(-d) }

// note settles what stands at a note.
func (t turned) note(note *etree.Element) {
	for e := range note.ChildElementsSeq() {
		switch e.Tag {
		case "dot":
			draft.RemoveAttr(e, "placement") // beside a line, above it in one voice
		case "notehead":
			t.notehead(e)
		case "notations":
			t.notations(e)
		case "lyric":
			if t.split {
				draft.RemoveAttr(e, "placement")
			}
		}
	}
}

// notehead keeps the fourth of the seven shapes on the side of its stem: "fa up"
// goes with stems up (MusicXML 4.0, notehead-value).
func (t turned) notehead(e *etree.Element) {
	switch shape := musicxml.Text(e); {
	case shape == "fa" && t.from == stemDown && t.to == stemUp:
		musicxml.SetText(e, "fa up")
	case shape == "fa up" && t.to == stemDown:
		musicxml.SetText(e, "fa")
	}
}

func (t turned) notations(notations *etree.Element) {
	for e := range notations.ChildElementsSeq() {
		switch e.Tag {
		case "tied":
			draft.RemoveAttr(e, "orientation")
			draft.RemoveAttr(e, "placement")
		case "tuplet":
			if t.to != noStem && musicxml.Attr(e, "placement") == stemSide(t.from) && t.from != noStem {
				e.CreateAttr("placement", stemSide(t.to))
			}
		case "fermata":
			if t.split && musicxml.Attr(e, "type") == "inverted" {
				e.CreateAttr("type", "upright")
			}
		case "articulations":
			t.articulations(e)
		case "ornaments", "technical":
			if t.split {
				raise(e)
			}
		}
	}
}

// raise takes away that marks stand below, as those of a lower voice do.
func raise(marks *etree.Element) {
	for _, token := range marks.Child {
		// The side of an accidental says to which auxiliary note it belongs.
		if e, ok := token.(*etree.Element); ok && e.Tag != "accidental-mark" && musicxml.Attr(e, "placement") == "below" {
			draft.RemoveAttr(e, "placement")
		}
	}
}

// atHead are the articulations that stand at the notehead in one-voice writing.
func atHead(tag string) bool {
	switch tag {
	case "accent", "strong-accent", "staccato", "tenuto", "detached-legato", "staccatissimo", "spiccato",
		"stress", "unstress", "soft-accent":
		return true
	}
	return false
}

// articulations moves the signs at the head to the head's new side.
func (t turned) articulations(articulations *etree.Element) {
	for e := range articulations.ChildElementsSeq() {
		if t.to == noStem {
			continue
		}
		placement := musicxml.Attr(e, "placement")
		switch {
		case placement == "":
			if t.split && e.Tag == "strong-accent" {
				draft.RemoveAttr(e, "type")
			}
		case !atHead(e.Tag):
			if t.split && placement == "below" {
				draft.RemoveAttr(e, "placement")
			}
		case placement == headSide(t.from) || t.split && placement == stemSide(t.from):
			e.CreateAttr("placement", headSide(t.to))
			if e.Tag == "strong-accent" && placement != headSide(t.to) {
				pointAccent(e, headSide(t.to))
			}
		}
	}
}

// pointAccent turns a strong accent with its side: up above, down below.
func pointAccent(e *etree.Element, side string) {
	kind := "up"
	if side == "below" {
		kind = "down"
	}
	e.CreateAttr("type", kind)
}

// slurFollower keeps the slurs that say their side and are open, and gives them
// the side that the stems under them ask for: below where all stems go up, else
// above. Of 4272 slurs that say their side in the one-voice parts of
// ../shared/scores, 4208 follow that rule.
type slurFollower struct{ open []openSlur }

type openSlur struct {
	number, voice string
	elements      [3]*etree.Element // start, one continue, stop
	down, stale   bool
}

// follow takes the next note of the part. settle says that its stem was turned.
func (f *slurFollower) follow(n *Note, settle bool) {
	if n.Event.Marked {
		f.eachSlur(n, f.begin)
	}
	if len(f.open) == 0 || n.Event.Rest {
		return
	}
	for i := range f.open {
		o := &f.open[i]
		if o.voice == n.Event.Voice {
			o.down = o.down || n.stemNow == stemDown
			o.stale = o.stale || settle
		}
	}
	if n.Event.Marked {
		f.eachSlur(n, f.end)
	}
}

func (f *slurFollower) eachSlur(n *Note, do func(*Note, *etree.Element)) {
	for notations := range musicxml.Each(n.Event.Element, "notations") {
		for slur := range musicxml.Each(notations, "slur") {
			do(n, slur)
		}
	}
}

// mostSlurs bounds how many slurs of one part are open at once.
const mostSlurs = 64

func (f *slurFollower) begin(n *Note, slur *etree.Element) {
	if musicxml.Attr(slur, "type") != "start" || musicxml.Attr(slur, "placement") == "" && musicxml.Attr(slur, "orientation") == "" {
		return
	}
	number := musicxml.Attr(slur, "number")
	if i := f.find(number, n.Event.Voice); i >= 0 || len(f.open) == mostSlurs {
		f.open = slices.Delete(f.open, max(i, 0), max(i, 0)+1) // one that was never ended
	}
	f.open = append(f.open, openSlur{number: number, voice: n.Event.Voice, elements: [3]*etree.Element{slur}})
}

func (f *slurFollower) end(n *Note, slur *etree.Element) {
	i := f.find(musicxml.Attr(slur, "number"), n.Event.Voice)
	if i < 0 {
		return
	}
	switch musicxml.Attr(slur, "type") {
	case "continue":
		f.open[i].elements[1] = slur
	case "stop":
		f.open[i].elements[2] = slur
		f.open[i].settle()
		f.open = slices.Delete(f.open, i, i+1)
	}
}

func (f *slurFollower) find(number, voice string) int {
	return slices.IndexFunc(f.open, func(o openSlur) bool { return o.number == number && o.voice == voice })
}

func (o *openSlur) settle() {
	if !o.stale {
		return
	}
	placement, orientation := "below", "under"
	if o.down {
		placement, orientation = "above", "over"
	}
	for _, e := range o.elements {
		if e == nil {
			continue
		}
		if musicxml.Attr(e, "placement") != "" {
			e.CreateAttr("placement", placement)
		}
		if musicxml.Attr(e, "orientation") != "" {
			e.CreateAttr("orientation", orientation)
		}
	}
}
