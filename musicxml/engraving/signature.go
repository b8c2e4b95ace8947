package engraving

import (
	"slices"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// sign is a glyph at its place within a group of signs.
type sign struct {
	shape shape
	dx, y float64
}

// signGroup is a clef, key signature or time signature: what stands together.
type signGroup struct {
	// role is that of its signs.
	role  display.Role
	signs []sign
	// text is drawn over or under a clef (15).
	texts []signText
	// barline is drawn in place of signs, for a barline within a bar.
	barline *barlineInk
	width   float64
}

func (g *signGroup) empty() bool { return len(g.signs) == 0 && g.barline == nil }

type signText struct {
	text  string
	role  display.Role
	dx, y float64
}

// place adds a glyph at the right end of the group.
func (g *signGroup) place(s shape, y float64) {
	g.signs = append(g.signs, sign{s, g.width - s.box().left, y})
	g.width += s.width()
}

// clefSigns draws a clef on a staff of so many lines, small where it changes within
// a line.
func clefSigns(c Clef, lines int, small bool) signGroup {
	g := signGroup{role: display.RoleClef}
	name, height := "clef-g", y(2*(c.line()-3))
	switch c.Sign {
	case ClefF:
		name = "clef-f"
	case ClefC:
		name = "clef-c"
	case ClefPercussion:
		name, height = "clef-percussion", y(bottomLine+lines-1)
	case ClefTab:
		name, height = "clef-tab", y(bottomLine+lines-1)
	case ClefNone:
		return g
	}
	if c.Sign == ClefG || c.Sign == ClefF {
		switch c.Octave {
		case 1:
			name += "-up"
		case -1:
			name += "-down"
		}
	}
	s := shape{name, small}
	g.place(s, height)
	g.texts = clefOctave(c, s, height, g.width)
	return g
}

// clefOctave writes the figure of an octave clef that has no glyph of its own.
func clefOctave(c Clef, s shape, height, width float64) []signText {
	figure := ""
	switch {
	case c.Octave == 2 || c.Octave == -2:
		figure = "15"
	case c.Octave == 3 || c.Octave == -3:
		figure = "22"
	case c.Sign == ClefC && (c.Octave == 1 || c.Octave == -1):
		figure = "8"
	default:
		return nil
	}
	box := s.box()
	if c.Octave > 0 {
		return []signText{{figure, display.RoleClefOctave, width / 2, height + box.top - 0.2}}
	}
	return []signText{{figure, display.RoleClefOctave, width / 2, height + box.bottom + 1.1}}
}

// orderOfSharps is the order in which a signature names its letters (C to B as 0
// to 6); flats go the other way.
var orderOfSharps = [7]int{3, 0, 4, 1, 5, 2, 6}

// The positions of a signature's signs in the treble clef, and of the sharps in
// clefs where that figure would climb above the staff (the tenor clef's).
var (
	trebleSharps = [7]int{4, 1, 5, 2, -1, 3, 0}
	tenorSharps  = [7]int{-2, 2, -1, 3, 0, 4, 1}
	trebleFlats  = [7]int{0, 3, -1, 2, -2, 1, -3}
)

// keySign is one sign of a signature on a staff.
type keySign struct {
	step, position int
	name           string
}

// AllSigns lists the signs of a signature one by one, in their order: Signs, or those that
// Fifths stands for.
func (k Key) AllSigns() []KeySign {
	if len(k.Signs) > 0 {
		return k.Signs
	}
	var list []KeySign
	for i := range orderOfSharps {
		step := orderOfSharps[i]
		if k.Fifths < 0 {
			step = orderOfSharps[6-i]
		}
		if alter := k.alter(step); alter != 0 {
			list = append(list, KeySign{Step: step, Sign: UsualAccidental(alter)})
		}
	}
	return list
}

// keySigns lists the signs of a signature as they stand in a clef.
func keySigns(c Clef, k Key) []keySign {
	var list []keySign
	for _, s := range k.AllSigns() {
		position := usualPosition(c, s.Step, signAlters[s.Sign] > 0)
		if s.HasOctave {
			position = c.Position(Place{s.Step, s.Octave})
		}
		list = append(list, keySign{s.Step, position, s.Sign})
	}
	return list
}

// usualPosition is where the signature of the clef has that letter.
func usualPosition(c Clef, step int, sharp bool) int {
	// The clef's figure is the treble's, moved by at most three steps.
	move := ((Treble().middle()-c.middle())%7 + 7) % 7
	if move > 3 {
		move -= 7
	}
	at := max(slices.Index(orderOfSharps[:], step), 0)
	switch {
	case !sharp:
		return trebleFlats[6-at] + move
	case move > 0:
		return tenorSharps[at] + move - 1
	}
	return trebleSharps[at] + move
}

// cancelled lists the naturals that a change of key prints before its own signs.
func cancelled(c Clef, old, key Key) []keySign {
	gone := Key{Fifths: key.Cancel}
	if len(keySigns(c, key)) == 0 {
		gone = old
	}
	kept := map[int]bool{}
	for _, s := range keySigns(c, key) {
		kept[s.step] = true
	}
	var list []keySign
	for _, s := range keySigns(c, gone) {
		if !kept[s.step] {
			list = append(list, keySign{s.step, s.position, "natural"})
		}
	}
	return list
}

// keyGroup draws a signature; old is the one that it cancels, nil at the head of
// a line.
func keyGroup(c Clef, key Key, old *Key) signGroup {
	g := signGroup{role: display.RoleKey}
	if key.Room > 0 {
		g.width = float64(key.Room)
		return g
	}
	if c.Sign == ClefPercussion || c.Sign == ClefTab {
		return g
	}
	if old != nil {
		for _, s := range cancelled(c, *old, key) {
			g.placeKeySign(s)
		}
	}
	for _, s := range keySigns(c, key) {
		g.placeKeySign(s)
	}
	return g
}

func (g *signGroup) placeKeySign(s keySign) {
	shape := shape{name: s.name}
	if !isSign(s.name) {
		return
	}
	if len(g.signs) > 0 {
		g.width += 0.1
	}
	if s.name == "natural" {
		g.width += 0.1
	}
	g.place(shape, y(s.position))
}

// timeGroup draws a time signature on the middle of the staff.
func timeGroup(t Time, lines int) signGroup {
	g := signGroup{role: display.RoleTime}
	middle := y(bottomLine + lines - 1)
	switch t.Symbol {
	case TimeFree:
		return g
	case TimeCommon:
		g.place(shape{name: "time-common"}, middle)
	case TimeCut:
		g.place(shape{name: "time-cut"}, middle)
	case TimeSingle:
		g.numerals(t.Beats, middle)
	default:
		g.fractions(append([]Time{t}, t.More...), middle)
	}
	if t.Alternate != nil {
		g.alternate(*t.Alternate, middle, lines)
	}
	return g
}

// fractions places several signatures side by side, joined by plus signs.
func (g *signGroup) fractions(list []Time, middle float64) {
	for i, t := range list {
		if i > 0 {
			g.width += 0.2
			g.place(shape{name: "numeral-plus"}, middle)
			g.width += 0.2
		}
		upper, lower := numerals(t.Beats), numerals(t.BeatType)
		wide := max(upper.width, lower.width)
		g.insert(upper, g.width+(wide-upper.width)/2, middle-1)
		g.insert(lower, g.width+(wide-lower.width)/2, middle+1)
		g.width += wide
	}
}

// alternate adds a second signature in parentheses.
func (g *signGroup) alternate(t Time, middle float64, lines int) {
	other := timeGroup(Time{Beats: t.Beats, BeatType: t.BeatType, More: t.More, Symbol: t.Symbol}, lines)
	g.width += 0.6
	g.texts = append(g.texts, signText{"(", display.RoleTimeFence, g.width, middle + 1})
	g.width += 0.6
	g.insert(other, g.width, 0)
	g.width += other.width + 0.6
	g.texts = append(g.texts, signText{")", display.RoleTimeFence, g.width, middle + 1})
	g.width += 0.3
}

func (g *signGroup) insert(other signGroup, dx, dy float64) {
	for _, s := range other.signs {
		g.signs = append(g.signs, sign{s.shape, s.dx + dx, s.y + dy})
	}
}

func (g *signGroup) numerals(text string, y float64) {
	other := numerals(text)
	g.insert(other, g.width, y)
	g.width += other.width
}

// numerals places a number or a sum of numbers on y = 0.
func numerals(text string) signGroup {
	g := signGroup{}
	for _, r := range strings.ReplaceAll(text, " ", "") {
		switch {
		case r >= '0' && r <= '9':
			g.place(shape{name: "numeral-" + string(r)}, 0)
		case r == '+':
			g.width += 0.12
			g.place(shape{name: "numeral-plus"}, 0)
			g.width += 0.12
		}
	}
	return g
}
