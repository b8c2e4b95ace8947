package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// moveSymbol moves a chord symbol as it moves in a part that is rewritten: in a
// part of its own.
func moveSymbol(harmony *etree.Element, from, to transpose.Transposition) *etree.Element {
	part := etree.NewElement("part")
	measure := part.CreateElement("measure")
	written := measure.CreateElement("attributes").CreateElement("transpose")
	from.Write(written)
	moved := harmony.Copy()
	measure.AddChild(moved)
	t, err := musicxml.NewTimeline(part)
	if err == nil {
		_, err = transpose.Move(t, transpose.Options{Stretches: []transpose.Stretch{{To: to}}})
	}
	if err != nil {
		return harmony // a symbol that cannot be read stays as it is
	}
	return moved
}
