package explain

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// An exercise shows notes, rests, ties, slurs and articulations. Everything else
// that an excerpt of a score carries belongs to the score: its page, its other
// parts, its performance.

// clean leaves an excerpt with what an exercise shows.
func clean(part *etree.Element) {
	measures := musicxml.Children(part, "measure")
	for i, m := range measures {
		cleanMeasure(m, i == len(measures)-1)
	}
	dropLooseEnds(part)
}

func cleanMeasure(m *etree.Element, last bool) {
	dropPositions(m)
	m.RemoveAttr("width")
	m.RemoveAttr("id")
	for _, e := range m.ChildElements() {
		switch e.Tag {
		case "note":
			cleanNote(e)
		case "attributes":
			musicxml.RemoveChildren(e, "staves", "part-symbol", "instruments", "for-part", "directive", "measure-style", "footnote", "level")
			dropIfEmpty(e)
		case "backup", "forward":
		default:
			m.RemoveChild(e)
		}
	}
	if last {
		barline(m, Bar{}, true)
	}
}

// cleanNote keeps what is read of a note.
func cleanNote(note *etree.Element) {
	dropPositions(note)
	musicxml.RemoveChildren(note, "instrument", "footnote", "level", "stem", "lyric", "play", "listen", "notehead-text")
	for _, e := range note.ChildElements() {
		dropPositions(e)
	}
	for _, notations := range musicxml.Children(note, "notations") {
		for _, e := range notations.ChildElements() {
			switch e.Tag {
			case "tied", "slur", "tuplet", "articulations", "fermata":
				dropPositions(e)
			default:
				notations.RemoveChild(e)
			}
		}
		dropIfEmpty(notations)
	}
}

// dropIfEmpty takes out an element that holds nothing any more.
func dropIfEmpty(e *etree.Element) {
	if len(e.ChildElements()) == 0 {
		e.Parent().RemoveChild(e)
	}
}

// dropPositions removes what describes another page.
func dropPositions(e *etree.Element) {
	for i := len(e.Attr) - 1; i >= 0; i-- {
		key := e.Attr[i].Key
		if strings.HasPrefix(key, "default-") || strings.HasPrefix(key, "relative-") || strings.HasPrefix(key, "bezier-") ||
			key == "id" && e.Tag != "part" || key == "dynamics" || key == "end-dynamics" || key == "attack" || key == "release" {
			e.RemoveAttr(e.Attr[i].FullKey())
		}
	}
}

// dropLooseEnds removes the ties that lead out of the excerpt, and the slurs of which it
// holds one end only. What cannot be read is refused where the notes are needed.
func dropLooseEnds(part *etree.Element) {
	read, err := music.ReadPart(part)
	if err != nil {
		return
	}
	for i := range read.Spans {
		if s := &read.Spans[i]; s.Kind == "slur" && (s.Start == nil || s.Stop == nil) {
			dropSpan(s)
		}
	}
	for i := range read.Notes {
		n := &read.Notes[i]
		if n.Ties.Stop() && n.TiedFrom == nil {
			music.DropTie(n.Element, "stop")
		}
		if n.Ties.Start() && n.TiedTo == nil {
			music.DropTie(n.Element, "start")
		}
	}
}

// dropSpan takes a span's marks out, and a <notations> that held nothing else.
func dropSpan(s *music.Span) {
	for _, m := range append([]*music.Mark{s.Start, s.Stop}, s.Through...) {
		if m != nil {
			notations := m.Element.Parent()
			notations.RemoveChild(m.Element)
			dropIfEmpty(notations)
		}
	}
}
