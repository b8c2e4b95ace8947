package pdfread

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// signFont is the font of the music signs, whose em is the height of a staff.
const signFont = "DeskSigns"

// symbol is a music sign at its place.
type symbol struct {
	text  string
	at    point
	scale float64 // against full size
	width float64
	taken bool
}

func byX(a, b *symbol) int { return cmp.Compare(a.at.x, b.at.x) }

func (s *symbol) right() float64 { return s.at.x + s.width }
func (s *symbol) small() bool    { return s.scale < 0.9 }

// system is a line of music.
type system struct {
	*block
	symbols []*symbol
	staves  []*staff
	// edges are the barlines, each with its leftmost and rightmost stroke.
	edges []edge
	left  float64 // where the staves begin
	bars  []*bar
	thin  float64 // the thickness of a staff line
}

type edge struct {
	from, to float64
	thick    bool
}

// staff is one staff of a line.
type staff struct {
	index       int
	lines       int
	top, bottom float64
	clefs       []clefAt
	octaves     []octaveLine
}

func (st *staff) middle() float64 { return (st.top + st.bottom) / 2 }

// bar is what stands between two barlines.
type bar struct {
	system   *system
	from, to float64
	// measures is how many bars it stands for: more than one for a multi-bar rest.
	measures int
	number   int // from 0, of its first measure
	keys     []*keyAt
	events   []*event
	length   int64 // as its metre says, in ticks; 0 where that is not known
	columns  []column
	unsure   bool // the values printed do not add up
}

// newSystem finds staves and barlines.
func newSystem(b *block) *system {
	s := &system{block: b}
	for _, l := range b.letters {
		if l.font == signFont {
			s.symbols = append(s.symbols, &symbol{text: l.text, at: l.at, scale: l.size / 4, width: l.width})
		}
	}
	s.findStaves()
	s.findEdges()
	return s
}

func (s *system) findStaves() {
	s.left = math.Inf(1)
	for i := range s.strokes {
		if k := &s.strokes[i]; k.level() && !k.dashed && length(k) > 3 {
			s.left = min(s.left, k.first().x)
		}
	}
	var heights []float64
	for i := range s.strokes {
		if k := &s.strokes[i]; k.level() && !k.dashed && length(k) > 3 && k.first().x < s.left+0.02 {
			heights = append(heights, k.first().y)
			s.thin = k.width
		}
	}
	slices.Sort(heights)
	for i, y := range heights {
		if i == 0 || y-heights[i-1] > 1.05 {
			s.staves = append(s.staves, &staff{index: len(s.staves), top: y})
		}
		last := s.staves[len(s.staves)-1]
		last.lines++
		last.bottom = y
	}
}

func length(k *stroke) float64 { return math.Abs(k.last().x - k.first().x) }

// findEdges finds barlines: they are thicker than stems, and stand on the staff.
func (s *system) findEdges() {
	if len(s.staves) == 0 {
		return
	}
	st := s.staves[0]
	var found []*stroke
	for i := range s.strokes {
		k := &s.strokes[i]
		if !k.upright() || k.width < 1.45*s.thin || k.first().x < s.left+0.02 {
			continue
		}
		top, bottom := ends(k)
		if bottom >= st.top && top <= st.bottom && bottom <= max(st.bottom, st.middle()+1)+0.01 {
			found = append(found, k)
		}
	}
	slices.SortFunc(found, func(a, b *stroke) int { return cmp.Compare(a.first().x, b.first().x) })
	for _, k := range found {
		x := k.first().x
		if n := len(s.edges); n == 0 || x-s.edges[n-1].to > 1 {
			s.edges = append(s.edges, edge{from: x, to: x})
		}
		last := &s.edges[len(s.edges)-1]
		last.to, last.thick = x, last.thick || k.width > 3*s.thin
	}
}

// nearest is the staff that a height is nearest to.
func (s *system) nearest(y float64) *staff {
	best := s.staves[0]
	for _, st := range s.staves {
		if math.Abs(st.middle()-y) < math.Abs(best.middle()-y) {
			best = st
		}
	}
	return best
}

// staffOf is the staff of a head: outside the staves the ledger lines lead to it.
func (s *system) staffOf(h *symbol) *staff {
	best := s.nearest(h.at.y)
	if len(s.staves) == 1 || h.at.y > best.top-0.6 && h.at.y < best.bottom+0.6 {
		return best
	}
	for _, st := range s.staves {
		if s.ledgered(st, h) {
			return st
		}
	}
	return best
}

// onStaff reports whether a head stands on a staff or on ledger lines; the others
// are those of metronome marks.
func (s *system) onStaff(h *symbol) bool {
	st := s.nearest(h.at.y)
	if h.at.y > st.top-0.8 && h.at.y < st.bottom+0.8 || st.lines < 5 {
		return true
	}
	return slices.ContainsFunc(s.staves, func(st *staff) bool { return s.ledgered(st, h) })
}

// ledgered reports whether ledger lines lead from a staff to a head.
func (s *system) ledgered(st *staff, h *symbol) bool {
	y, step := st.bottom+1, 1.0
	if h.at.y < st.top {
		y, step = st.top-1, -1
	}
	if math.Abs(h.at.y-y) > 20 || (h.at.y-y)*step < -0.1 {
		return false
	}
	for ; (h.at.y-y)*step > -0.1; y += step {
		if !slices.ContainsFunc(s.strokes, func(k stroke) bool {
			return k.level() && math.Abs(k.first().y-y) < 0.05 && k.first().x < h.at.x+0.3 && k.last().x > h.right()-0.3
		}) {
			return false
		}
	}
	return true
}

// cutBars cuts the line into bars. before is the number of bars on the lines before.
func (s *system) cutBars(before int) {
	from := s.left
	number := before
	end := s.left
	for i := range s.strokes {
		if k := &s.strokes[i]; k.level() && k.first().x < s.left+0.02 {
			end = max(end, k.last().x)
		}
	}
	for i := 0; i <= len(s.edges); i++ {
		to := end + 1
		if i < len(s.edges) {
			to = s.edges[i].from
		}
		b := &bar{system: s, from: from, to: to, measures: 1, number: number}
		leading := i == 0 && len(s.edges) > 1 && s.edges[0].thick && !b.hasMusic()
		trailing := i == len(s.edges) && (!b.hasMusic() || to-from < 2)
		if !leading && !trailing {
			b.countMeasures()
			s.bars = append(s.bars, b)
			number += b.measures
		}
		if i < len(s.edges) {
			from = s.edges[i].to
		}
	}
}

// symbols visits the signs of the bar that are on its staves or near.
func (b *bar) symbols(visit func(*symbol)) {
	for _, y := range b.system.symbols {
		if y.at.x >= b.from && y.at.x < b.to {
			visit(y)
		}
	}
}

const (
	restTexts = "𝄺𝄻𝄼𝄽𝄾𝄿𝅀𝅁𝅂"
	headTexts = "𝅘𝅗𝅝𝅜𝅅𝆺𝆹𝅏𝅎𝅋𝅊𝅓𝅒𝅄𝅇𝅆𝅉𝅈𝅃▼▲"
)

func (y *symbol) isHead() bool {
	return y.text == "/" || y.text != "" && strings.ContainsRune(headTexts, []rune(y.text)[0])
}
func (y *symbol) isRest() bool {
	return len([]rune(y.text)) == 1 && strings.Contains(restTexts, y.text)
}

func (b *bar) hasMusic() bool {
	has := false
	b.symbols(func(y *symbol) {
		has = has || y.isHead() || y.isRest() || y.text == "𝄎" || y.text == "𝄏"
	})
	for i := range b.system.shapes {
		p := b.system.shapes[i]
		has = has || p.rect && p.points[0].x > b.from && p.points[2].x < b.to
	}
	return has
}

// countMeasures reads the number over a multi-bar rest.
func (b *bar) countMeasures() {
	for i := range b.system.shapes {
		p := &b.system.shapes[i]
		st := b.system.staves[0]
		if !p.rect || p.points[0].x < b.from || p.points[2].x > b.to+1 || math.Abs(p.points[2].y-p.points[0].y) > 0.8 || p.points[2].x-p.points[0].x < 0.5 ||
			math.Abs((p.points[0].y+p.points[2].y)/2-st.middle()) > 0.1 {
			continue
		}
		var digits []*symbol
		b.symbols(func(y *symbol) {
			if y.text >= "0" && y.text <= "9" && y.at.y < max(st.top, st.middle()-1) && y.at.x > p.points[0].x && y.at.x < p.points[2].x && y.at.y > st.top-9 {
				digits = append(digits, y)
			}
		})
		slices.SortFunc(digits, byX)
		n := 0
		for _, d := range digits {
			n = 10*n + int(d.text[0]-'0')
			d.taken = true
		}
		b.measures = max(1, n)
		b.columns = nil
	}
}
