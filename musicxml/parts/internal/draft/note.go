package draft

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// Plays reports whether an event is a note that sounds and takes time.
func Plays(ev *musicxml.Event) bool {
	return ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue && !ev.Grace
}

// Hidden reports whether an event is not printed.
func Hidden(ev *musicxml.Event) bool { return musicxml.Attr(ev.Element, "print-object") == "no" }

// Tied draws an end of a tie at a note: "start" or "stop".
func Tied(note *etree.Element, end string) {
	e := etree.NewElement("tied")
	e.CreateAttr("type", end)
	music.AddNotation(note, e)
}

// IsHarmonic reports whether a note is a harmonic, which sounds elsewhere.
func IsHarmonic(note *etree.Element) bool {
	return musicxml.Descend(note, "notations", "technical", "harmonic") != nil
}

// Upright copies a fermata as it stands over a staff with one voice.
func Upright(fermata *etree.Element) *etree.Element {
	c := fermata.Copy()
	c.RemoveAttr("type")
	return c
}
