package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// drawSlides draws the lines of glissandi of a staff, from head to head; over a
// line's end they go on.
func (s *system) drawSlides(st *staffInk) {
	for i := range s.l.slides {
		if staff, crosses := s.slurStaff(&s.l.slides[i]); !crosses && staff == st.index {
			s.slide(st.ink, &s.l.slides[i], func(*figure) float64 { return 0 })
		}
	}
}

// slide draws a line from note to note, or its piece on this line.
func (s *system) slide(k *ink, sl *slur, down func(*figure) float64) {
	var from, to *figure
	if sl.fromBar >= s.first {
		from = s.figures[sl.from]
	}
	if sl.toBar < s.end {
		to = s.figures[sl.to]
	}
	if from == nil && to == nil || from != nil && from.isRest() || to != nil && to.isRest() || sl.fromBar >= s.first && from == nil || sl.toBar < s.end && to == nil {
		return
	}
	x1, x2 := s.bars[0].start-0.5, s.lineEnd()-0.2
	var y1, y2 float64
	if from != nil {
		x1, y1 = from.x+from.dx+from.headWidth()+0.3, from.slideHeight()+down(from)
		for _, d := range from.dots {
			x1 = max(x1, from.x+d.dx+d.shape.width()+0.3)
		}
		k.of(from)
	}
	if to != nil {
		x2, y2 = to.x+to.inkLeft-0.3, to.slideHeight()+down(to)
		if from == nil {
			k.of(to)
		}
	}
	switch {
	case from == nil:
		y1 = y2
	case to == nil:
		y2 = y1
	case from.isTablature() && to.isTablature() && y1 == y2: // aslant on its string, as the pitch goes
		rise := 0.35
		if to.heads[0].note.sound() < from.heads[0].note.sound() {
			rise = -rise
		}
		y1, y2 = y1+rise, y2-rise
	}
	if x2-x1 < 0.5 {
		return
	}
	inset := 0.25 * (y2 - y1) / (x2 - x1)
	k.slideLine(sl, x1, y1+inset, x2, y2-inset)
}

// slideHeight is the head that a line leads from or to.
func (f *figure) slideHeight() float64 {
	if f.isTablature() {
		return y(f.highest())
	}
	return f.stemStart()
}

// slideLine draws the line with its text.
func (k *ink) slideLine(sl *slur, x1, y1, x2, y2 float64) {
	k.styled(display.RoleGlissando, sl.line, x1, y1, x2, y2)
	if width := textWidth(display.RoleOctave, sl.text); sl.text != "" && width < x2-x1 {
		x := (x1 + x2 - width) / 2
		at := y1 + (y2-y1)*(x+width/2-x1)/(x2-x1)
		k.text(display.RoleWords, display.Start, sl.text, x, at-0.4-math.Abs(y2-y1)/(x2-x1)*width/2)
	}
}

// styled draws a straight line, broken or wavy as it is to be.
func (k *ink) styled(role display.Role, line LineType, x1, y1, x2, y2 float64) {
	if line == Wavy {
		length := math.Hypot(x2-x1, y2-y1)
		share := math.Floor(length*2) / 2 / length
		if share > 0 {
			k.wave(role, x1, y1, x1+(x2-x1)*share, y1+(y2-y1)*share, -0.45)
		}
		return
	}
	k.line(role, x1, y1, x2, y2)
	last := &k.items[len(k.items)-1]
	if l, ok := last.Shape.(display.Line); ok && line != Solid {
		l.Dash, l.Gap = 0.6, 0.4
		if line == Dotted {
			l.Dash, l.Gap = 0.12, 0.35
		}
		last.Shape = l
	}
}

// drawTremolos draws the beams between two notes that are played in turn.
func (st *staffInk) drawTremolos() {
	for i, f := range st.figures {
		if f.event.TremoloTo <= 0 {
			continue
		}
		for _, next := range st.figures[i+1:] {
			if next.voice == f.voice && !next.event.Grace {
				st.tremoloBetween(f, next)
				break
			}
		}
	}
}

func (st *staffInk) tremoloBetween(f, next *figure) {
	st.of(f)
	y1, x1 := f.tremoloPlace()
	y2, x2 := next.tremoloPlace()
	if !f.stem {
		x1 += f.headWidth()/2 + 0.3
		x2 -= next.headWidth()/2 + 0.3
	} else {
		x1, x2 = x1+0.5, x2-0.5
	}
	rise := max(-0.6, min(0.6, (y2-y1)*0.3))
	middle, half := (y1+y2)/2, float64(f.event.TremoloTo)*beamStep/2
	if next.accidentalsReach(middle-half, middle+half) {
		x2 = min(x2, next.x+next.inkLeft-0.2)
	}
	if x2 <= x1 {
		return
	}
	for level := range f.event.TremoloTo {
		at := middle + (float64(level)-float64(f.event.TremoloTo-1)/2)*beamStep - beamThickness/2
		st.beam(display.RoleTremolo, x1, at-rise/2, x2, at+rise/2, beamThickness)
	}
}

// tremoloRoom is kept between two stems for the strokes of a tremolo from one note to
// the other, with the air at both ends.
const tremoloRoom = 2.2

// accidentalsReach reports whether the accidentals before the figure's heads reach into
// heights of the staff.
func (f *figure) accidentalsReach(top, bottom float64) bool {
	const reach = 1.5 // that of a flat upwards and of a sharp both ways
	for i := range f.heads {
		if at := y(f.heads[i].position); at-reach < bottom && at+reach > top {
			return true
		}
	}
	return false
}

// tremoloPlace is the middle of the stem, or of the head where there is none.
func (f *figure) tremoloPlace() (y, x float64) {
	if f.stem {
		return (f.tip*2 + f.stemStart()) / 3, f.stemX()
	}
	return f.stemStart(), f.center()
}
