package engraving

import (
	"strings"
	"unicode/utf8"

	"deskpart/musicxml/engraving/display"
)

// Characters of Unicode that lay a stroke over the one before them in the text of a [Mark].
const (
	SlashOverlay     = "\u0338"
	BackslashOverlay = "\u20E5"
	VerticalOverlay  = "\u20D2"
)

const overlays = SlashOverlay + BackslashOverlay + VerticalOverlay

// struckPieces cuts a text where strokes lie over its characters: a stroke over a digit
// goes through the whole number.
func struckPieces(text string) (pieces []Piece) {
	for {
		at := strings.IndexAny(text, overlays)
		if at < 0 {
			break
		}
		_, size := utf8.DecodeRuneInString(text[at:])
		before := strings.TrimRight(text[:at], "0123456789")
		if len(before) == at && at > 0 { // no number
			_, last := utf8.DecodeLastRuneInString(before)
			before = before[:at-last]
		}
		if before != "" {
			pieces = append(pieces, Piece{Text: before})
		}
		if struck := text[len(before):at]; struck != "" {
			pieces = append(pieces, Piece{Text: struck, overlay: text[at : at+size]})
		}
		text = text[at+size:]
	}
	if text != "" || len(pieces) == 0 {
		pieces = append(pieces, Piece{Text: text})
	}
	return pieces
}

// overlay draws a stroke through letters of a size that stand from left to right on a
// baseline.
func (k *ink) overlay(stroke string, left, right, baseline, size float64) {
	const beyond = 0.12
	top, bottom, middle := baseline-size*0.72, baseline+size*0.06, (left+right)/2
	switch stroke {
	case SlashOverlay:
		k.line(display.RoleDiagram, left-beyond, bottom, right+beyond, top)
	case BackslashOverlay:
		k.line(display.RoleDiagram, left-beyond, top, right+beyond, bottom)
	case VerticalOverlay:
		k.line(display.RoleDiagram, middle, top-beyond, middle, bottom+beyond)
	}
}
