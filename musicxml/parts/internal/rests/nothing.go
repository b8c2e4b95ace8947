package rests

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// lent is what a silent player's sheet has of the part that it is made of: what says how
// the bars go.
var lent = []string{"attributes", "barline", "print"}

// lentAttributes are the attributes among that. The player's clef comes later.
var lentAttributes = []string{"divisions", "key", "time", "transpose", "for-part"}

// LeaveNothing takes all music out of the sheet of a player who has nothing in this
// movement of a work.
func LeaveNothing(d *draft.Draft) error {
	if !d.Assignment.Silent {
		return nil
	}
	for _, measure := range musicxml.Children(d.Part, "measure") {
		keepOnly(measure, lent)
		for _, attributes := range musicxml.Children(measure, "attributes") {
			keepOnly(attributes, lentAttributes)
			for _, e := range attributes.ChildElements() {
				draft.RemoveAttr(e, "number")
			}
		}
	}
	d.StandOn(1)
	d.Rewritten()
	return nil
}

func keepOnly(parent *etree.Element, tags []string) {
	for _, e := range parent.ChildElements() {
		if !slices.Contains(tags, e.Tag) {
			parent.RemoveChild(e)
		}
	}
}
