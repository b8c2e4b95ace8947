package engraving

import (
	"slices"

	"deskpart/musicxml/engraving/display"
)

// drawTuplets draws the figures of tuplets, with brackets where no beam joins
// just their notes. One over several staves stands over the highest of them; those of
// beams over several staves are left to these.
func (s *system) drawTuplets(st *staffInk) {
	for _, p := range s.bars {
		for _, voice := range p.voicesAt(st.index) {
			for _, t := range tupletsOf(voice) {
				if len(t.members) == 0 {
					continue
				}
				first, staff, joined := t.members[0], t.members[0].staff.index, true
				for _, f := range t.members {
					staff, joined = min(staff, f.staff.index), joined && f.cross != nil && f.cross == first.cross && !f.cross.chord
				}
				if staff == st.index && !joined {
					st.tuplet(t.end, t.members)
				}
			}
		}
	}
}

// tuplet is a tuplet with its notes and rests.
type tuplet struct {
	end     TupletEnd
	members []*figure
}

// tupletsOf pairs the ends of the tuplets of figures in order of time, the inner
// ones first.
func tupletsOf(figures []*figure) []tuplet {
	type open struct {
		end   TupletEnd
		first int
	}
	var list []tuplet
	var stack []open
	for i, f := range figures {
		for _, t := range f.event.Tuplets {
			if t.Start {
				stack = append(stack, open{t, i})
			}
		}
		for _, t := range f.event.Tuplets {
			for k := len(stack) - 1; k >= 0 && !t.Start; k-- {
				if stack[k].end.ID == t.ID {
					list = append(list, tuplet{stack[k].end, withoutGraces(figures[stack[k].first : i+1])})
					stack = append(stack[:k], stack[k+1:]...)
					break
				}
			}
		}
	}
	return list
}

func withoutGraces(figures []*figure) []*figure {
	return slices.DeleteFunc(slices.Clone(figures), func(f *figure) bool { return f.event.Grace })
}

// voicesAt are the figures of the bar on one staff, voice by voice in order of time, with
// those of voices that cross it on all staves.
func (p *barPlan) voicesAt(staff int) [][]*figure {
	type key struct {
		voice int
		id    string
	}
	var voices [][]*figure
	place := map[key]int{}
	for _, c := range p.columns {
		for i := range c.cells {
			for _, f := range c.cells[i].figures {
				k := key{f.voice, f.id}
				switch {
				case f.id != "":
					k.voice = -1
				case i != staff:
					continue
				}
				at, known := place[k]
				if !known {
					at = len(voices)
					place[k] = at
					voices = append(voices, nil)
				}
				voices[at] = append(voices[at], f)
			}
		}
	}
	return voices
}

// tuplet draws one tuplet over its notes.
func (st *staffInk) tuplet(t TupletEnd, members []*figure) {
	if t.Text == "" && !t.Bracket || members[0].staff.fretsOnly {
		return
	}
	first, last := members[0], members[len(members)-1]
	st.of(first)
	up := tupletAbove(t, members) || slices.ContainsFunc(members, func(f *figure) bool { return f.staff.index != st.index })
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
	if t.Side != SideAuto {
		return t.Side == Above
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
