package engraving

import "deskpart/musicxml/engraving/display"

// drawSlides draws the lines of glissandi from head to head, as far as both are on
// this line.
func (s *system) drawSlides(st *staffInk) {
	for _, sl := range s.l.slides[st.index] {
		from, to := s.figures[sl.from], s.figures[sl.to]
		if from == nil || to == nil || from.isRest() || to.isRest() || to.x <= from.x {
			continue
		}
		y1, y2 := from.stemStart(), to.stemStart()
		x1, x2 := from.x+from.dx+from.headWidth()+0.4, to.x+to.dx-0.4
		if x2-x1 > 0.5 {
			slope := (y2 - y1) / (x2 - x1)
			st.of(from)
			st.line(display.RoleGlissando, x1, y1+0.3*slope, x2, y2-0.3*slope)
		}
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
	x2 = min(x2, next.x+next.inkLeft-0.2)
	if x2 <= x1 {
		return
	}
	rise := max(-0.6, min(0.6, (y2-y1)*0.3))
	middle := (y1 + y2) / 2
	for level := range f.event.TremoloTo {
		at := middle + (float64(level)-float64(f.event.TremoloTo-1)/2)*beamStep - beamThickness/2
		st.beam(display.RoleTremolo, x1, at-rise/2, x2, at+rise/2, beamThickness)
	}
}

// tremoloPlace is the middle of the stem, or of the head where there is none.
func (f *figure) tremoloPlace() (y, x float64) {
	if f.stem {
		return (f.tip*2 + f.stemStart()) / 3, f.stemX()
	}
	return f.stemStart(), f.center()
}
