package divisi

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is a word, a number or a sign of a text.
type token struct {
	text   string // in lower case
	start  int    // where it begins in the text
	end    int
	glued  bool // no space before it
	number int  // of digits or of a Roman numeral, 0 for other words
	roman  bool
}

// romans are the numerals that name a player.
var romans = map[string]int{"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8}

// wildcard is the sign that stands for the token in a phrase, "" for a word.
func (t token) wildcard() string {
	switch {
	case t.number == 0:
		return ""
	case t.roman:
		return "@"
	}
	return "#"
}

// tokenize cuts a text into words, numbers and signs; brackets and quotation
// marks are left out.
func tokenize(text string) []token {
	var tokens []token
	glued := false
	for at := 0; at < len(text); {
		r, width := utf8.DecodeRuneInString(text[at:])
		if unicode.IsSpace(r) || strings.ContainsRune("()[]{}\"“”„«»", r) {
			glued = false
			at += width
			continue
		}
		end := at + width
		if class := classOf(r); class != sign {
			end = at + len(text[at:]) - len(strings.TrimLeftFunc(text[at:], func(r rune) bool { return classOf(r) == class }))
		}
		tokens = append(tokens, newToken(text[at:end], at, glued))
		at, glued = end, true
	}
	return tokens
}

func newToken(text string, start int, glued bool) token {
	t := token{text: strings.ToLower(text), start: start, end: start + len(text), glued: glued}
	if n, err := strconv.Atoi(text); err == nil {
		t.number = n
	} else if n := romans[t.text]; n > 0 && text == strings.ToUpper(text) {
		t.number, t.roman = n, true
	}
	return t
}

// The classes of characters in a text.
const (
	sign = iota
	letter
	digit
)

func classOf(r rune) int {
	switch {
	case r == 'º' || r == 'ª':
		return sign
	case unicode.IsLetter(r):
		return letter
	case r >= '0' && r <= '9':
		return digit
	}
	return sign
}
