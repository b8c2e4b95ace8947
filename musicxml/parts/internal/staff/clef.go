package staff

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// clefChange is a <clef> of the part at its place.
type clefChange struct {
	musicxml.Position
	order   int // of its <attributes> within the measure
	element *etree.Element
	clef    instruments.Clef
}

// holdsFor reports whether the change comes before a note. A grace note written
// before a clef at the same moment is still read in the old one.
func (c *clefChange) holdsFor(n *Note) bool {
	switch order := c.Position.Compare(n.At()); {
	case order != 0:
		return order < 0
	default:
		return !n.Event.Grace || c.order < n.order
	}
}

var TrebleClef = instruments.Clef{Sign: "G", Line: 2}

// ReadClef reads a <clef> or <part-clef>. A clef without letters is told by its sign
// alone.
func ReadClef(e *etree.Element) instruments.Clef {
	c := music.ReadClef(e)
	if !c.Lettered() {
		c.Line = 0
	}
	return instruments.Clef(c)
}

// writeClef makes a <clef> or <part-clef> say c.
func writeClef(e *etree.Element, c instruments.Clef) {
	musicxml.SetChildText(e, "sign", c.Sign)
	if c.Line > 0 {
		musicxml.SetChildText(e, "line", strconv.Itoa(c.Line))
	} else {
		musicxml.RemoveChildren(e, "line")
	}
	if c.OctaveChange != 0 {
		musicxml.SetChildText(e, "clef-octave-change", strconv.Itoa(c.OctaveChange))
	} else {
		musicxml.RemoveChildren(e, "clef-octave-change")
	}
}

// BottomLine is the note on the bottom line of five, as letter steps from C0. A
// clef without letters counts as treble.
func BottomLine(c instruments.Clef) int { return music.Clef(c).Bottom() }

// lettered reports whether places on the staff are letters: not in percussion
// clef, tablature and numbered notation.
func lettered(c instruments.Clef) bool {
	return c.Sign != "percussion" && c.Sign != "TAB" && c.Sign != "jianpu"
}

// LedgerLines counts the ledger lines of a position on a staff of five lines.
func LedgerLines(position int) int {
	switch {
	case position < 0:
		return -position / 2
	case position > 8:
		return (position - 8) / 2
	}
	return 0
}

// isOf reports whether a clef is one of an instrument's, small 8s aside: those
// say how an edition counts octaves, not what the player reads.
func isOf(c instruments.Clef, clefs []instruments.Clef) bool {
	return slices.ContainsFunc(clefs, func(own instruments.Clef) bool { return own.Sign == c.Sign && own.Line == c.Line })
}
