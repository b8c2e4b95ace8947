package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/fonts"
)

// signUnits are the units to the em of the font of signs: the em is the height of
// a staff of five lines, and a unit a hundredth of a staff space as in package
// fonts.
const signUnits = 400

// contourPoint is a point of an outline, y upwards; a quadratic curve's control
// point is off it.
type contourPoint struct {
	x, y int
	on   bool
}

// signGlyph makes a glyph of a sign's outline. It fails where the outline has
// other commands than package fonts promises.
func signGlyph(s fonts.Sign) (data []byte, err error) {
	contours, err := readPath(s.Path)
	if err != nil {
		return nil, fmt.Errorf("sign %s: %w", s.Name, err)
	}
	return encodeGlyph(contours), nil
}

// readPath reads path data of the letters m, h, v, l, q and z, whole and relative.
func readPath(path string) (contours [][]contourPoint, err error) {
	var x, y int
	for _, command := range splitPath(path) {
		numbers, err := pathNumbers(command[1:])
		if err != nil {
			return nil, err
		}
		take := map[byte]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'q': 4, 'z': 0}
		size, known := take[command[0]]
		if !known || size == 0 && len(numbers) > 0 || size > 0 && (len(numbers) == 0 || len(numbers)%size != 0) {
			return nil, fmt.Errorf("path command %q", command)
		}
		letter := command[0]
		for i := 0; i < len(numbers); i += size {
			n := numbers[i : i+size]
			if letter == 'm' {
				contours = append(contours, nil)
			} else if len(contours) == 0 {
				return nil, fmt.Errorf("path command %q before the first place", command)
			}
			last := max(0, len(contours)-1)
			switch letter {
			case 'q':
				contours[last] = append(contours[last], contourPoint{x + n[0], -(y + n[1]), false})
				x, y = x+n[2], y+n[3]
			case 'h':
				x += n[0]
			case 'v':
				y += n[0]
			default:
				x, y = x+n[0], y+n[1]
				letter = 'l' // further pairs of a move are lines
			}
			contours[last] = append(contours[last], contourPoint{x, -y, true})
		}
		if letter == 'z' && len(contours) > 0 {
			first := contours[len(contours)-1][0]
			x, y = first.x, -first.y
		}
	}
	return contours, nil
}

// splitPath cuts path data before each letter.
func splitPath(path string) (commands []string) {
	from := 0
	for i := 1; i <= len(path); i++ {
		if i == len(path) || path[i] >= 'a' && path[i] <= 'z' {
			commands = append(commands, path[from:i])
			from = i
		}
	}
	return commands
}

// apart puts blanks between the numbers of a path.
var apart = strings.NewReplacer("-", " -", ",", " ")

// pathNumbers reads numbers that blanks, commas or a sign part.
func pathNumbers(text string) (numbers []int, err error) {
	for _, field := range strings.Fields(apart.Replace(text)) {
		n, err := strconv.Atoi(field)
		if err != nil {
			return nil, err
		}
		numbers = append(numbers, n)
	}
	return numbers, nil
}

// encodeGlyph writes a simple glyph (ISO 14496-22, glyf): every coordinate takes
// two bytes, which is less than compression saves.
func encodeGlyph(contours [][]contourPoint) []byte {
	var points []contourPoint
	var ends []int
	for _, c := range contours {
		if len(c) > 1 && c[0] == c[len(c)-1] {
			c = c[:len(c)-1] // a glyph's contours close themselves
		}
		points = append(points, c...)
		ends = append(ends, len(points)-1)
	}
	if len(points) == 0 {
		return nil
	}
	left, bottom, right, top := points[0].x, points[0].y, points[0].x, points[0].y
	for _, p := range points {
		left, bottom, right, top = min(left, p.x), min(bottom, p.y), max(right, p.x), max(top, p.y)
	}
	out := words(len(contours), left, bottom, right, top)
	out = append(out, words(ends...)...)
	out = append(out, words(0)...) // no instructions
	var xs, ys []byte
	before := contourPoint{}
	for _, p := range points {
		flags := byte(0)
		if p.on {
			flags = 1
		}
		out = append(out, flags)
		xs = append(xs, words(p.x-before.x)...)
		ys = append(ys, words(p.y-before.y)...)
		before = p
	}
	return append(append(out, xs...), ys...)
}
