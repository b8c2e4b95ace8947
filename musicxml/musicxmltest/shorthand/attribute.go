package shorthand

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
)

// attribute writes a key, clef, transpose or for-part into the measure's last
// <attributes>, if nothing has come since.
func (w *writer) attribute(words []string) {
	e := etree.NewElement(words[0])
	switch words[0] {
	case "key":
		e.CreateElement("fifths").SetText(words[1])
	case "clef":
		e.CreateElement("sign").SetText(words[1])
		e.CreateElement("line").SetText(words[2])
	case "instruments":
		e.SetText(words[1])
	case "transpose":
		writeTranspose(e, words[1:])
	case "for":
		e.Tag = "for-part"
		writeTranspose(e.CreateElement("part-transpose"), words[1:])
	}
	musicxml.AddInOrder(w.attributes(), e)
}

// attributes is the element that stands last in the measure, or a new one.
func (w *writer) attributes() *etree.Element {
	if n := len(w.measure.Child); n > 0 {
		if e, ok := w.measure.Child[n-1].(*etree.Element); ok && e.Tag == "attributes" {
			return e
		}
	}
	return w.measure.CreateElement("attributes")
}

func writeTranspose(e *etree.Element, words []string) {
	for i, word := range words {
		e.CreateElement([]string{"diatonic", "chromatic", "octave-change"}[i]).SetText(word)
	}
}

// clef writes a clef by its name, for the second staff with a 2 before it, and reports
// whether it is one.
func (w *writer) clef(name string) bool {
	number := ""
	if name[0] == '2' {
		number, name = "2", name[1:]
	}
	c, ok := instruments.ParseClef(name)
	if name == "TAB" {
		c, ok = instruments.Clef{Sign: "TAB", Line: 5}, true
	}
	if !ok {
		return false
	}
	e := w.measure.CreateElement("attributes").CreateElement("clef")
	if number != "" {
		e.CreateAttr("number", number)
	}
	e.CreateElement("sign").SetText(c.Sign)
	if c.Line > 0 {
		e.CreateElement("line").SetText(strconv.Itoa(c.Line))
	}
	if c.OctaveChange != 0 {
		e.CreateElement("clef-octave-change").SetText(strconv.Itoa(c.OctaveChange))
	}
	return true
}
