package engraving

import (
	"cmp"
	"strings"
	"unicode"
	"unicode/utf8"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// Piece is a stretch of a mark: letters, the letters of a dynamic, a sign or a
// small note. The first of Text, Dynamic, Sign and Note that is set is drawn.
type Piece struct {
	Text string
	// Dynamic are letters that are drawn as the signs of dynamics, as far as there
	// are such signs (p, m, f, r, s, z).
	Dynamic string
	// Sign is a sign of package fonts.
	Sign string
	// Note is the note of a metronome mark.
	Note *PieceNote

	// overlay is the stroke through Text.
	overlay string
}

// PieceNote is a small note among letters.
type PieceNote struct {
	Value Value
	Dots  int
}

// Enclosure is what stands around a mark.
type Enclosure uint8

// The enclosures. Those of the standard that are not here are drawn as the nearest.
const (
	NotEnclosed Enclosure = iota
	Rectangle
	Oval
	Diamond
	Triangle
	OpenBelow // a bracket over the letters
	OpenAbove
)

// lettering is a mark as it is drawn: lines of pieces with their size.
type lettering struct {
	role  display.Role
	face  fonts.Face
	size  float64
	lines [][]Piece
	// wide is the widest line's width; pad is the air to the enclosure.
	wide, pad float64
	enclosure Enclosure
}

// leading is the distance of baselines in sizes of the type.
const leading = 1.15

// letteringOf prepares a mark.
func letteringOf(m *Mark) lettering {
	role := cmp.Or(roleOfMark[m.Kind], display.RoleWords)
	l := lettering{role: role, face: lettersOf[role].face, size: lettersOf[role].size, enclosure: m.Enclosure}
	if m.Kind == MarkRehearsal && m.Enclosure == NotEnclosed {
		l.enclosure = Rectangle
	}
	if m.Letters != nil {
		l.face = *m.Letters
	}
	if len(m.Pieces) > 0 {
		l.lines = [][]Piece{m.Pieces}
	} else {
		for _, line := range strings.Split(m.Text, "\n") {
			l.lines = append(l.lines, struckPieces(line))
		}
	}
	for _, line := range l.lines {
		l.wide = max(l.wide, l.lineWidth(line))
	}
	if l.enclosure != NotEnclosed {
		l.pad = 0.35
	}
	if l.enclosure >= Oval && l.enclosure <= Triangle {
		l.pad = 0.35 + l.wide*0.15
	}
	return l
}

// width is the whole extent with the enclosure.
func (l *lettering) width() float64 { return l.wide + 2*l.pad }

// up and down are how far the letters reach from the first baseline.
func (l *lettering) up() float64 {
	up := l.size * 0.72
	for _, line := range l.lines {
		for _, p := range line {
			switch {
			case p.Text != "":
			case p.Dynamic != "":
				up = max(up, 1.75)
			case p.Note != nil:
				up = max(up, 2.8)
			default:
				up = max(up, -shape{p.Sign, l.smallSigns()}.box().top)
			}
		}
	}
	return up + l.pad
}

func (l *lettering) down() float64 {
	down := l.size * 0.24
	for _, line := range l.lines {
		for _, p := range line {
			if p.Text == "" && p.Dynamic != "" {
				down = max(down, 0.65)
			}
			if p.Text == "" && p.Sign != "" {
				down = max(down, shape{p.Sign, l.smallSigns()}.box().bottom)
			}
		}
	}
	return down + float64(len(l.lines)-1)*l.size*leading + l.pad
}

// smallSigns tells whether signs among letters are drawn small: a segno or coda
// that stands alone is not.
func (l *lettering) smallSigns() bool { return len(l.lines) > 1 || len(l.lines[0]) > 1 }

func (l *lettering) lineWidth(line []Piece) float64 {
	width := 0.0
	for i, p := range line {
		width += leadOf(line, i) + l.pieceWidth(p)
	}
	return width
}

// leadOf is the room before a dynamic's letters that follow words: they begin left of
// their place, as f and p do.
func leadOf(line []Piece, i int) float64 {
	if i == 0 || line[i].Text != "" || line[i].Dynamic == "" || line[i-1].Text == "" {
		return 0
	}
	lead := max(0, -shape{name: "dynamic-" + line[i].Dynamic[:1]}.box().left)
	if end, _ := utf8.DecodeLastRuneInString(line[i-1].Text); unicode.IsLetter(end) {
		lead += 0.4 // the space of "più f"
	}
	return lead
}

func (l *lettering) pieceWidth(p Piece) float64 {
	switch {
	case p.Text != "":
		return l.face.Width(p.Text) * l.size
	case p.Dynamic != "":
		return dynamicWidth(p.Dynamic)
	case p.Note != nil:
		return p.Note.width()
	case p.Sign != "":
		return shape{p.Sign, l.smallSigns()}.width() + 0.2
	}
	return 0
}

// draw writes the lettering with its left edge at x and its first baseline at y.
func (l *lettering) draw(k *ink, x, y float64) {
	if l.enclosure != NotEnclosed {
		k.enclose(l.enclosure, x, y-l.up(), x+l.width(), y+l.down())
	}
	for i, line := range l.lines {
		at := x + l.pad
		if l.enclosure != NotEnclosed {
			at += (l.wide - l.lineWidth(line)) / 2
		}
		for n, p := range line {
			at += leadOf(line, n)
			l.drawPiece(k, p, at, y+float64(i)*l.size*leading)
			at += l.pieceWidth(p)
		}
	}
}

func (l *lettering) drawPiece(k *ink, p Piece, x, y float64) {
	switch {
	case p.Text != "":
		k.letters(l.role, l.face, l.size, p.Text, x, y)
		k.overlay(p.overlay, x, x+l.pieceWidth(p), y, l.size)
	case p.Dynamic != "":
		k.dynamic(p.Dynamic, x, y)
	case p.Note != nil:
		k.smallNote(p.Note, x, y)
	case p.Sign != "":
		s := shape{p.Sign, l.smallSigns()}
		role := l.role
		if role == display.RoleWords {
			role = display.RoleNavigation
		}
		k.sign(role, s, x-s.box().left, y, "")
	}
}

// letters writes a text that is not in the type of its role.
func (k *ink) letters(role display.Role, face fonts.Face, size float64, text string, x, y float64) {
	if trimmed := strings.TrimLeft(text, " "); trimmed != text {
		x += face.Width(text[:len(text)-len(trimmed)]) * size
		text = trimmed
	}
	if text = strings.TrimRight(text, " "); text != "" {
		k.add(role, "", display.Text{Text: text, At: place(x, y), Face: face, Size: display.Spaces(size)})
	}
}

// dynamicAdvance is how far each dynamic letter moves the next, in staff spaces.
var dynamicAdvance = map[rune]float64{'p': 1.5, 'm': 1.95, 'f': 1.2, 'r': 1.25, 's': 1.05, 'z': 1.1}

// dynamicWidth is the width of the letters of a dynamic.
func dynamicWidth(text string) float64 {
	width := 0.0
	for _, r := range text {
		if advance, known := dynamicAdvance[r]; known {
			width += advance
		} else {
			width += textWidth(display.RoleDynamic, string(r))
		}
	}
	return width
}

// dynamic draws the letters of a dynamic from their signs, others as text.
func (k *ink) dynamic(text string, x, baseline float64) {
	for _, r := range text {
		if advance, known := dynamicAdvance[r]; known {
			k.sign(display.RoleDynamic, shape{name: "dynamic-" + string(r)}, x, baseline, "")
			x += advance
			continue
		}
		k.text(display.RoleDynamic, display.Start, string(r), x, baseline)
		x += textWidth(display.RoleDynamic, string(r))
	}
}

func (n *PieceNote) head() shape { return shape{headName(&Note{}, n.Value), true} }

func (n *PieceNote) width() float64 {
	width := n.head().width() + 0.25 + 0.45*float64(n.Dots)
	if n.Value >= Eighth {
		width += 0.7
	}
	return width
}

// smallNote draws the note of a metronome mark.
func (k *ink) smallNote(n *PieceNote, x, baseline float64) {
	head := n.head()
	k.sign(display.RoleTempoNote, head, x-head.box().left, baseline-0.4, "")
	w := head.width()
	if n.Value.hasStem() {
		stem := x + w - 0.06
		k.line(display.RoleTempoStem, stem, baseline-0.5, stem, baseline-2.7)
		if n.Value >= Eighth {
			k.sign(display.RoleTempoNote, shape{"flag-" + min(n.Value, Value128).String() + "-up", true}, stem-0.06, baseline-2.7, "")
			w += 0.7
		}
	}
	for i := range n.Dots {
		k.sign(display.RoleTempoNote, shape{"dot", true}, x+w+0.2+0.4*float64(i), baseline-0.4, "")
	}
}

// enclose draws what stands around letters.
func (k *ink) enclose(e Enclosure, left, top, right, bottom float64) {
	role := display.RoleRehearsalBox
	middleX, middleY := (left+right)/2, (top+bottom)/2
	switch e {
	case Oval:
		k.oval(role, left, top, right, bottom)
	case Diamond:
		k.outline(role, middleX, top-0.4, right+0.4, middleY, middleX, bottom+0.4, left-0.4, middleY)
	case Triangle:
		k.outline(role, middleX, top-0.6, right+0.4, bottom, left-0.4, bottom)
	case OpenBelow:
		k.line(role, left, bottom, left, top, right, top, right, bottom)
	case OpenAbove:
		k.line(role, left, top, left, bottom, right, bottom, right, top)
	default:
		k.outline(role, left, top, right, top, right, bottom, left, bottom)
	}
}

// oval draws an ellipse of eight curves.
func (k *ink) oval(role display.Role, left, top, right, bottom float64) {
	// The corner of each eighth's control polygon, on a circle of radius 1.
	const diagonal, corner = 0.7071, 0.4142
	cx, cy, rx, ry := (left+right)/2, (top+bottom)/2, (right-left)/2, (bottom-top)/2
	around := [][2]float64{{1, 0}, {1, corner}, {diagonal, diagonal}, {corner, 1}, {0, 1}, {-corner, 1}, {-diagonal, diagonal}, {-1, corner},
		{-1, 0}, {-1, -corner}, {-diagonal, -diagonal}, {-corner, -1}, {0, -1}, {corner, -1}, {diagonal, -diagonal}, {1, -corner}, {1, 0}}
	at := func(i int) display.Point { return place(cx+rx*around[i][0], cy+ry*around[i][1]) }
	for i := 0; i+2 < len(around); i += 2 {
		k.add(role, "", display.Curve{From: at(i), Control: at(i + 1), To: at(i + 2), Thickness: k.thickness(role)})
	}
}
