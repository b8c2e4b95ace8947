package notate

import (
	"cmp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// signNames turns the standard's articulations, ornaments and playing signs into
// signs of package fonts, from the note outwards.
var signNames = map[string][]string{
	"accent": {"accent"}, "strong-accent": {"marcato"}, "staccato": {"staccato"}, "tenuto": {"tenuto"},
	"detached-legato": {"staccato", "tenuto"}, "staccatissimo": {"staccatissimo"}, "spiccato": {"staccatissimo"},
	"stress": {"stress"}, "unstress": {"unstress"}, "soft-accent": {"soft-accent"},
	"caesura": {"caesura"}, "breath-mark": {"breath"},
	"up-bow": {"up-bow"}, "down-bow": {"down-bow"}, "open-string": {"harmonic"}, "thumb-position": {"thumb-position"},
	"double-tongue": {"double-tongue"}, "triple-tongue": {"triple-tongue"}, "stopped": {"stopped"}, "open": {"harmonic"},
	"half-muted": {"half-muted"}, "snap-pizzicato": {"snap-pizzicato"}, "heel": {"heel"}, "toe": {"toe"},
	"fingernails": {"fingernails"}, "golpe": {"golpe"},
	"trill-mark": {"trill"}, "turn": {"turn"}, "delayed-turn": {"turn"}, "inverted-turn": {"inverted-turn"},
	"delayed-inverted-turn": {"inverted-turn"}, "vertical-turn": {"slashed-turn"}, "inverted-vertical-turn": {"slashed-turn"},
	"mordent": {"mordent"}, "inverted-mordent": {"inverted-mordent"}, "shake": {"inverted-mordent"}, "schleifer": {"schleifer"}, "haydn": {"slashed-turn"},
}

// fallNames are the lines that lead into a note or away from it.
var fallNames = map[string]engraving.Fall{"scoop": engraving.Scoop, "plop": engraving.Plop, "doit": engraving.Doit, "falloff": engraving.Falloff, "flip": engraving.Flip, "smear": engraving.Smear, "brass-bend": engraving.Smear}

// playing reads an articulation, an ornament or a playing sign and reports whether
// it is drawn.
func (m *measureReader) playing(mark *music.Mark, event *engraving.Event) bool {
	e, side := mark.Element, readSide(mark.Element)
	if fall, ok := fallNames[e.Tag]; ok {
		event.Falls = append(event.Falls, fall)
		return true
	}
	switch e.Tag {
	case "other-articulation", "other-technical":
		return addOther(event, e, side)
	case "fingering", "pluck":
		return addText(event, musicxml.Text(e), side)
	case "fret":
		return len(event.Notes) == 0 || m.tablature(mark) || addText(event, musicxml.Text(e), side)
	case "string":
		return m.string(mark, event)
	case "harmonic":
		harmonic(event, e, side)
	case "hammer-on", "pull-off":
		return m.hammer(mark, event)
	case "bend":
		return addText(event, "↗ "+bendText(e), side)
	case "tap":
		return addText(event, cmp.Or(musicxml.Text(e), "T"), side)
	case "hole":
		add(event, engraving.Articulation{Sign: holeSigns[musicxml.ChildText(e, "hole-closed")], Side: side})
	case "harmon-mute":
		add(event, engraving.Articulation{Sign: muteSigns[musicxml.ChildText(e, "harmon-closed")], Side: side})
	case "handbell":
		return addText(event, handbellWords[musicxml.Text(e)], side)
	case "arrow":
		return addText(event, arrows[musicxml.ChildText(e, "arrow-direction")], side)
	default:
		return signs(e, side, event)
	}
	return true
}

// addOther adds what an element of the standard's "other" kind says: a sign by its
// name, or its letters.
func addOther(e *engraving.Event, x *etree.Element, side engraving.Side) bool {
	if sign := symbolSigns[musicxml.Attr(x, "smufl")]; sign != "" {
		add(e, engraving.Articulation{Sign: sign, Side: side})
		return true
	}
	return addText(e, musicxml.Text(x), side)
}

// signs reads what is a sign of its own.
func signs(e *etree.Element, side engraving.Side, event *engraving.Event) bool {
	names, known := signNames[e.Tag]
	switch e.Tag {
	case "breath-mark":
		if musicxml.Text(e) == "tick" {
			names = []string{"breath-tick"}
		}
	case "strong-accent":
		if musicxml.Attr(e, "type") == "down" && side == engraving.SideAuto {
			side = engraving.Below
		}
	}
	for _, name := range names {
		add(event, engraving.Articulation{Sign: name, Side: side})
	}
	return known
}

// tablature reports whether a note stands on a staff of tablature, where its string
// and fret are its place.
func (m *measureReader) tablature(mark *music.Mark) bool {
	clef := m.part.At("clef", mark.Event.Staff, mark.Measure, mark.Onset)
	return clef != nil && musicxml.ChildText(clef.Element, "sign") == "TAB"
}

// string draws the number of a string in a circle, outside tablature.
func (m *measureReader) string(mark *music.Mark, event *engraving.Event) bool {
	if m.tablature(mark) {
		return true
	}
	text := musicxml.Text(mark.Element)
	if text == "" {
		return false
	}
	add(event, engraving.Articulation{Text: text, Side: readSide(mark.Element), Circled: true})
	return true
}

// harmonic draws a circle for a natural harmonic; an artificial one is seen by its
// heads, of which the touched one has its own shape.
func harmonic(e *engraving.Event, x *etree.Element, side engraving.Side) {
	switch last := len(e.Notes) - 1; {
	case musicxml.Child(x, "touching-pitch") != nil && last >= 0:
		e.Notes[last].Head, e.Notes[last].Unfilled = engraving.HeadDiamond, true
	case musicxml.Child(x, "base-pitch") == nil && musicxml.Child(x, "sounding-pitch") == nil: // else the heads themselves
		add(e, engraving.Articulation{Sign: "harmonic", Side: side})
	}
}

// hammer reads a hammer-on or pull-off: its letter stands over its beginning, and a
// slur joins the two.
func (m *measureReader) hammer(mark *music.Mark, event *engraving.Event) bool {
	if mark.Role == music.Starts {
		addText(event, cmp.Or(musicxml.Text(mark.Element), strings.ToUpper(mark.Element.Tag[:1])), readSide(mark.Element))
	}
	if !isWhole(mark.Span) {
		return mark.Role == music.Starts
	}
	event.Slurs = append(event.Slurs, engraving.SlurEnd{ID: m.ids[mark.Span], Start: mark.Role == music.Starts, Side: readSide(mark.Element)})
	return true
}

// bendText is how far a bend goes, in whole tones as guitarists say it.
func bendText(e *etree.Element) string {
	if musicxml.Child(e, "release") != nil {
		return "rel."
	}
	alter := musicxml.ChildText(e, "bend-alter")
	return cmp.Or(map[string]string{"2": "full", "1": "½", "0.5": "¼"}[alter], alter)
}

var (
	holeSigns = map[string]string{"yes": "hole-closed", "no": "hole-open", "half": "hole-half", "": "hole-open"}
	muteSigns = map[string]string{"yes": "stopped", "no": "harmonic", "half": "half-muted", "": "stopped"}
)

// handbellWords are the usual short words for the standard's handbell techniques
// (common practice, no source read).
var handbellWords = map[string]string{"belltree": "belltree", "damp": "damp", "echo": "echo", "gyro": "gyro", "hand martellato": "HM",
	"mallet lift": "mallet lift", "mallet table": "mallet table", "martellato": "mart.", "martellato lift": "mart. lift",
	"muted martellato": "muted mart.", "pluck lift": "PL", "swing": "SW"}

// arrows are those of woodwind fingerings.
var arrows = map[string]string{"left": "←", "up": "↑", "right": "→", "down": "↓"}
