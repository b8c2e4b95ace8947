package assign

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
)

// Evidence is what the music of a part says about how many players share it.
type Evidence struct {
	said   int  // <instruments>, the most that the part says
	layers int  // most notes on one stem, or voices on one staff
	number int  // highest number in words such as "2." and "a 2"
	double bool // a <double>: one staff for two instruments an octave apart
	above  bool // the octave above the written notes is doubled
}

// Gather looks for signs of several players.
func Gather(t *musicxml.Timeline, lexicon *divisi.Lexicon) Evidence {
	var e Evidence
	chord := 1
	for i := range t.Measures {
		voices := map[voiceOnStaff]bool{}
		for k := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[k]
			switch ev.Kind {
			case musicxml.Note:
				if chord++; !ev.Chord {
					chord = 1
				}
				if !ev.Rest {
					voices[voiceOnStaff{ev.Staff, ev.Voice}] = true
				}
				e.layers = max(e.layers, chord, voicesOn(voices, ev.Staff))
			case musicxml.Attributes:
				e.attributes(ev.Element)
			case musicxml.Direction:
				e.words(ev.Element, lexicon)
			}
		}
	}
	return e
}

type voiceOnStaff struct {
	staff int
	voice string
}

func voicesOn(voices map[voiceOnStaff]bool, staff int) int {
	n := 0
	for v := range voices {
		if v.staff == staff {
			n++
		}
	}
	return n
}

func (e *Evidence) attributes(attributes *etree.Element) {
	if n, err := strconv.Atoi(musicxml.ChildText(attributes, "instruments")); err == nil {
		e.said = max(e.said, min(n, divisi.MaxPlayers))
	}
	for _, t := range musicxml.Children(attributes, "transpose") {
		if double := musicxml.Child(t, "double"); double != nil {
			e.double, e.above = true, musicxml.Attr(double, "above") == "yes"
		}
	}
}

func (e *Evidence) words(direction *etree.Element, lexicon *divisi.Lexicon) {
	for _, words := range musicxml.Along(direction, "direction-type", "words") {
		if m, ok := lexicon.Read(musicxml.Text(words), nil); ok && !m.Bare {
			for _, n := range append(m.Numbers, m.Count) {
				e.number = max(e.number, n)
			}
		}
	}
}
