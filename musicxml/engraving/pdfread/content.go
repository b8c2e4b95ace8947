package pdfread

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
)

// point is a place in a block, in staff spaces, y downwards.
type point struct{ x, y float64 }

// letters are a text that was shown in one go.
type letters struct {
	text  string
	font  string
	at    point
	size  float64 // of the em
	width float64
}

// stroke is a line that was drawn along.
type stroke struct {
	points         []point
	curved, closed bool
	width          float64
	dashed         bool
}

func (s *stroke) first() point { return s.points[0] }
func (s *stroke) last() point  { return s.points[len(s.points)-1] }

// upright and level tell straight strokes of two points.
func (s *stroke) upright() bool {
	return len(s.points) == 2 && !s.curved && math.Abs(s.points[0].x-s.points[1].x) < 0.01 && s.points[0].y != s.points[1].y
}

func (s *stroke) level() bool {
	return len(s.points) == 2 && !s.curved && math.Abs(s.points[0].y-s.points[1].y) < 0.01 && s.points[0].x != s.points[1].x
}

// shape is what was filled: the corners that it goes through.
type shape struct {
	points []point
	curved bool
	rect   bool
	bend   float64 // of a curved one: how far the first control point lies below its beginning
}

// block is a marked piece of a page.
type block struct {
	tag     string
	letters []letters
	strokes []stroke
	shapes  []shape
}

// interpreter follows a content stream (ISO 32000-1, 8 and 9), as far as pages of
// music need it. Places are those of the innermost coordinate system that a block
// sets up, whose unit is its staff space.
type interpreter struct {
	fonts  map[string]*typeface
	blocks []block
	stack  []state
	state
	operands []string
	path     []point
	curved   bool
	closed   bool
	bend     float64
	rect     bool
	// the text matrix: scale and origin
	matrix [6]float64
}

// state is the graphics state that is saved and restored.
type state struct {
	width   float64
	dashed  bool
	outline bool // letters are stroked, not filled: a border around them
	font    *typeface
	size    float64
}

func (in *interpreter) run(content []byte) ([]block, error) {
	for len(content) > 0 {
		token, rest, err := nextToken(content)
		if err != nil {
			return nil, err
		}
		content = rest
		if token == "" {
			break
		}
		if c := token[0]; c == '/' || c == '<' || c == '[' || c == '-' || c == '.' || c >= '0' && c <= '9' {
			in.operands = append(in.operands, token)
			continue
		}
		if err := in.do(token); err != nil {
			return nil, fmt.Errorf("%s %v: %w", token, in.operands, err)
		}
		in.operands = in.operands[:0]
	}
	return in.blocks, nil
}

// nextToken cuts off a number, name, string, array, dictionary or operator.
func nextToken(content []byte) (token string, rest []byte, err error) {
	content = bytes.TrimLeft(content, " \n\r\t")
	if len(content) == 0 {
		return "", nil, nil
	}
	end := 0
	switch {
	case bytes.HasPrefix(content, []byte("<<")):
		end = bytes.Index(content, []byte(">>")) + 2
	case content[0] == '<':
		end = bytes.IndexByte(content, '>') + 1
	case content[0] == '[':
		end = bytes.IndexByte(content, ']') + 1
	default:
		end = 1 + bytes.IndexAny(content[1:], " \n\r\t</[")
		if end == 0 {
			end = len(content)
		}
	}
	if end <= 1 && len(content) > 1 && (content[0] == '<' || content[0] == '[') {
		return "", nil, io.ErrUnexpectedEOF
	}
	return string(content[:end]), content[end:], nil
}

// number is an operand, from 0.
func (in *interpreter) number(i int) float64 {
	n, _ := strconv.ParseFloat(in.operands[i], 64)
	return n
}

func (in *interpreter) at(i int) point { return point{in.number(i), in.number(i + 1)} }

func (in *interpreter) block() *block { return &in.blocks[len(in.blocks)-1] }

// needs is the number of operands of each operator that is known.
var needs = map[string]int{"BDC": 2, "EMC": 0, "q": 0, "Q": 0, "cm": 6, "w": 1, "d": 2, "G": 1, "j": 1, "Tr": 1, "m": 2, "l": 2, "c": 6, "h": 0,
	"re": 4, "S": 0, "f": 0, "BT": 0, "ET": 0, "Tf": 2, "Tm": 6, "Tj": 1}

func (in *interpreter) do(operator string) error {
	if n, known := needs[operator]; !known || n != len(in.operands) {
		return fmt.Errorf("an operator that pages of music do not have")
	}
	switch operator {
	case "BDC":
		in.blocks = append(in.blocks, block{tag: in.operands[0][1:]})
	case "q":
		in.stack = append(in.stack, in.state)
	case "Q":
		in.state, in.stack = in.stack[len(in.stack)-1], in.stack[:len(in.stack)-1]
	case "w":
		in.width = in.number(0)
	case "d":
		in.dashed = in.operands[0] != "[]"
	case "Tr":
		in.outline = in.operands[0] == "1"
	case "Tf":
		in.font, in.size = in.fonts[in.operands[0][1:]], in.number(1)
	case "Tm":
		for i := range in.matrix {
			in.matrix[i] = in.number(i)
		}
	case "Tj":
		in.show(in.operands[0])
	case "m", "l", "c", "h", "re", "S", "f":
		in.draw(operator)
	}
	return nil
}

func (in *interpreter) draw(operator string) {
	switch operator {
	case "m":
		in.path, in.curved, in.closed, in.rect = []point{in.at(0)}, false, false, false
	case "l":
		in.path = append(in.path, in.at(0))
	case "c":
		if !in.curved {
			in.bend = in.number(1) - in.path[len(in.path)-1].y
		}
		in.path, in.curved = append(in.path, in.at(4)), true
	case "h":
		in.closed = true
	case "re":
		a, w, h := in.at(0), in.number(2), in.number(3)
		in.path, in.rect, in.curved = []point{a, {a.x + w, a.y}, {a.x + w, a.y + h}, {a.x, a.y + h}}, true, false
	case "S":
		in.block().strokes = append(in.block().strokes, stroke{in.path, in.curved, in.closed, in.width, in.dashed})
	case "f":
		in.block().shapes = append(in.block().shapes, shape{in.path, in.curved, in.rect, in.bend})
	}
}

// show takes a text in, unless it is the border of letters that follow.
func (in *interpreter) show(codes string) {
	if in.outline || in.font == nil {
		return
	}
	l := letters{font: in.font.name, at: point{in.matrix[4], in.matrix[5]}, size: in.size * in.matrix[0]}
	for i := 1; i+4 < len(codes); i += 4 {
		code := hex([]byte(codes[i : i+4]))
		l.text += in.font.texts[code]
		l.width += in.font.widths[code] * l.size
	}
	in.block().letters = append(in.block().letters, l)
}
