package parts

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// drawnPositions are attributes that place something on the score's page: none
// of them holds on the part's (MusicXML 4.0, position, bezier).
var drawnPositions = map[string]bool{
	"default-x": true, "default-y": true, "relative-x": true, "relative-y": true,
	"bezier-x": true, "bezier-y": true, "bezier-x2": true, "bezier-y2": true,
	"bezier-offset": true, "bezier-offset2": true, "text-x": true, "text-y": true, "end-length": true,
}

// stripPage takes out what describes the score's page: positions, bar widths,
// page and system breaks and their distances.
func (s *sheet) stripPage() error {
	for _, m := range musicxml.Children(s.part, "measure") {
		removeAttr(m, "width")
		for _, print := range musicxml.Children(m, "print") {
			stripPrint(m, print)
		}
		stripPositions(m)
	}
	return nil
}

func stripPositions(e *etree.Element) {
	kept := e.Attr[:0]
	for _, a := range e.Attr {
		if a.Space != "" || !drawnPositions[a.Key] {
			kept = append(kept, a)
		}
	}
	e.Attr = kept
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok {
			stripPositions(c)
		}
	}
}

// stripPrint keeps of a <print> what is not layout: how bars are numbered.
func stripPrint(measure, print *etree.Element) {
	for _, key := range []string{"new-system", "new-page", "blank-page", "page-number", "staff-spacing"} {
		removeAttr(print, key)
	}
	musicxml.RemoveChildren(print, "page-layout", "system-layout", "staff-layout")
	if !startsCoda(measure) {
		musicxml.RemoveChildren(print, "measure-layout")
	}
	if len(print.ChildElements()) == 0 && len(print.Attr) == 0 {
		measure.RemoveChild(print)
	}
}

// startsCoda reports whether a coda begins in a measure, whose distance from the
// music before it is kept.
func startsCoda(measure *etree.Element) bool {
	for _, d := range musicxml.Children(measure, "direction") {
		for _, t := range musicxml.Children(d, "direction-type") {
			if musicxml.Child(t, "coda") != nil {
				return true
			}
		}
	}
	return false
}

// removeAttr removes an attribute where there is one; the tree's own call
// allocates even where there is none.
func removeAttr(e *etree.Element, key string) {
	for i := range e.Attr {
		if e.Attr[i].Key == key && !strings.Contains(e.Attr[i].Space, ":") {
			e.RemoveAttr(key)
			return
		}
	}
}
