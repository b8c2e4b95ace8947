package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
	"deskpart/transpose/pitch"
)

// tieOffset is how far the tips of a tie lie from the middle of its note head, on
// the side of the tie's bow. It is the same for every tie, so that a reader can
// find the note from the tie.
const tieOffset = 0.5

// tieTip is where a tie leads: a head, and its figure.
type tieTip struct {
	to   *figure
	head *headInk
}

// crossTie is a tie from one staff to another.
type crossTie struct {
	from *figure
	head *headInk
	tip  tieTip
}

// pairTies finds the note that each tie of the line leads to: on its own staff, and
// where none is there, on another.
func (s *system) pairTies() {
	s.tied, s.arrived, s.crossTies = map[*Note]tieTip{}, map[*Note]bool{}, nil
	for _, away := range []bool{false, true} {
		for _, st := range s.staves {
			for i, f := range st.figures {
				for k := range f.heads {
					h := &f.heads[k]
					if h.note.Hidden || !h.note.TieTo || s.tied[h.note].to != nil {
						continue
					}
					t := s.tieTarget(st.figures[i+1:], f, h.note)
					for n := 0; away && t.to == nil && n < len(s.staves); n++ {
						t = s.tieTarget(s.staves[n].figures, f, h.note)
					}
					if t.to == nil {
						continue
					}
					s.tied[h.note], s.arrived[t.head.note] = t, true
					if away {
						s.crossTies = append(s.crossTies, crossTie{f, h, t})
					}
				}
			}
		}
	}
}

// drawTies draws the ties of a staff: to the note that they lead to, to the end of
// the line where that is on the next, and from its beginning.
func (s *system) drawTies(st *staffInk) {
	for _, f := range st.figures {
		for k := range f.heads {
			h := &f.heads[k]
			t := s.tied[h.note]
			if h.note.Hidden || !h.note.TieTo && !h.note.Open || t.to != nil && t.to.staff.index != st.index {
				continue
			}
			up := f.tieUp(k)
			left, end := f.tieStart(h, up), h.position
			right := left + 2.2
			switch {
			case t.to != nil:
				end = t.head.position
				right = t.to.tieEnd(t.head, up)
				otherLeft, otherRight := f.tieStart(h, !up), t.to.tieEnd(t.head, !up)
				if st.turnsTie(f, tieBow(left, right, h.position, end, up), tieBow(otherLeft, otherRight, h.position, end, !up)) {
					up, left, right = !up, otherLeft, otherRight
				}
			case h.note.TieTo && s.lastMoment(f):
				right = s.lineEnd()
			}
			st.of(f)
			st.owner.Note = h.number
			st.tie(left, right, h.position, end, up, h.note.TieLine)
		}
	}
	s.arrivingTies(st)
}

// crossTie draws a tie from staff to staff, on the side where it meets least ink.
func (s *system) crossTie(k *ink, t *crossTie, down func(*figure) float64) {
	var best slurInk
	cost := math.Inf(1)
	for _, up := range []bool{true, false} {
		if side := t.head.note.TieSide; side != SideAuto && up != (side == Above) {
			continue
		}
		b := tieBow(t.from.tieStart(t.head, up), t.tip.to.tieEnd(t.tip.head, up), t.head.position, t.tip.head.position, up)
		way := slurInk{x1: float64(b.From.X), x2: float64(b.To.X), up: up, height: float64(b.Height), line: t.head.note.TieLine,
			from: t.from, to: t.tip.to, down1: down(t.from), down2: down(t.tip.to)}
		way.y1, way.y2 = float64(b.From.Y)+way.down1, float64(b.To.Y)+way.down2
		if c := way.meets(s.crossInk(&way, down)); c < cost {
			best, cost = way, c
		}
	}
	k.of(t.from)
	k.owner.Note = t.head.number
	k.anyBow(display.RoleTie, best.shape(), best.line)
	k.owner.Note = 0
	s.keepArch(&best, down)
}

// arrivingTies draws the second halves of ties that began on the line before, or
// before the first ending of a repeat.
func (s *system) arrivingTies(st *staffInk) {
	for _, f := range st.figures {
		p := s.bars[f.bar-s.first]
		if f.bar == 0 || f.event.Onset.Sign() != 0 || f.bar != s.first && !s.l.music.Bars[f.bar].Ending.Start {
			continue
		}
		for k := range f.heads {
			h := &f.heads[k]
			if h.note.TieFrom && !s.arrived[h.note] && !h.note.Hidden {
				up := f.tieUp(k)
				right := f.tieEnd(h, up)
				st.of(f)
				st.owner.Note = h.number
				st.tie(max(p.start-0.2, right-2.5), right, h.position, h.position, up, h.note.TieLine)
			}
		}
	}
}

// lineEnd is the x where a line's music ends.
func (s *system) lineEnd() float64 {
	return s.bars[len(s.bars)-1].end
}

// tieTarget finds the note that a tie leads to: of the same sound, just when the note
// ends, in the same place and the same voice if it can be, and not one that has its tie
// already.
func (s *system) tieTarget(later []*figure, f *figure, n *Note) (best tieTip) {
	end := s.l.starts[f.bar].Add(f.event.Onset).Add(f.event.Duration)
	near := func(t tieTip) int {
		rank := 0
		if t.head.note.Place == n.Place {
			rank = 2
		}
		if t.to.voice == f.voice {
			rank++
		}
		return rank
	}
	for _, other := range later {
		begin := s.l.starts[other.bar].Add(other.event.Onset)
		if end.Less(begin) {
			break
		}
		if other.event == f.event || begin.Less(end) {
			continue
		}
		for k := range other.heads {
			h := &other.heads[k]
			if !h.note.TieFrom || h.note.Hidden || s.arrived[h.note] || h.note.Place != n.Place && h.note.sound() != n.sound() {
				continue
			}
			if t := (tieTip{other, h}); best.to == nil || near(t) > near(best) {
				best = t
			}
		}
	}
	return best
}

// sound is the same for two places of one sound: where an octave line begins or ends
// between them, and where they are spelled otherwise.
func (n *Note) sound() pitch.Alter {
	return pitch.Pitch{Step: pitch.Step(n.Step), Octave: n.Octave + n.OctaveLine, Alter: pitch.Alter(math.Round(n.Alter * float64(pitch.Semitone)))}.MIDI()
}

// lastMoment reports whether a figure lasts to the end of the line.
func (s *system) lastMoment(f *figure) bool {
	return f.bar == s.end-1 && !f.event.Onset.Add(f.event.Duration).Less(s.bars[f.bar-s.first].length)
}

// tieStart is the x of a tie's left tip: right of the head and of whatever of its
// column stands beside it: heads, stems, dots, a flag.
func (f *figure) tieStart(h *headInk, up bool) float64 {
	x := f.x + f.dx + h.dx + h.width()
	for _, other := range f.beside() {
		if _, right, any := other.at(y(h.position), other == f && up == f.up); any {
			x = max(x, right)
		}
	}
	for _, other := range f.beside() {
		for _, d := range other.dots {
			if other == f || math.Abs(d.y-y(h.position)) < 0.8 {
				x = max(x, other.x+d.dx+d.shape.width())
			}
		}
	}
	if flag, ok := f.flag(); ok && up && f.up && f.tip+flag.box().bottom > y(h.position)-tieOffset-0.6 {
		x = max(x, f.stemX()+flag.box().right)
	}
	return x + 0.05
}

// tieEnd is the x of a tie's right tip: left of the head and of whatever of its
// column stands beside it, of its accidental, and of others that its bow would meet.
func (f *figure) tieEnd(h *headInk, up bool) float64 {
	height := y(h.position)
	x := f.x + f.dx + h.dx
	for _, other := range f.beside() {
		if left, _, any := other.at(height, false); any {
			x = min(x, left)
		}
	}
	if f.column != nil {
		inner, outer := height+outwards(up)*(tieOffset-0.1), height+outwards(up)*(tieOffset+0.6)
		for _, a := range f.column.cells[f.staff.index].accidentals {
			if a.y == height || a.y+a.shape.box().top < max(inner, outer) && a.y+a.shape.box().bottom > min(inner, outer) {
				x = min(x, f.x+a.dx)
			}
		}
	}
	return x - 0.05
}

// beside are the figures of the column on the staff, the figure itself among them.
func (f *figure) beside() []*figure {
	if f.column == nil {
		return []*figure{f}
	}
	return f.column.cells[f.staff.index].figures
}

// at bounds heads and stem of a figure at a height; its own stem where stem is set.
func (f *figure) at(height float64, stem bool) (left, right float64, any bool) {
	grow := func(l, r float64) {
		if !any {
			left, right, any = l, r, true
			return
		}
		left, right = min(left, l), max(right, r)
	}
	for i := range f.heads {
		if h := &f.heads[i]; math.Abs(y(h.position)-height) < 0.6 && !h.note.Hidden {
			grow(f.x+f.dx+h.dx, f.x+f.dx+h.dx+h.width())
		}
	}
	if f.stem && len(f.heads) > 0 {
		far := y(f.lowest())
		if !f.up {
			far = y(f.highest())
		}
		if within := height > min(far, f.tip)-0.5 && height < max(far, f.tip)+0.5; within && (stem || any) {
			grow(f.stemX()-stemThickness/2, f.stemX()+stemThickness/2)
		}
	}
	return left, right, any
}

// tieUp says on which side a tie bows: away from the stem, in chords outwards, in
// shared staves to the voice's side.
func (f *figure) tieUp(k int) bool {
	if side := f.heads[k].note.TieSide; side != SideAuto {
		return side == Above
	}
	n := len(f.heads)
	switch {
	case f.shared && n == 1:
		return f.upper
	case n == 1:
		return !f.pointsUp()
	case 2*k+1 == n:
		return !f.pointsUp()
	}
	return 2*k+1 > n
}

// pointsUp is the stem's direction, or the direction it would have.
func (f *figure) pointsUp() bool {
	if f.stem {
		return f.up
	}
	return autoUp(f.lowest(), f.highest())
}

// outwards is the direction of what goes up, or down: heights count downwards.
func outwards(up bool) float64 {
	if up {
		return -1
	}
	return 1
}

// tie draws a tie between two positions; they differ across a
// change of clef, an octave line's end and another spelling.
func (st *staffInk) tie(left, right float64, from, to int, up bool, line LineType) {
	b := tieBow(left, right, from, to, up)
	st.anyBow(display.RoleTie, b, line)
	edge := (b.From.Y+b.To.Y)/2 + b.Height*0.8
	st.sky.add(float64(b.From.X), float64(b.To.X), float64(min(b.From.Y, b.To.Y, edge)), float64(max(b.From.Y, b.To.Y, edge)))
}

// tieBow is the bow of a tie; the shortest is seen, too.
func tieBow(left, right float64, from, to int, up bool) display.Bow {
	if right-left < 0.9 {
		middle := (left + right) / 2
		left, right = middle-0.45, middle+0.45
	}
	sign := outwards(up)
	height := sign * min(1.1, 0.55+0.03*(right-left))
	return display.Bow{From: place(left, y(from)+sign*tieOffset), To: place(right, y(to)+sign*tieOffset), Height: display.Spaces(height), Thickness: 0.32}
}

// turnsTie reports whether the tie of a single note goes on its other side: where it
// would run through a head of another voice, and does not there. What the part asks
// for gives way to that, too.
func (st *staffInk) turnsTie(f *figure, usual, turned display.Bow) bool {
	return len(f.heads) == 1 && st.meetsHead(usual) && !st.meetsHead(turned)
}

// meetsHead reports whether a bow runs through a head.
func (st *staffInk) meetsHead(b display.Bow) bool {
	const samples, half = 16, 0.5
	for _, f := range st.figures {
		if f.x > float64(b.To.X) {
			break
		}
		for _, h := range f.heads {
			x, height := f.x+f.dx+h.dx, y(h.position)
			for i := 1; i < samples && x+h.width() > float64(b.From.X); i++ {
				p := b.At(float64(i) / samples)
				if dx, dy := float64(p.X)-x, float64(p.Y)-height; dx > 0 && dx < h.width() && math.Abs(dy) < half {
					return true
				}
			}
		}
	}
	return false
}
