package engraving

// The sizes of text in staff spaces.
const (
	lyricSize     = 1.7
	harmonySize   = 1.9
	wordsSize     = 1.75
	tempoSize     = 1.9
	rehearsalSize = 2.0
	numberSize    = 1.3
	figureSize    = 1.5
	tupletSize    = 1.45
	nameSize      = 1.8
	noteTextSize  = 1.5
)

// textWidth estimates how wide a text is at a size. Pages name only generic font
// families, so the true width differs from reader to reader; the estimate is
// that of a common serif and a little generous.
func textWidth(text string, size float64) float64 {
	width := 0.0
	for _, r := range text {
		width += runeWidth(r)
	}
	return width * size * 1.04
}

// runeWidth is a width in ems, in four classes.
func runeWidth(r rune) float64 {
	switch {
	case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r == '—' || r == '…':
		return 0.85
	case r >= 'A' && r <= 'Z' && r != 'I' && r != 'J':
		return 0.69
	case r == ' ' || r == '.' || r == ',' || r == ';' || r == ':' || r == '\'' || r == '’' || r == '!' || r == '|':
		return 0.27
	case r == 'i' || r == 'j' || r == 'l' || r == 't' || r == 'f' || r == 'r' || r == 'I' || r == '-' || r == '(' || r == ')':
		return 0.36
	case r >= 0x2E80:
		return 1.0
	}
	return 0.52
}
