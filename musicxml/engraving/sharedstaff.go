package engraving

import (
	"math"

	"deskpart/transpose/pitch"
)

// upperVoices tells which voices have stems up. Where two voices both ask for the
// same side, the one that lies higher gets it, and agreed is false: then the
// events' own stems do not count.
func upperVoices(seen []Voice) (uppers []bool, agreed bool) {
	for number := range seen {
		uppers = append(uppers, seen[number].upper(number))
	}
	if len(seen) != 2 || uppers[0] != uppers[1] {
		return uppers, true
	}
	first := seen[0].height() >= seen[1].height()
	return []bool{first, !first}, false
}

// height is the mean place of a voice's notes.
func (v *Voice) height() float64 {
	sum, count := 0, 0
	for i := range v.Events {
		for _, n := range v.Events[i].Notes {
			sum, count = sum+n.steps(), count+1
		}
	}
	return float64(sum) / float64(max(count, 1))
}

// upper tells whether a voice is of those with stems up: as most of its notes say,
// else by its number.
func (v *Voice) upper(number int) bool {
	ups := 0
	for i := range v.Events {
		switch v.Events[i].Stem {
		case StemUp:
			ups++
		case StemDown:
			ups--
		}
	}
	return ups > 0 || ups == 0 && number%2 == 0
}

// seenVoices are the voices with something to draw.
func seenVoices(m *Measure) []Voice {
	var list []Voice
	for _, i := range seenPlaces(m) {
		list = append(list, m.Voices[i])
	}
	return list
}

// seenPlaces are the places of those voices among all.
func seenPlaces(m *Measure) []int {
	var places []int
	for i, v := range m.Voices {
		for e := range v.Events {
			if !v.Events[e].Hidden {
				places = append(places, i)
				break
			}
		}
	}
	return places
}

// shiftVoices moves the figures of lower voices aside where heads would touch
// those of an upper voice. A unison of equal heads is shared.
func shiftVoices(figures []*figure) {
	var placed []*figure
	for _, upper := range []bool{true, false} {
		for _, f := range figures {
			if f.isRest() || f.upper != upper {
				continue
			}
			for _, other := range placed {
				if shift := clash(other, f); other.event.Grace == f.event.Grace && shift > 0 {
					f.dx = max(f.dx, other.dx+shift)
				}
			}
			placed = append(placed, f)
		}
	}
}

// clearRests moves the rests of a shared staff, by whole spaces, off the notes of
// the other voices.
func clearRests(figures []*figure) {
	for _, f := range figures {
		if !f.isRest() || !f.shared || f.event.RestPosition != nil {
			continue
		}
		step := outwards(f.upper)
		for moved := true; moved; {
			moved = false
			for _, other := range figures {
				for f.isOn(other) {
					f.rest.y += step
					moved = true
				}
			}
		}
	}
}

// isOn reports whether a rest lies on the heads of a figure of its column.
func (f *figure) isOn(other *figure) bool {
	if other.isRest() {
		return false
	}
	box := f.rest.shape.box()
	return f.rest.y+box.top < y(other.lowest())+0.65 && f.rest.y+box.bottom > y(other.highest())-0.65
}

// clearCentered moves the rest of a whole bar, by whole spaces, off what another
// voice has in the middle of the bar: a player's rest among cue notes.
func (p *barPlan) clearCentered(rest *figure) {
	if !rest.shared || rest.event.RestPosition != nil {
		return
	}
	const air = 0.25
	box, step := rest.rest.shape.box(), outwards(rest.upper)
	left, right := rest.x+rest.rest.dx-air, rest.x+rest.rest.dx+rest.rest.shape.width()+air
	for moved, n := true, 0; moved && n < 12; n++ {
		moved = false
		for _, ink := range p.inkBetween(rest.staff.index, left, right) {
			if rest.rest.y+box.top-air < ink[1] && rest.rest.y+box.bottom+air > ink[0] {
				rest.rest.y += step
				moved = true
			}
		}
	}
}

// inkBetween lists the heights (top, bottom) of the notes of a staff between two x,
// with their stems, and of accidentals.
func (p *barPlan) inkBetween(staff int, left, right float64) [][2]float64 {
	var list [][2]float64
	for _, c := range p.columns {
		cell := &c.cells[staff]
		for _, a := range cell.accidentals {
			if box := a.shape.box(); c.x+a.dx < right && c.x+a.dx+a.width() > left {
				list = append(list, [2]float64{a.y + box.top, a.y + box.bottom})
			}
		}
		for _, f := range cell.figures {
			l, r := f.extent()
			if f.isRest() || c.x+l > right || c.x+r < left {
				continue
			}
			list = append(list, [2]float64{min(f.top(), y(f.highest())-0.55), max(f.bottom(), y(f.lowest())+0.55)})
		}
	}
	return list
}

// clash is how far a later voice must move to the right of an earlier one; 0
// where they stand together.
func clash(upper, lower *figure) float64 {
	shift := 0.0
	crossed := upper.lowest() < lower.highest()
	if crossed && upper.up != lower.up {
		shift = upper.headWidth() * 0.6 // else stems run through heads
	}
	for moved := true; moved; {
		moved = false
		for i := range upper.heads {
			for k := range lower.heads {
				if need := headClash(upper, lower, &upper.heads[i], &lower.heads[k], shift); need > shift+1e-9 {
					shift, moved = need, true
				}
			}
		}
		if need := flagClash(upper, lower, shift); need > shift+1e-9 {
			shift, moved = need, true
		}
	}
	return shift
}

// flagClash is the shift with which the flag of one voice clears the heads of the other,
// when the lower has a shift already; 0 where they are clear.
func flagClash(upper, lower *figure, shift float64) float64 {
	const air = 0.1
	if box, hits := upper.flagOver(lower); hits {
		if left, right := lower.headEdges(); left+shift < box.right && right+shift > box.left {
			return box.right + air - left
		}
	}
	if box, hits := lower.flagOver(upper); hits {
		if left, right := upper.headEdges(); left < box.right+shift && right > box.left+shift {
			return right + air - box.left
		}
	}
	return 0
}

// headEdges are the edges of a figure's heads, around its column as it stands now.
func (f *figure) headEdges() (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for i := range f.heads {
		left, right = min(left, f.dx+f.heads[i].dx), max(right, f.dx+f.heads[i].dx+f.heads[i].width())
	}
	return left, right
}

// flagTail is the thin end of a flag, at which heads may lie.
const flagTail = 0.6

// flagOver is the box of a figure's flag around its column, and whether it reaches the
// height of a head of the other.
func (f *figure) flagOver(other *figure) (box glyph, hits bool) {
	sign, flagged := f.flag()
	if !flagged || f.cross != nil {
		return box, false
	}
	alone := *f
	alone.fitStem()
	box = sign.box()
	box = glyph{f.stemDX() - stemThickness/2, alone.tip + box.top, f.stemDX() + box.right, alone.tip + box.bottom}
	if f.up { // towards the heads a flag is thin
		box.bottom -= flagTail
	} else {
		box.top += flagTail
	}
	for i := range other.heads {
		if height := y(other.heads[i].position); height+0.5 > box.top && height-0.5 < box.bottom {
			return box, true
		}
	}
	return box, false
}

// headClash is the shift that a head of the lower voice needs to clear one of the
// upper voice, when it has one already. A second with stems apart shares the line
// of the stems.
func headClash(upper, lower *figure, a, b *headInk, shift float64) float64 {
	if pitch.Abs(a.position-b.position) > 1 || a.dx >= b.dx+shift+b.width() || b.dx+shift >= a.dx+a.width()-stemThickness-1e-9 {
		return 0
	}
	if shift == 0 && a.position == b.position && sharesHead(upper, lower) && a.dx == b.dx {
		return 0
	}
	need := a.dx + a.width() - b.dx
	switch {
	case a.position == b.position+1 && upper.up && !lower.up:
		need -= stemThickness
	default:
		need += 0.15
	}
	if upper.event.Dots > 0 && a.dx+a.width() >= upper.headWidth() {
		need += 0.2 + 0.6*float64(upper.event.Dots)
	}
	return need
}

// sharesHead reports whether two voices in unison, of one pitch, may use one head.
func sharesHead(a, b *figure) bool {
	ha, hb := a.heads[0], b.heads[len(b.heads)-1]
	return ha.position == hb.position && ha.shape == hb.shape && ha.note.Alter == hb.note.Alter && a.event.Dots == b.event.Dots && a.up != b.up
}
