package explain

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
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
	dropLooseTies(part)
	dropLooseSlurs(part)
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
			if len(e.ChildElements()) == 0 {
				m.RemoveChild(e)
			}
		case "backup", "forward":
		case "barline":
			m.RemoveChild(e)
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
		if len(notations.ChildElements()) == 0 {
			note.RemoveChild(notations)
		}
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

// dropLooseTies removes the ties that lead out of the excerpt.
func dropLooseTies(part *etree.Element) {
	open := map[string]*etree.Element{}
	for _, note := range part.FindElements("measure/note") {
		pitch := musicxml.Child(note, "pitch")
		if pitch == nil {
			continue
		}
		place := musicxml.ChildText(pitch, "step") + musicxml.ChildText(pitch, "alter") + "/" + musicxml.ChildText(pitch, "octave")
		if IsTied(note, "stop") {
			if open[place] == nil {
				dropTie(note, "stop")
			}
			delete(open, place)
		}
		if IsTied(note, "start") {
			open[place] = note
		}
	}
	for _, note := range open {
		dropTie(note, "start")
	}
}

func dropTie(note *etree.Element, end string) {
	dropTyped(note, "tie", end)
	for _, notations := range musicxml.Children(note, "notations") {
		dropTyped(notations, "tied", end)
		if len(notations.ChildElements()) == 0 {
			note.RemoveChild(notations)
		}
	}
}

func dropTyped(e *etree.Element, tag, kind string) {
	for _, c := range musicxml.Children(e, tag) {
		if musicxml.Attr(c, "type") == kind {
			e.RemoveChild(c)
		}
	}
}

// dropLooseSlurs removes the slurs of which the excerpt holds one end only.
func dropLooseSlurs(part *etree.Element) {
	open := map[string]*etree.Element{}
	var loose []*etree.Element
	for _, slur := range part.FindElements("measure/note/notations/slur") {
		number := musicxml.Attr(slur, "number")
		switch musicxml.Attr(slur, "type") {
		case "start":
			if open[number] != nil {
				loose = append(loose, open[number])
			}
			open[number] = slur
		case "stop":
			if open[number] == nil {
				loose = append(loose, slur)
			}
			delete(open, number)
		}
	}
	for _, slur := range open {
		loose = append(loose, slur)
	}
	for _, slur := range loose {
		notations := slur.Parent()
		notations.RemoveChild(slur)
		if len(notations.ChildElements()) == 0 {
			notations.Parent().RemoveChild(notations)
		}
	}
}
