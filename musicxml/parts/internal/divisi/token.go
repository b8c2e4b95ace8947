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
	roman  bool // not in digits
}

// romans are the numerals that name a player.
var romans = map[string]int{"I": 1, "II": 2, "III": 3, "IV": 4, "V": 5, "VI": 6, "VII": 7, "VIII": 8}

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
	n, err := strconv.Atoi(text)
	if t.number = n; err != nil {
		t.number, t.roman = romans[text], true
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
