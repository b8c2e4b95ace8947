package paper

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// Size is that of a sheet's side.
type Size struct{ Width, Height display.Millimetres }

// Sizes by name. A4 and B4 are those of ISO 216 and of JIS P 0138, whose B4 is
// the music paper of 257 by 364 mm (metropole); Letter is that of ANSI Y14.1.
var sizes = map[string]Size{
	"a4":     {210, 297},
	"letter": {215.9, 279.4},
	"b4":     {257, 364},
}

// The sizes that music can be printed on: a page smaller than a postcard holds no
// line, one beyond a sheet of A0 no printer takes.
const (
	smallest display.Millimetres = 90
	largest  display.Millimetres = 1200
)

var errSize = errors.New("a paper is a4, letter, b4, or width by height such as 240x320 (mm) or 9.5x12.5in")

// ParseSize reads a paper's name, or its width and height in millimetres ("240x320",
// "240x320mm") or inches ("9.5x12.5in").
func ParseSize(text string) (Size, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if s, known := sizes[text]; known {
		return s, nil
	}
	number, inches := strings.CutSuffix(text, "in")
	number = strings.TrimSuffix(number, "mm")
	width, height, two := strings.Cut(strings.ReplaceAll(number, "×", "x"), "x")
	w, errW := strconv.ParseFloat(strings.TrimSpace(width), 64)
	h, errH := strconv.ParseFloat(strings.TrimSpace(height), 64)
	if !two || errW != nil || errH != nil {
		return Size{}, fmt.Errorf("%q: %w", text, errSize)
	}
	s := Size{display.Millimetres(w), display.Millimetres(h)}
	if inches {
		s = Size{s.Width * 25.4, s.Height * 25.4}
	}
	if !(s.Width >= smallest && s.Height >= smallest && s.Width <= largest && s.Height <= largest) {
		return Size{}, fmt.Errorf("%q: a page has sides of %g to %g mm", text, float64(smallest), float64(largest))
	}
	return s, nil
}
