package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// takeMeasures turns a timewise score, whose measures hold parts, into parts
// that hold measures. Every part gets every measure: a measure that a part is
// not in stays empty, so that the bars keep their numbers. What stands between
// the parts of a measure goes to the start of the next part's measure, and what
// follows the last one to its end.
func (s *Score) takeMeasures(c *cutter) error {
	t := &transposer{text: c.text, parts: map[string]*timePart{}, allowed: 4*len(c.text) + 16<<20}
	err := s.sortOut(func(token etree.Token, before []etree.Token) (bool, error) {
		e, ok := token.(*etree.Element)
		if !ok || e.Space != "" || e.Tag != "measure" {
			return false, nil
		}
		return true, t.measure(c, e, before)
	})
	if err != nil {
		return err
	}
	s.sayPartwise()
	s.Parts, err = t.finish(c)
	return err
}

// transposer exchanges rows and columns of a timewise score.
type transposer struct {
	text     string
	measures int // so far
	opens    []measureTag
	order    []string
	parts    map[string]*timePart
	filled   int // bytes of empty measures so far
	allowed  int // bytes of empty measures
}

// measureTag is the start tag of a measure. Its id may stand in the document
// only once and so goes to the first part alone.
type measureTag struct{ first, others string }

// timePart is a part that is being gathered.
type timePart struct {
	RawPart
	text     []byte
	first    bool // of the parts
	measures int  // gathered so far
}

// measure gives each part what a measure has of it.
func (t *transposer) measure(c *cutter, shell *etree.Element, before []etree.Token) error {
	cut := c.measures[t.measures]
	t.opens = append(t.opens, newMeasureTag(shell))
	var part *timePart
	lead := before
	for _, token := range shell.Child {
		if next := len(cut.parts); next == 0 || token != etree.Token(cut.parts[0].mark) {
			lead = append(lead, token)
			continue
		}
		var err error
		if part, err = t.cell(c, cut.parts[0], lead); err != nil {
			return err
		}
		lead, cut.parts = nil, cut.parts[1:]
	}
	if part != nil {
		part.text = trimMeasureEnd(part.text)
		part.text = append(appendTokens(part.text, lead), measureEnd...)
	}
	t.measures++
	return nil
}

const measureEnd = "</measure>"

func trimMeasureEnd(text []byte) []byte { return text[:len(text)-len(measureEnd)] }

// cell adds what the current measure has of one part.
func (t *transposer) cell(c *cutter, cut partCut, lead []etree.Token) (*timePart, error) {
	part, err := t.part(c, cut)
	if err != nil {
		return nil, err
	}
	if part.measures > t.measures {
		return nil, c.fault(cut.start, notice.DuplicatePart, mend, "a measure has the part %s twice", quote(part.ID))
	}
	if err := t.fill(c, part, t.measures); err != nil {
		return nil, err
	}
	part.text = append(part.text, t.open(part)...)
	part.text = appendTokens(part.text, lead)
	part.pieces = append(part.pieces, piece{pos: len(part.text), at: cut.from})
	part.text = append(part.text, t.text[cut.from:cut.to]...)
	part.text = append(part.text, measureEnd...)
	part.measures++
	part.weight = part.weight.plus(cut.weight).plus(Weight{Elements: 1, Measures: 1})
	return part, nil
}

// part returns the part to which a cut belongs.
func (t *transposer) part(c *cutter, cut partCut) (*timePart, error) {
	id := idOf(cut.mark)
	part := t.parts[id]
	if part != nil {
		return part, nil
	}
	if len(t.parts) >= c.limits.Parts {
		return nil, c.fault(cut.start, notice.TooManyParts, raiseLimit, "the score has more than %d parts", c.limits.Parts)
	}
	part = &timePart{RawPart: RawPart{ID: id, pieces: []piece{{at: cut.start}}}, first: len(t.parts) == 0}
	part.text = appendStartTag(nil, cut.mark)
	t.parts[id] = part
	t.order = append(t.order, id)
	return part, nil
}

// fill adds empty measures until the part has n. A score of many parts that are
// hardly ever there must not grow without bounds.
func (t *transposer) fill(c *cutter, part *timePart, n int) error {
	for part.measures < n {
		size := len(part.text)
		part.text = append(append(part.text, t.open(part)...), measureEnd...)
		part.measures++
		part.weight = part.weight.plus(Weight{Elements: 1, Measures: 1})
		if t.filled += len(part.text) - size; t.filled > t.allowed {
			return c.fault(c.pos, notice.TooLarge, "export it partwise", "too many measures of this timewise score are without too many of its parts")
		}
	}
	return nil
}

// open returns the start tag of the part's next measure.
func (t *transposer) open(part *timePart) string {
	if part.first {
		return t.opens[part.measures].first
	}
	return t.opens[part.measures].others
}

func newMeasureTag(shell *etree.Element) measureTag {
	first := string(appendStartTag(nil, shell))
	if shell.RemoveAttr("id") == nil {
		return measureTag{first, first}
	}
	return measureTag{first, string(appendStartTag(nil, shell))}
}

// finish returns the parts.
func (t *transposer) finish(c *cutter) ([]RawPart, error) {
	var parts []RawPart
	for _, id := range t.order {
		part := t.parts[id]
		if err := t.fill(c, part, t.measures); err != nil {
			return nil, err
		}
		part.text = append(part.text, "</part>"...)
		part.data = shared(part.text)
		parts = append(parts, part.RawPart)
	}
	return parts, nil
}

// sayPartwise makes the header that of a partwise score.
func (s *Score) sayPartwise() {
	s.Header.Root().Tag = "score-partwise"
	words := strings.NewReplacer("score-timewise", "score-partwise", "Timewise", "Partwise", "timewise.dtd", "partwise.dtd")
	for _, t := range s.Header.Child {
		if d, ok := t.(*etree.Directive); ok {
			external, subset, found := strings.Cut(d.Data, "[")
			if d.Data = words.Replace(external); found {
				d.Data += "[" + subset
			}
		}
	}
}
