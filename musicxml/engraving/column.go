package engraving

import (
	"slices"
	"sort"

	"deskpart/musicxml"
)

// column is a moment of a bar across all staves. Its x is the left edge of
// ordinary note heads.
type column struct {
	onset musicxml.Fraction
	// order sorts columns of one onset: signs first, then grace notes from far to
	// near, then the notes (0).
	order int
	cells []cell
	x     float64
	// silent events take their time unseen.
	silent []*Event
	// ideal is the wanted distance to the next column of order 0 or the end of
	// the bar.
	ideal float64
}

// The orders of signs before the notes of a moment.
const (
	orderBarline = -301 + iota
	orderClef
	orderKey
	orderTime
)

// cell is what one staff has in a column.
type cell struct {
	figures []*figure
	// hidden are those that are not drawn, but what stands at them is.
	hidden      []*figure
	accidentals []accidentalInk
	group       signGroup
	// left and right bound the ink around the column's x; filled says whether
	// there is any.
	left, right float64
	filled      bool
	// rows are texts that must not meet their neighbours of the same row.
	rows []textRow
}

// textRow is the extent of a syllable or chord symbol around the column's x.
type textRow struct {
	key         string
	left, right float64
	// give is how far the text may be moved left to stay within its line.
	give float64
	// closed says that the barline stands behind the text.
	closed bool
}

// barPlan is one bar of all staves, ready to be spaced.
type barPlan struct {
	index   int
	columns []*column
	// closing are clef changes of the next bar, drawn before this bar's barline.
	closing []cell
	// centered are whole-bar rests.
	centered []*figure
	groups   []*beamGroup
	// crossing are beams with notes on several staves.
	crossing []*crossGroup
	// arpeggios reach over several staves.
	arpeggios []crossArpeggio
	length    musicxml.Fraction
	// x, start, end are set by spacing: the left barline, where music begins, and
	// the right barline.
	x, start, end float64
}

// columnAt returns the column of a moment, adding it in order.
func (p *barPlan) columnAt(onset musicxml.Fraction, order, staves int) *column {
	i := sort.Search(len(p.columns), func(i int) bool {
		c := p.columns[i]
		if cmp := c.onset.Cmp(onset); cmp != 0 {
			return cmp > 0
		}
		return c.order >= order
	})
	if i < len(p.columns) && p.columns[i].onset == onset && p.columns[i].order == order {
		return p.columns[i]
	}
	c := &column{onset: onset, order: order, cells: make([]cell, staves)}
	p.columns = slices.Insert(p.columns, i, c)
	return c
}

// finish arranges a cell and measures it.
func (c *cell) finish() {
	shiftVoices(c.figures)
	clearRests(c.figures)
	c.accidentals = arrangeAccidentals(c.figures)
	grow := func(left, right float64) {
		if !c.filled {
			c.left, c.right, c.filled = left, right, true
			return
		}
		c.left, c.right = min(c.left, left), max(c.right, right)
	}
	for _, f := range c.figures {
		f.arrangeDots()
		grow(f.extent())
	}
	for _, a := range c.accidentals {
		grow(a.dx, a.dx+a.width())
	}
	for _, f := range c.figures {
		if f.event.Arpeggio != NoArpeggio {
			grow(c.left-0.9, c.right)
		}
	}
	if !c.group.empty() {
		grow(0, c.group.width)
	}
	for _, f := range c.figures {
		f.inkLeft = min(0, c.left)
	}
}

// tieRoom is kept behind a note for its tie, which with the air between columns is then
// about a space long.
const tieRoom = 0.65

// letTiesIn keeps room before the accidentals for ties that come from the line before.
func (c *cell) letTiesIn() {
	tied := func(h headInk) bool { return h.note.TieFrom && !h.note.Hidden }
	if len(c.accidentals) > 0 && slices.ContainsFunc(c.figures, func(f *figure) bool { return slices.ContainsFunc(f.heads, tied) }) {
		c.left -= tieRoom
	}
}

// extent bounds heads, stem, flag and dots around the column's x.
func (f *figure) extent() (left, right float64) {
	if f.isRest() {
		left, right = f.dx+f.rest.dx, f.dx+f.rest.dx+f.rest.shape.width()
	}
	for _, h := range f.heads {
		air := 0.0
		if h.note.Parentheses {
			air = fence
		}
		left, right = min(left, f.dx+h.dx-air), max(right, f.dx+h.dx+h.width()+air)
		if h.note.TieTo && !f.event.Grace {
			right = max(right, f.dx+h.dx+h.width()+tieRoom)
		}
	}
	if s, ok := f.flag(); ok {
		right = max(right, f.stemDX()+s.box().right)
	}
	left, right = f.fallExtent(left, right)
	if f.event.Tremolo > 0 && f.stem {
		left, right = min(left, f.stemDX()-tremoloHalf), max(right, f.stemDX()+tremoloHalf)
	}
	if f.event.TremoloTo > 0 && f.stem {
		right = max(right, f.stemDX()+tremoloRoom-cellGap)
	}
	for _, d := range f.dots {
		right = max(right, d.dx+d.shape.width())
	}
	for _, a := range f.event.Articulations {
		if isBreath(a.Sign) {
			right = max(right, f.breathDX()+shape{name: a.Sign}.width())
		}
	}
	return left, right
}

// flag is the figure's flag, if it has one.
func (f *figure) flag() (shape, bool) {
	v := f.event.Value
	if f.group != nil || !f.stem || v < Eighth || f.isRest() {
		return shape{}, false
	}
	direction := "-down"
	if f.up {
		direction = "-up"
	}
	return shape{"flag-" + min(v, Value128).String() + direction, f.small()}, true
}
