package engraving

import "deskpart/musicxml/engraving/display"

// drawTuplets draws the figures of tuplets, with brackets where no beam joins
// just their notes.
func (s *system) drawTuplets(st *staffInk) {
	for _, p := range s.bars {
		measure := &s.l.music.Staves[st.index].Measures[p.index]
		for _, v := range seenVoices(measure) {
			s.tupletsOf(st, v)
		}
	}
}

func (s *system) tupletsOf(st *staffInk, v Voice) {
	type open struct {
		end   TupletEnd
		first int
	}
	var stack []open
	for i := range v.Events {
		for _, t := range v.Events[i].Tuplets {
			if t.Start {
				stack = append(stack, open{t, i})
			}
		}
		for _, t := range v.Events[i].Tuplets {
			if t.Start {
				continue
			}
			for k := len(stack) - 1; k >= 0; k-- {
				if stack[k].end.ID == t.ID {
					s.tuplet(st, stack[k].end, v.Events[stack[k].first:i+1])
					stack = append(stack[:k], stack[k+1:]...)
					break
				}
			}
		}
	}
}

// tuplet draws one tuplet over its events.
func (s *system) tuplet(st *staffInk, t TupletEnd, events []Event) {
	var members []*figure
	for i := range events {
		if f := s.figures[&events[i]]; f != nil && !f.event.Grace {
			members = append(members, f)
		}
	}
	if len(members) == 0 || t.Text == "" && !t.Bracket {
		return
	}
	first, last := members[0], members[len(members)-1]
	st.of(first)
	up := tupletAbove(t, members)
	left, right := first.x+first.dx-0.1, last.x+last.dx+last.headWidth()+0.1
	beamed := first.group != nil && first.group == last.group && first.group.up == up &&
		first.group.members[0] == first && first.group.members[len(first.group.members)-1] == last
	if beamed && !t.Bracket || t.NoBracket {
		middle := (left + right) / 2
		if beamed {
			middle = (first.stemX() + last.stemX()) / 2
		}
		height := st.clear(middle-0.6, middle+0.6, up, 0.35, tupletSize*0.72)
		st.text(display.RoleTuplet, display.Middle, t.Text, middle, height)
		st.sky.add(middle-0.6, middle+0.6, height-tupletSize*0.72, height)
		return
	}
	st.tupletBracket(t, left, right, up)
}

// clear returns the baseline of a text of some height that stands clear of all
// ink between two x.
func (st *staffInk) clear(x1, x2 float64, up bool, gap, height float64) float64 {
	if up {
		return st.sky.above(x1, x2) - gap
	}
	return st.sky.below(x1, x2) + gap + height
}

// tupletAbove chooses the side: as asked, by voice, else the stems' side.
func tupletAbove(t TupletEnd, members []*figure) bool {
	switch t.Side {
	case Above:
		return true
	case Below:
		return false
	}
	ups, downs := 0, 0
	for _, f := range members {
		switch {
		case f.shared:
			return f.upper
		case f.isRest():
		case f.pointsUp():
			ups++
		default:
			downs++
		}
	}
	return ups >= downs
}

func (st *staffInk) tupletBracket(t TupletEnd, left, right float64, up bool) {
	var at, jog float64
	if up {
		at, jog = st.sky.above(left, right)-0.9, 0.7
	} else {
		at, jog = st.sky.below(left, right)+0.9, -0.7
	}
	middle, half := (left+right)/2, textWidth(display.RoleTuplet, t.Text)/2+0.3
	if t.Text == "" {
		half = 0
	}
	st.line(display.RoleTupletBracket, left, at+jog, left, at, middle-half, at)
	st.line(display.RoleTupletBracket, middle+half, at, right, at, right, at+jog)
	if t.Text != "" {
		st.text(display.RoleTuplet, display.Middle, t.Text, middle, at+tupletSize*0.34)
	}
	st.sky.add(left, right, min(at, at+jog)-0.1, max(at, at+jog)+0.1)
	st.sky.add(middle-half, middle+half, at-0.6, at+0.6)
}
