package instruments

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// A token is one word, sign or number of a part's name.
type token struct {
	text   string // folded: small letters without diacritics, "♭" and "♯" after a letter as b and #
	raw    string // as the score has it
	before rune   // the strongest sign before it: 0 for none, ' ', '-', '.', or one of hardSigns
	dot    bool   // a full stop follows
}

// hardSigns part what belongs to one instrument or player from the next.
const hardSigns = "/&+,;()[]{}:|\n"

// isNumber reports whether the token is written in digits.
func (t token) isNumber() bool {
	return t.text != "" && t.text[0] >= '0' && t.text[0] <= '9'
}

// isLower reports whether the score wrote the token in small letters.
func (t token) isLower() bool {
	return t.raw == strings.ToLower(t.raw)
}

// maxNameLength bounds the work on a name: no instrument needs as much.
const maxNameLength = 400

// tokenize cuts a name into words and numbers.
func tokenize(name string) []token {
	if len(name) > maxNameLength {
		name = strings.ToValidUTF8(name[:maxNameLength], "")
	}
	s := scanner{}
	for _, r := range norm.NFC.String(name) {
		s.take(r)
	}
	s.end()
	return s.tokens
}

// A scanner collects runes into tokens.
type scanner struct {
	tokens []token
	raw    []rune
	sign   rune // before the token being read or to come
}

func (s *scanner) take(r rune) {
	r = plainSign(r)
	switch {
	case unicode.IsLetter(r), unicode.IsMark(r):
		s.letter(r)
	case unicode.IsDigit(r):
		s.digit(r)
	case r == '♭' || r == '♯' || r == '♮':
		s.accidental(r)
	case r == '#' && len(s.raw) > 0 && !s.inNumber():
		s.accidental('♯')
	default:
		s.separate(r)
	}
}

// plainSign turns the many shapes of one sign into one.
func plainSign(r rune) rune {
	switch r {
	case '\ue260', '𝄬':
		return '♭'
	case '\ue262':
		return '♯'
	case '\ue261':
		return '♮'
	case '’', '‘', '´', '`', 'ʼ':
		return '\''
	case '–', '—', '‐', '‑', '−':
		return '-'
	case '／':
		return '/'
	case '\r', '\v', '\f', '\u2028', '\u2029':
		return '\n'
	}
	return r
}

func (s *scanner) inNumber() bool {
	return len(s.raw) > 0 && unicode.IsDigit(s.raw[0])
}

func (s *scanner) letter(r rune) {
	if s.inNumber() {
		s.end()
	}
	s.raw = append(s.raw, r)
}

func (s *scanner) digit(r rune) {
	if len(s.raw) > 0 && !s.inNumber() {
		s.end()
	}
	s.raw = append(s.raw, r)
}

// accidental joins a sign to the note name it follows, else it is its own word.
func (s *scanner) accidental(r rune) {
	if s.inNumber() {
		s.end()
	}
	s.raw = append(s.raw, r)
	s.end()
}

func (s *scanner) separate(r rune) {
	s.end()
	if n := len(s.tokens); r == '.' && s.sign == 0 && n > 0 {
		s.tokens[n-1].dot = true
	}
	s.sign = stronger(s.sign, r)
}

func (s *scanner) end() {
	if len(s.raw) == 0 {
		return
	}
	raw := string(s.raw)
	s.raw = nil
	// An ordinal's raised letter alone folds to nothing.
	if text := fold(raw); text != "" {
		s.tokens = append(s.tokens, token{text: text, raw: raw, before: s.sign})
		s.sign = 0
	}
}

// stronger returns the sign that parts more: a hard one, then hyphen, full stop,
// space.
func stronger(a, b rune) rune {
	if strength(b) > strength(a) {
		return b
	}
	return a
}

func strength(r rune) int {
	switch {
	case r == 0:
		return 0
	case strings.ContainsRune(hardSigns, r):
		return 4
	case r == '-':
		return 3
	case r == '.':
		return 2
	}
	return 1
}

// fold makes words comparable: small letters, no diacritics, ß as ss.
func fold(word string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(word)) {
		switch {
		case unicode.IsMark(r):
		case r == '♭' && b.Len() > 0:
			b.WriteByte('b')
		case r == '♯' && b.Len() > 0:
			b.WriteByte('#')
		case r == 'ß':
			b.WriteString("ss")
		case r == 'œ':
			b.WriteString("oe")
		case r == 'æ':
			b.WriteString("ae")
		case r == 'º', r == 'ª', r == '°':
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// umlauts are the two-letter forms that old names and plain keyboards use.
var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue")

// spellings returns the names under which a word of the catalogue may stand.
func spellings(word string) []string {
	if other := umlauts.Replace(word); other != word {
		return []string{word, other}
	}
	return []string{word}
}

// strictForm joins tokens into a key that keeps the full stops of single letters:
// "A. Cl." and "A Cl." differ, for the second names a key.
func strictForm(tokens []token) string {
	var b strings.Builder
	for _, t := range tokens {
		b.WriteString(t.text)
		if t.dot && len(t.text) == 1 {
			b.WriteByte('.')
		}
	}
	return b.String()
}

// looseForm joins tokens without regard to full stops, spaces and hyphens.
func looseForm(tokens []token) string {
	var b strings.Builder
	for _, t := range tokens {
		b.WriteString(t.text)
	}
	return b.String()
}
