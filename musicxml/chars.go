package musicxml

import (
	"slices"
	"unicode/utf8"
)

// Classes of the bytes of an XML text. The scanner runs over whole stretches of
// bytes of which none has a class that stops it.
const (
	blankByte     = 1 << iota // space, tab, line ends
	nameByte                  // may stand in a name (XML 1.0, 2.3); all bytes of non-ASCII characters
	nameStartByte             // may begin a name
	colonByte                 // separates prefix and name
	wideByte                  // of a character beyond ASCII
	textStop                  // ends a stretch of plain text
	valueStop                 // ends a stretch of plain attribute value
)

// byteClasses holds the classes of every byte.
var byteClasses = classifyBytes()

func classifyBytes() (classes [256]uint8) {
	for i := range classes {
		classes[i] = classifyByte(byte(i))
	}
	return classes
}

func classifyByte(c byte) uint8 {
	switch {
	case c == ' ':
		return blankByte
	case c == '\t' || c == '\n':
		// XML 1.0, 3.3.3: in an attribute's value they stand for a space.
		return blankByte | valueStop
	case c == '\r':
		return blankByte | textStop | valueStop
	case c < ' ' || c == '&' || c == '<':
		return textStop | valueStop
	case c == ']':
		return textStop
	case c == '"' || c == '\'':
		return valueStop
	case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_':
		return nameByte | nameStartByte
	case c >= '0' && c <= '9' || c == '-' || c == '.':
		return nameByte
	case c == ':':
		return nameByte | nameStartByte | colonByte
	case c == 0xEF:
		// May begin U+FFFE or U+FFFF, which are no characters of XML.
		return nameByte | nameStartByte | wideByte | textStop | valueStop
	case c >= utf8.RuneSelf:
		return nameByte | nameStartByte | wideByte
	}
	return 0
}

func isBlank(c byte) bool { return byteClasses[c]&blankByte != 0 }

// allBlank reports whether the text is empty or white space alone.
func allBlank(text string) bool {
	for i := range len(text) {
		if !isBlank(text[i]) {
			return false
		}
	}
	return true
}

// isChar reports whether a character may stand in an XML text (XML 1.0, 2.2).
func isChar(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' ||
		r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= utf8.MaxRune
}

// isName reports whether the text is a name (XML 1.0 fifth edition, 2.3).
func isName(text string) bool {
	for i, r := range text {
		if !isNameStart(r) && (i == 0 || !isNameRest(r)) {
			return false
		}
	}
	return text != ""
}

func isNameStart(r rune) bool {
	if r < utf8.RuneSelf {
		return byteClasses[r]&nameStartByte != 0
	}
	switch r {
	case 0xD7, 0xF7, 0x37E:
		return false
	}
	return slices.ContainsFunc(nameStarts, func(span [2]rune) bool { return r >= span[0] && r <= span[1] })
}

// nameStarts are the characters beyond ASCII that may begin a name, but for
// those that isNameStart leaves out (XML 1.0 fifth edition, production 4).
var nameStarts = [][2]rune{
	{0xC0, 0x2FF}, {0x370, 0x1FFF}, {0x200C, 0x200D}, {0x2070, 0x218F}, {0x2C00, 0x2FEF},
	{0x3001, 0xD7FF}, {0xF900, 0xFDCF}, {0xFDF0, 0xFFFD}, {0x10000, 0xEFFFF},
}

// isNameRest reports whether a character that may not begin a name may stand
// further on in it (production 4a).
func isNameRest(r rune) bool {
	if r < utf8.RuneSelf {
		return byteClasses[r]&nameByte != 0
	}
	return r == 0xB7 || r >= 0x300 && r <= 0x36F || r >= 0x203F && r <= 0x2040
}
