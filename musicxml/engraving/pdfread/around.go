package pdfread

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// X is where a moment stands on paper: at its column, or between columns as far as
// its time lies between theirs; false for a moment within a multi-bar rest.
func (p *Part) X(at Place) (system int, x float64, known bool) {
	for number, s := range p.systems {
		for _, b := range s.bars {
			if b.number == at.Measure {
				return number, b.x(at.Onset.Float()), true
			}
		}
	}
	return 0, 0, false
}

func (b *bar) x(onset float64) float64 {
	before := column{b.from + 1, 0}
	if b == b.system.bars[0] {
		before.x = b.system.begins() - 2
	}
	for _, c := range b.columns {
		time := float64(c.onset) / float64(quarter)
		if math.Abs(time-onset) < 1e-9 {
			return c.x
		}
		if time > onset {
			t0 := float64(before.onset) / float64(quarter)
			return before.x + (c.x-before.x)*(onset-t0)/(time-t0)
		}
		before = c
	}
	if length := float64(b.length) / float64(quarter); len(b.columns) == 0 && length > 0 {
		return before.x + (b.to-before.x)*onset/length
	}
	return b.to
}

// placeAt is the moment of the column nearest to an x.
func (s *system) placeAt(x float64) Place {
	best, nearest := Place{}, math.Inf(1)
	for _, b := range s.bars {
		if d := math.Abs(b.from - x); len(b.columns) == 0 && d < nearest {
			best, nearest = Place{Measure: b.number}, d
		}
		for _, c := range b.columns {
			if d := math.Abs(c.x - x); d < nearest {
				best, nearest = Place{b.number, fraction(c.onset)}, d
			}
		}
	}
	return best
}

// hairpin is a hairpin, or the piece of one on a line: how far it is open at its
// ends.
type hairpin struct {
	from, to     point
	open1, open2 float64
}

// hairpins finds them: strokes with one tip, or two that run towards each other.
func (s *system) hairpins() (list []hairpin) {
	for i := range s.strokes {
		k := &s.strokes[i]
		if len(k.points) == 3 && !k.curved && !k.closed && !k.dashed {
			a, tip, c := k.points[0], k.points[1], k.points[2]
			if a.x != c.x || math.Abs(a.y+c.y-2*tip.y) > 0.03 || math.Abs(a.x-tip.x) < 1 {
				continue
			}
			if tip.x < a.x {
				list = append(list, hairpin{from: tip, to: point{a.x, tip.y}, open2: math.Abs(a.y - c.y)})
			} else {
				list = append(list, hairpin{from: point{a.x, tip.y}, to: tip, open1: math.Abs(a.y - c.y)})
			}
		}
		if i+1 < len(s.strokes) {
			if h, is := openHairpin(k, &s.strokes[i+1]); is {
				list = append(list, h)
			}
		}
	}
	return list
}

func openHairpin(a, b *stroke) (hairpin, bool) {
	if len(a.points) != 2 || len(b.points) != 2 || a.curved || b.curved || a.dashed || a.upright() || length(a) < 1 {
		return hairpin{}, false
	}
	open1, open2 := b.first().y-a.first().y, b.last().y-a.last().y
	if a.first().x != b.first().x || a.last().x != b.last().x || open1 <= 0 || open2 <= 0 || open1 == open2 || open1 > 1.5 || open2 > 1.5 {
		return hairpin{}, false
	}
	return hairpin{point{a.first().x, a.first().y + open1/2}, point{a.last().x, a.last().y + open2/2}, open1, open2}, true
}

// readHairpins joins the pieces of hairpins that go on over line ends.
func (p *Part) readHairpins() {
	var going []Span
	for number, s := range p.systems {
		list := s.hairpins()
		slices.SortStableFunc(list, func(a, b hairpin) int { return cmp.Compare(a.from.y, b.from.y) })
		var begun []Span
		for _, h := range list {
			kind := "crescendo"
			if h.open1 > h.open2 {
				kind = "diminuendo"
			}
			span := Span{kind, s.markAt(number, h.from.x), s.markAt(number, h.to.x)}
			if i := slices.IndexFunc(going, func(g Span) bool { return g.Kind == kind }); i >= 0 && h.open1 > 0 && h.from.x < s.begins() {
				span.From = going[i].From
				going = slices.Delete(going, i, i+1)
			}
			if h.open2 > 0 && h.to.x > s.bars[len(s.bars)-1].to-1.5 {
				begun = append(begun, span)
				continue
			}
			p.Hairpins = append(p.Hairpins, span)
		}
		p.Hairpins = append(p.Hairpins, going...)
		going = begun
	}
	p.Hairpins = append(p.Hairpins, going...)
}

// begins is where the first notes of a line may stand, behind clef and signatures.
func (s *system) begins() float64 {
	x := s.bars[0].from
	for _, y := range s.symbols {
		_, clef := clefSteps[y.text]
		if (clef || y.taken) && y.at.x < s.bars[0].to && y.at.x < s.left+14 {
			x = max(x, y.right())
		}
	}
	return x + 4
}

func (s *system) markAt(number int, x float64) Mark {
	return Mark{Place: s.placeAt(x), System: number, X: x}
}

// dynamicLetters are those of dynamics.
var dynamicLetters = map[string]string{"𝆏": "p", "𝆐": "m", "𝆑": "f", "𝆌": "r", "𝆍": "s", "𝆎": "z"}

// readDynamics joins letters of dynamics that stand side by side.
func (p *Part) readDynamics(number int, s *system) {
	var open *Mark
	var right, height float64
	for _, y := range s.symbols {
		letter := dynamicLetters[y.text]
		if letter == "" || y.small() {
			open = nil
			continue
		}
		if open != nil && y.at.y == height && y.at.x-right < 0.3 && y.at.x > open.X {
			open.Text += letter
		} else {
			p.Dynamics = append(p.Dynamics, s.markAt(number, y.at.x))
			open = &p.Dynamics[len(p.Dynamics)-1]
			open.Text = letter
		}
		right, height = y.right(), y.at.y
	}
}

// readWords joins letters of several fonts that stand on one line.
func (p *Part) readWords(number int, s *system) {
	var right, height float64
	joins := false
	for _, l := range s.letters {
		if l.font == signFont {
			joins = false
			continue
		}
		if joins && l.at.y == height && math.Abs(l.at.x-right) < 0.05 {
			p.Words[len(p.Words)-1].Text += l.text
		} else {
			m := s.markAt(number, l.at.x)
			m.Text = l.text
			p.Words = append(p.Words, m)
		}
		right, height, joins = l.at.x+l.width, l.at.y, true
	}
	for i := range p.Words {
		p.Words[i].Text = strings.Join(strings.Fields(p.Words[i].Text), " ")
	}
}

// Length is the distance of two moments on one line, 0 where they stand on two.
func (p *Part) Length(from, to Place) float64 {
	line1, x1, known1 := p.X(from)
	line2, x2, known2 := p.X(to)
	if !known1 || !known2 || line1 != line2 {
		return 0
	}
	return x2 - x1
}
