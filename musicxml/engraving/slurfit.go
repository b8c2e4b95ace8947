package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// obstacle is ink that a slur must pass: from x1 to x2, reaching out to out.
// Heights count outwards here: upwards for a slur above, downwards for one below.
type obstacle struct{ x1, x2, out float64 }

// The distances of slurs in staff spaces.
const (
	slurClear = 0.3  // from the middle of the bow to ink on its way
	slurEnd   = 0.45 // from its tips to the note
	tipReach  = 0.45 // ink so near to a tip's x is the note's own
	steep     = 0.7  // a slope from which on the farther end leaves its note instead
)

// outward turns a height into one that counts outwards, and back.
func (d *slurInk) outward(y float64) float64 {
	if d.up {
		return -y
	}
	return y
}

// obstacles are the inks of the list between the ends of a slur.
func (d *slurInk) obstacles(items display.List) []obstacle {
	var list []obstacle
	items.Walk(func(item display.Item) {
		if !stopsSlurs(item.Role) {
			return
		}
		box := item.Shape.Bounds()
		if float64(box.Right) < d.x1-1 || float64(box.Left) > d.x2+1 {
			return
		}
		switch shape := item.Shape.(type) {
		case display.Beam:
			list = append(list, d.beamObstacles(shape)...)
		case display.Bow:
			list = append(list, d.bowObstacles(shape)...)
		default:
			list = append(list, obstacle{float64(box.Left), float64(box.Right), d.reach(box)})
		}
	})
	return list
}

// reach is how far a box reaches outwards.
func (d *slurInk) reach(box display.Rect) float64 {
	return max(d.outward(float64(box.Top)), d.outward(float64(box.Bottom)))
}

func (d *slurInk) beamObstacles(b display.Beam) []obstacle {
	var list []obstacle
	x1, x2 := float64(b.Left.X), float64(b.Right.X)
	n := max(1, int(math.Ceil((x2-x1)/0.8)))
	for i := range n {
		a, z := float64(i)/float64(n), float64(i+1)/float64(n)
		ya, yz := float64(b.Left.Y)+float64(b.Right.Y-b.Left.Y)*a, float64(b.Left.Y)+float64(b.Right.Y-b.Left.Y)*z
		thick := float64(b.Thickness)
		out := max(d.outward(ya), d.outward(yz), d.outward(ya+thick), d.outward(yz+thick))
		list = append(list, obstacle{x1 + (x2-x1)*a, x1 + (x2-x1)*z, out})
	}
	return list
}

func (d *slurInk) bowObstacles(b display.Bow) []obstacle {
	var list []obstacle
	const n = 10
	before := b.From
	for i := 1; i <= n; i++ {
		p := b.At(float64(i) / n)
		list = append(list, obstacle{float64(before.X), float64(p.X), max(d.outward(float64(before.Y)), d.outward(float64(p.Y))) + 0.15})
		before = p
	}
	return list
}

// stopsSlurs tells which ink a slur may not run through.
func stopsSlurs(role display.Role) bool {
	switch role {
	case display.RoleHead, display.RoleFret, display.RoleStem, display.RoleBeam, display.RoleAccidental, display.RoleAccidentalFence, display.RoleHeadFence,
		display.RoleFlag, display.RoleDot, display.RoleTremolo, display.RoleArticulation, display.RoleAuxiliary, display.RoleFingering,
		display.RoleTie, display.RoleSlur, display.RoleTuplet, display.RoleTupletBracket, display.RoleClef, display.RoleRest, display.RoleArpeggio:
		return true
	}
	return false
}

// fit sets the heights of the ends and a bow between them that clears what lies
// there: of all lifts of the two ends, the one that deforms the slur least. It
// returns how much that is.
func (d *slurInk) fit(list []obstacle) (deformed float64) {
	a, b := d.endOut(d.from, d.x1, d.down1, list), d.endOut(d.to, d.x2, d.down2, list)
	if d.from == nil && d.to != nil {
		a = max(a, b)
	}
	if d.to == nil && d.from != nil {
		b = max(a, b)
	}
	posts := d.posts(list)
	best := math.Inf(1)
	var lift1, lift2, height float64
	lifts := d.lifts(posts, min(a, b))
	for i := range lifts {
		for k := range lifts {
			l1, l2 := float64(i)*0.25, float64(k)*0.25
			if lifted(l1, l2) >= best {
				break // and farther lifts cost more
			}
			h := d.needed(posts, a+l1, b+l2)
			if c := d.deformed(a, b, l1, l2, h); c < best {
				best, lift1, lift2, height = c, l1, l2, h
			}
		}
	}
	d.y1, d.y2, d.height = d.outward(a+lift1), d.outward(b+lift2), d.outward(height)
	return best
}

// lifts is how many lifts of an end are tried: up to five spaces, or over the beam of a
// note that hangs far below it.
func (d *slurInk) lifts(posts []post, lower float64) int {
	over := 5.0
	for _, p := range posts {
		over = max(over, p.out-lower)
	}
	return int(min(over, 20)/0.25) + 1
}

// usualHeight is the height of the control points of a slur that nothing stands in
// the way of.
func (d *slurInk) usualHeight() float64 { return min(2.6, 0.8+0.07*d.width()) }

// lifted is what it costs to lift the ends of a slur, whatever becomes of its bow.
func lifted(l1, l2 float64) float64 { return 0.6 * (l1*l1 + l2*l2) }

// deformed weighs a slur: lifted ends, a bow steeper or higher than usual, a tilt
// beyond that of the notes.
func (d *slurInk) deformed(a, b, l1, l2, height float64) float64 {
	usual := d.usualHeight()
	cost := lifted(l1, l2) + 0.5*(height-usual)*(height-usual)
	if most := usual + 0.5 + 0.28*d.width(); height > most {
		cost += 20 * (height - most)
	}
	if tilt := math.Abs(b+l2-a-l1) / d.width(); tilt > steep {
		cost += 2.2 * (tilt - steep) * d.width()
	}
	return cost
}

// post is a point that the bow must pass outside of. The bow's height there is the
// share of its control points' height, over a mean of its ends' heights in which
// the second has the weight second.
type post struct{ second, share, out float64 }

// posts are the corners of the obstacles between the ends: a bow that passes them
// passes what is between them.
func (d *slurInk) posts(list []obstacle) []post {
	var posts []post
	width := d.width()
	for _, o := range list {
		if o.x2 < d.x1+0.3 || o.x1 > d.x2-0.3 {
			continue
		}
		for _, x := range [2]float64{max(o.x1, d.x1+0.3), min(o.x2, d.x2-0.3)} {
			if t := (x - d.x1) / width; t > 0 && t < 1 {
				second, share := bowAt(t, width)
				posts = append(posts, post{second, max(0.02, share), o.out + slurClear})
			}
		}
	}
	return posts
}

// needed is the height of the control points at which the bow from a to b passes
// all posts; at least the usual one.
func (d *slurInk) needed(posts []post, a, b float64) float64 {
	height := d.usualHeight()
	for _, p := range posts {
		height = max(height, (p.out-a-(b-a)*p.second)/p.share)
	}
	return height
}

// bowAt is a bow at a share of its width: the weight of its second end, and its
// height for control points of height 1 (see display.Bow).
func bowAt(t, width float64) (second, share float64) {
	inset := min(width*0.28, 3) / width
	low, high := 0.0, 1.0
	for range 20 {
		u := (low + high) / 2
		x := 3*u*(1-u)*(1-u)*inset + 3*u*u*(1-u)*(1-inset) + u*u*u
		if x < t {
			low = u
		} else {
			high = u
		}
	}
	return low * low * (3 - 2*low), 3 * low * (1 - low)
}

// endOut is where a slur's end stands, outside its note and whatever is there.
func (d *slurInk) endOut(f *figure, x, down float64, list []obstacle) float64 {
	if d.grace() && f != nil && len(f.heads) > 0 {
		// Close to the heads, whatever hangs from them.
		position := f.lowest()
		if d.up {
			position = f.highest()
		}
		return d.outward(y(position)+down) + 0.8
	}
	out := math.Inf(-1)
	reach := tipReach
	if f == nil {
		reach = 1.5
	}
	for _, o := range list {
		if o.x1 < x+reach && o.x2 > x-reach {
			out = max(out, o.out)
		}
	}
	if math.IsInf(out, -1) {
		out = 0
	}
	return out + slurEnd
}

// record remembers the bow among the ink that other signs keep clear of.
func (d *slurInk) record(st *staffInk) {
	bow := d.shape()
	before := bow.From
	n := max(8, int(d.width()/slice))
	for i := 1; i <= n; i++ {
		p := bow.At(float64(i) / float64(n))
		st.sky.add(float64(before.X), float64(p.X), float64(min(before.Y, p.Y))-0.1, float64(max(before.Y, p.Y))+0.1)
		before = p
	}
}
