package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// concertHarmony moves a chord symbol of the whole system from the pitch that its
// part is written in to sounding pitch.
func concertHarmony(s *survey.Part, harmony *etree.Element, measure int) *etree.Element {
	return moveSymbol(harmony, s.SourceAt(measure), transpose.Transposition{})
}

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

// placeHarmony writes a chord symbol of the system in the pitch that the source
// writes this part in; it then moves with the part.
func (p *placer) placeHarmony(m mark) {
	e := moveSymbol(m.harmony, transpose.Transposition{}, p.Survey.SourceAt(m.Measure))
	p.OnTopStaff(e)
	p.insert(m, e)
}
