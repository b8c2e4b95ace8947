package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// concertHarmony moves a chord symbol of the whole system from the pitch that its
// part is written in to sounding pitch.
func (s *Survey) concertHarmony(harmony *etree.Element, measure int) *etree.Element {
	return moveSymbol(harmony, s.sourceAt(measure), transpose.Transposition{})
}

// sourceAt is what the part's <transpose> says at the start of a measure.
func (s *Survey) sourceAt(measure int) transpose.Transposition {
	var t transpose.Transposition
	for _, stretch := range s.Source {
		if stretch.Measure <= measure && stretch.Staff <= 1 {
			t = stretch.To
		}
	}
	return t
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
	moved.Remove()
	return moved
}

// placeHarmony writes a chord symbol of the system in the pitch that the source
// writes this part in; it then moves with the part.
func (p *placer) placeHarmony(m mark) {
	e := moveSymbol(m.harmony, transpose.Transposition{}, p.survey.sourceAt(m.measure))
	if p.staves > 1 {
		musicxml.SetChildText(e, "staff", "1")
	}
	p.insert(m, e)
}
