package draft

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// EnsureDivisions writes the divisions of a part that leaves them out, as only a
// part without notes may (MusicXML 4.0, divisions).
func (s *Draft) EnsureDivisions() {
	if len(s.Timeline.Measures) == 0 || s.DivisionsBefore(0, nil) != (musicxml.Fraction{}) {
		return
	}
	if attributes := s.AttributesJustAt(musicxml.Position{}); attributes != nil {
		musicxml.SetChildText(attributes, "divisions", "1")
		s.divided = nil
	}
}

// DivisionsBefore is how many divisions a quarter note has before an element of a
// measure, or at the measure's end for nil; 0 where the part has not said.
func (s *Draft) DivisionsBefore(measure int, before *etree.Element) musicxml.Fraction {
	found := s.divisionsIn(measure, before)
	if found.Sign() == 0 && measure > 0 {
		if last := s.lastDivisions(measure - 1); last >= 0 {
			return s.divisionsIn(last, nil)
		}
	}
	return found
}

// lastDivisions is the last measure up to one of that place that says divisions, -1 for
// none. It is found out for all measures at once: most parts say them once, and to look
// back from each measure would cost the square of their number.
func (s *Draft) lastDivisions(measure int) int {
	if s.divided == nil {
		s.divided = make([]int32, len(s.Timeline.Measures))
		last := int32(-1)
		for m := range s.divided {
			if s.divisionsIn(m, nil).Sign() != 0 {
				last = int32(m)
			}
			s.divided[m] = last
		}
	}
	return int(s.divided[measure])
}

// divisionsIn is what a measure itself says before one of its elements, or in all for
// nil; 0 where it says nothing.
func (s *Draft) divisionsIn(measure int, before *etree.Element) musicxml.Fraction {
	var found musicxml.Fraction
	for i := range s.Timeline.Measures[measure].Events {
		ev := &s.Timeline.Measures[measure].Events[i]
		if ev.Element == before && before != nil {
			break
		}
		if ev.Kind == musicxml.Attributes {
			if d, err := musicxml.ParseFraction(musicxml.ChildText(ev.Element, "divisions")); err == nil {
				found = d
			}
		}
	}
	return found
}

// InDivisions writes a length of time, in quarter notes, in the divisions in force
// before an element. Where they are too coarse the whole part gets finer ones.
func (s *Draft) InDivisions(measure int, before *etree.Element, length musicxml.Fraction) string {
	divisions := s.DivisionsBefore(measure, before)
	if divisions.Sign() == 0 {
		divisions = musicxml.NewFraction(1, 1)
	}
	count := length.Mul(divisions)
	if den := count.Den(); den != 1 {
		refine(s.Part, musicxml.NewFraction(den, 1))
		s.Rewritten()
		count = count.Mul(musicxml.NewFraction(den, 1))
	}
	return Decimal(count)
}

// Decimal writes a number of divisions.
func Decimal(n musicxml.Fraction) string {
	if n.Den() == 1 {
		return n.String()
	}
	return strconv.FormatFloat(n.Float(), 'f', -1, 64)
}

// refine multiplies the divisions of a part and everything that is counted in
// them. Nothing sounds or looks otherwise for it.
func refine(e *etree.Element, by musicxml.Fraction) {
	switch e.Tag {
	case "divisions", "duration", "offset":
		if n, err := musicxml.ParseFraction(musicxml.Text(e)); err == nil {
			musicxml.SetText(e, Decimal(n.Mul(by)))
		}
	case "sound", "barline":
		if n, err := musicxml.ParseFraction(musicxml.Attr(e, "divisions")); err == nil {
			e.CreateAttr("divisions", Decimal(n.Mul(by)))
		}
	}
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok {
			refine(c, by)
		}
	}
}

// CommonDivisions is the least number of divisions in which all durations of some parts
// can be counted.
func CommonDivisions(parts ...*etree.Element) int64 {
	common := int64(1)
	for _, part := range parts {
		for _, attributes := range musicxml.Along(part, "measure", "attributes") {
			if d, err := musicxml.ParseFraction(musicxml.ChildText(attributes, "divisions")); err == nil && d.Sign() > 0 {
				common = multiple(common, d.Num())
			}
		}
	}
	return common
}

func multiple(a, b int64) int64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// Unify counts the whole part in so many divisions, of which those that it has must be
// divisors.
func Unify(part *etree.Element, divisions int64) {
	factor, said := musicxml.NewFraction(divisions, 1), false
	for _, measure := range musicxml.Children(part, "measure") {
		for e := range measure.ChildElementsSeq() {
			if n, err := musicxml.ParseFraction(musicxml.ChildText(e, "divisions")); err == nil {
				factor, said = musicxml.NewFraction(divisions, 1).Div(n), true
			}
			if factor != musicxml.NewFraction(1, 1) {
				refine(e, factor)
			}
		}
	}
	if first := musicxml.Child(part, "measure"); !said && first != nil {
		attributes := musicxml.Child(first, "attributes")
		if attributes == nil {
			attributes = etree.NewElement("attributes")
			first.InsertChildAt(0, attributes)
		}
		musicxml.SetChildText(attributes, "divisions", musicxml.NewFraction(divisions, 1).String())
	}
}
