package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// facet is one kind of thing that a direction or a <sound> says. Several facets
// of one direction are a set.
type facet uint16

const (
	saysWords facet = 1 << iota
	saysMetronome
	saysRehearsal
	saysSegno
	saysCoda
	saysTempo   // how fast it is played back
	saysJump    // where playback goes on
	saysSwing   // how evenly it is played back
	saysHarmony // a chord symbol for the whole system
	saysOther   // anything else in a direction for the whole system
)

// saying is one thing that is said at one place.
type saying struct {
	facet facet
	// key is the same for sayings that mean the same.
	key string
	// leading: it holds for everybody only if it stands where a system is headed.
	leading bool
	// movement: it is the number of a movement, if it is not alone.
	movement bool
}

// mark is something in one part that holds for all players: a direction, a
// <sound> or a chord symbol of the whole system.
type mark struct {
	// The mark stands and sounds at its position.
	musicxml.Position
	seen musicxml.Fraction // where it is printed, from the start of the measure
	says []saying
	// The elements are copies that outlive the part they were read in; nil where
	// there is none.
	direction, sound, harmony *etree.Element
	line                      *line
}

// line is a dashed line or bracket that goes on from a mark.
type line struct {
	tag    string            // dashes or bracket
	number string            // in the part where it was read
	to     musicxml.Position // where it stops
	stop   *etree.Element    // nil while it is open
}

// facets are all that the mark says.
func (m *mark) facets() facet {
	var all facet
	for _, s := range m.says {
		all |= s.facet
	}
	return all
}

// soundFacet tells what an attribute of <sound> says to everybody; 0 for what
// concerns one player (MusicXML 4.0, sound).
func soundFacet(key string) facet {
	switch key {
	case "tempo":
		return saysTempo
	case "dacapo", "dalsegno", "segno", "coda", "tocoda", "fine", "forward-repeat":
		return saysJump
	}
	return 0
}

// directionFacet tells what a <direction-type> says, by its first child.
func directionFacet(directionType *etree.Element) facet {
	for c := range directionType.ChildElementsSeq() {
		switch c.Tag {
		case "words":
			return saysWords
		case "symbol":
			if musicxml.Child(directionType, "words") != nil {
				return saysWords
			}
			return saysOther
		case "metronome":
			for unit := range musicxml.Each(c, "beat-unit") {
				if musicxml.Text(unit) == "" {
					return 0 // some programs write an empty one, which says nothing
				}
			}
			return saysMetronome
		case "rehearsal":
			return saysRehearsal
		case "segno":
			return saysSegno
		case "coda":
			return saysCoda
		}
		return saysOther
	}
	return 0
}
