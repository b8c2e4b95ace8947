package reading

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// clef gives the lines of a staff their letters.
type clef struct {
	bottom int  // letter steps from C0 to the note on the bottom line
	reads  bool // false where places on the staff are not pitches: percussion, tablature, numbers
}

// treble is the clef of a staff that has none (MusicXML 4.0, clef-sign: "none"
// reads as treble).
var treble = clef{bottom: 7*4 + 2, reads: true} // E4

// named are the letters that a clef's line gets, and the line where <line> is
// left out (MusicXML 4.0, clef: G 2, F 4, C 3).
var named = map[string]struct{ place, line int }{
	"G": {7*4 + 4, 2}, // G4
	"F": {7*3 + 3, 4}, // F3
	"C": {7 * 4, 3},   // C4
}

// readClef reads a <clef>. Lines count from the bottom; clef-octave-change −1 is
// the small 8 below a tenor's clef, whose notes are an octave lower.
func readClef(e *etree.Element) clef {
	sign := musicxml.ChildText(e, "sign")
	anchor, ok := named[sign]
	if !ok {
		return clef{bottom: treble.bottom, reads: sign == "none" || sign == ""}
	}
	line := anchor.line
	if n, err := strconv.Atoi(musicxml.ChildText(e, "line")); err == nil {
		line = n
	}
	octaves, _ := strconv.Atoi(musicxml.ChildText(e, "clef-octave-change"))
	return clef{bottom: anchor.place - 2*(line-1) + 7*octaves, reads: true}
}

// position returns where a pitch is drawn: 0 on the bottom line, 1 in the space
// above it, 8 on the top line of five. Under an 8va line (lowered 1) the head
// stands an octave lower than it sounds.
func (c clef) position(p Pitch, lowered int) int { return p.place() - c.bottom - 7*lowered }

// natural returns what stands at a position, unaltered.
func (c clef) natural(position, lowered int) Pitch {
	return pitchAt(position + c.bottom + 7*lowered)
}
