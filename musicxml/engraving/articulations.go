package engraving

import (
	"sort"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// nearNote are the signs that stand close to the head, on its side, also within
// the staff.
var nearNote = map[string]bool{"staccato": true, "tenuto": true}

// headSide are the signs that stand on the head's side, outside the staff.
var headSide = map[string]bool{"accent": true, "soft-accent": true, "stress": true, "unstress": true, "staccatissimo": true}

// sided are the signs with a form above and one below the note.
var sided = map[string]bool{"staccatissimo": true, "marcato": true, "fermata": true, "fermata-angled": true, "fermata-square": true}

// ArticulationSigns lists the names that an Articulation's Sign may have, besides
// accidentals.
func ArticulationSigns() []string {
	return []string{"accent", "marcato", "soft-accent", "stress", "unstress", "staccatissimo", "staccato", "tenuto",
		"fermata", "fermata-angled", "fermata-square", "breath", "breath-tick", "caesura",
		"trill", "turn", "inverted-turn", "slashed-turn", "mordent", "inverted-mordent", "schleifer",
		"down-bow", "up-bow", "harmonic", "thumb-position", "snap-pizzicato", "stopped", "half-muted", "double-tongue", "triple-tongue",
		"heel", "toe", "fingernails", "golpe", "hole-open", "hole-closed", "hole-half", "arrow-up"}
}

// drawArticulations draws the signs at the notes and rests of a staff: those that stand
// inside slurs, or those that stand outside.
func (s *system) drawArticulations(st *staffInk, outsideSlurs bool) {
	for _, p := range s.bars {
		for _, c := range p.columns {
			for _, f := range c.cells[st.index].figures {
				st.articulate(f, outsideSlurs)
			}
			for _, f := range c.cells[st.index].hidden {
				st.articulate(f, outsideSlurs)
			}
		}
		for _, f := range p.centered {
			if f.staff.index == st.index {
				st.articulate(f, outsideSlurs)
			}
		}
	}
}

// outsideSlurs are the signs that slurs leave outside, so that they begin and end close
// to their notes, with fermatas (common practice, no source).
var outsideSlurs = map[string]bool{"down-bow": true, "up-bow": true, "trill": true, "turn": true, "inverted-turn": true, "slashed-turn": true,
	"mordent": true, "inverted-mordent": true}

func (a *Articulation) isOutsideSlurs() bool {
	return outsideSlurs[a.Sign] || strings.HasPrefix(a.Sign, "fermata")
}

func (st *staffInk) articulate(f *figure, outside bool) {
	st.of(f)
	for _, a := range nearestFirst(f.event.Articulations) {
		switch {
		case a.isOutsideSlurs() != outside:
		case isBreath(a.Sign):
			st.breath(f, a)
		case nearNote[a.Sign] && !f.isRest() && f.onHeadSide(a):
			st.nearSign(f, a)
		default:
			st.outerSign(f, a)
		}
	}
}

// nearestFirst orders signs from the note outwards: staccato and tenuto, accents,
// ornaments and playing signs, and the fermata outside all.
func nearestFirst(list []Articulation) []Articulation {
	rank := func(a Articulation) int {
		switch {
		case nearNote[a.Sign]:
			return 0
		case headSide[a.Sign] || a.Sign == "marcato":
			return 1
		case strings.HasPrefix(a.Sign, "fermata"):
			return 3
		}
		return 2
	}
	ordered := append([]Articulation(nil), list...)
	sort.SliceStable(ordered, func(i, j int) bool { return rank(ordered[i]) < rank(ordered[j]) })
	return ordered
}

// above decides the side of a sign.
func (f *figure) above(a Articulation) bool {
	switch {
	case a.Side == Above:
		return true
	case a.Side == Below:
		return false
	case f.shared && !f.isRest():
		return f.upper
	case f.isRest():
		return true
	case nearNote[a.Sign] || headSide[a.Sign]:
		return !f.pointsUp()
	}
	return true
}

func (f *figure) onHeadSide(a Articulation) bool { return f.above(a) != f.pointsUp() || !f.stem }

// nearSign puts a sign into the next free space beyond the head.
func (st *staffInk) nearSign(f *figure, a Articulation) {
	position, step := f.lowest()-2, -1
	if f.above(a) {
		position, step = f.highest()+2, 1
	}
	x := f.center()
	sh := shape{a.Sign, f.small()}
	half := sh.width() / 2
	for position%2 == 0 && position >= bottomLine && position <= topLine(st.lines) {
		position += step
	}
	height := y(position)
	// Beyond a sign that is there already.
	if step > 0 {
		if edge := st.sky.inkAbove(x-0.2, x+0.2); height+0.25 > edge {
			height = min(height, edge-0.45)
		}
	} else if edge := st.sky.inkBelow(x-0.2, x+0.2); height-0.25 < edge {
		height = max(height, edge+0.45)
	}
	st.sign(display.RoleArticulation, sh, x-half, height, "")
	st.sky.add(x-half, x+half, height-0.2, height+0.2)
}

// outerSign puts a sign outside the staff and everything at the note.
func (st *staffInk) outerSign(f *figure, a Articulation) {
	up := f.above(a)
	x := f.center()
	if a.Sign == "" {
		st.outerText(x, a, up)
		return
	}
	sh := shape{signShape(a.Sign, up), f.small()}
	if !isSign(sh.name) {
		return
	}
	role := display.RoleArticulation
	if _, accidental := signAlters[a.Sign]; accidental || a.Sign == "arrow-up" || a.Sign == "arrow-down" {
		role = display.RoleAuxiliary // over a note, not before it
	}
	height := st.signOutside(role, sh, x, up, 0.4)
	if a.Sign == "trill" {
		st.trills = append(st.trills, place(x, height))
	}
	st.auxiliary(a.Over, x, true)
	st.auxiliary(a.Under, x, false)
}

// signOutside draws a sign with its middle at x, clear of all ink on that side, and
// returns its height.
func (st *staffInk) signOutside(role display.Role, sh shape, x float64, up bool, gap float64) float64 {
	box := sh.box()
	left := x - sh.width()/2
	height := st.sky.above(left, left+sh.width()) - gap - box.bottom
	if !up {
		height = st.sky.below(left, left+sh.width()) + gap - box.top
	}
	st.sign(role, sh, left-box.left, height, "")
	st.sky.glyph(sh, left-box.left, height)
	return height
}

func signShape(sign string, up bool) string {
	if !sided[sign] {
		return sign
	}
	if up {
		return sign + "-above"
	}
	return sign + "-below"
}

// auxiliary puts a small accidental over or under an ornament.
func (st *staffInk) auxiliary(a *Accidental, x float64, up bool) {
	if a != nil && isSign(a.Sign) {
		st.signOutside(display.RoleAuxiliary, shape{a.Sign, true}, x, up, 0.25)
	}
}

func (st *staffInk) outerText(x float64, a Articulation, up bool) {
	half, pad := textWidth(display.RoleFingering, a.Text)/2, 0.0
	if a.Circled {
		pad = 0.35
		half = max(half, 0.35) + pad
	}
	height := st.sky.above(x-half, x+half) - 0.4 - pad
	if !up {
		height = st.sky.below(x-half, x+half) + 1.3 + pad
	}
	st.text(display.RoleFingering, display.Middle, a.Text, x, height)
	top, bottom := height-numberSize*0.75-pad, height+0.1+pad
	if a.Circled {
		st.oval(display.RoleDiagram, x-half, top, x+half, bottom)
	}
	st.sky.add(x-half, x+half, top, bottom)
}

func isBreath(sign string) bool {
	return sign == "breath" || sign == "breath-tick" || sign == "caesura"
}

// breathDX is where a breath mark or caesura after the figure begins.
func (f *figure) breathDX() float64 { return f.dx + f.headWidth() + 0.8 }

// breath stands after the note, over the staff; a caesura cuts the top line.
func (st *staffInk) breath(f *figure, a Articulation) {
	sh := shape{name: a.Sign}
	x := f.x + f.breathDX()
	height := y(topLine(st.lines)) - 0.2
	if a.Sign != "caesura" {
		height = st.sky.above(x, x+sh.width()) - 0.2 - sh.box().bottom*0.4
	}
	st.sign(display.RoleArticulation, sh, x, height, "")
	st.sky.glyph(sh, x, height)
}
