package instruments

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
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

// isLetter reports whether the token is one letter.
func (t token) isLetter() bool { return utf8.RuneCountInString(t.text) == 1 }

// lower returns the token in small letters, accents and all.
func (t *token) lower() string {
	if isASCII(t.raw) {
		return t.text
	}
	return strings.ToLower(t.raw)
}

// isLower reports whether the score wrote the token in small letters.
func (t token) isLower() bool {
	return t.raw == strings.ToLower(t.raw)
}

// Bounds of the work on a name, in bytes and in words: no part needs as much.
const (
	maxNameLength = 300
	maxNameWords  = 30
)

// tokenize cuts a name into words and numbers.
func tokenize(name string) []token {
	if len(name) > maxNameLength {
		name = strings.ToValidUTF8(name[:maxNameLength], "")
	}
	s := scanner{name: plainForm(name), tokens: make([]token, 0, 4)}
	for at, r := range s.name {
		s.at = at
		s.take(plainSign(r), at+utf8.RuneLen(r))
	}
	s.at = len(s.name)
	s.end()
	return s.tokens[:min(len(s.tokens), maxNameWords)]
}

// plainForm composes accents, and writes in plain characters what keyboards of East
// Asia have in one of full or half width, Roman numbers too.
func plainForm(name string) string {
	if isASCII(name) {
		return name
	}
	name = width.Fold.String(name)
	if strings.ContainsFunc(name, isRomanNumber) {
		name = norm.NFKC.String(name)
	}
	return norm.NFC.String(name)
}

// isRomanNumber reports whether one character is a Roman number, from 1 to 12, large or
// small.
func isRomanNumber(r rune) bool { return r >= 'Ⅰ' && r <= 'Ⅻ' || r >= 'ⅰ' && r <= 'ⅻ' }

// A scanner collects the name's letters into tokens.
type scanner struct {
	name   string
	tokens []token
	start  int  // of the token being read
	at     int  // the rune being read
	kind   rune // of the token being read: '1' digits, 0 for none, else a kind of letters
	sign   rune // before the token being read or to come
}

func (s *scanner) take(r rune, after int) {
	switch {
	case unicode.IsMark(r) && s.kind != 0 && s.kind != '1':
	case unicode.IsLetter(r), unicode.IsMark(r):
		s.extend(letterKind(r))
		if s.kind == 'h' {
			s.at = after
			s.end()
		}
	case unicode.IsDigit(r):
		s.extend('1')
	case r == '♭' || r == '♯' || r == '♮' || r == '#' && s.kind == 'a':
		// An accidental joins the note name it follows, else it is its own word.
		s.extend('a')
		s.at = after
		s.end()
	default:
		s.separate(r)
	}
}

// letterKind tells letters of scripts that stand beside one another without a space:
// 'h' Chinese characters, of which each is a word, 'k' katakana, 'g' hiragana, 'o' hangul,
// 'a' all others.
func letterKind(r rune) rune {
	switch {
	case r < '\u1100':
		return 'a'
	case unicode.Is(unicode.Han, r):
		return 'h'
	case unicode.Is(unicode.Katakana, r), r == 'ー':
		return 'k'
	case unicode.Is(unicode.Hiragana, r):
		return 'g'
	case unicode.Is(unicode.Hangul, r):
		return 'o'
	}
	return 'a'
}

// extend makes the rune part of the token, a new one where its kind changes.
func (s *scanner) extend(kind rune) {
	if s.kind != kind {
		s.end()
		s.start, s.kind = s.at, kind
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
	case '、':
		return ','
	case '\r', '\v', '\f', '\u2028', '\u2029':
		return '\n'
	}
	return r
}

func (s *scanner) separate(r rune) {
	s.end()
	if n := len(s.tokens); r == '.' && s.sign == 0 && n > 0 {
		s.tokens[n-1].dot = true
	}
	s.sign = stronger(s.sign, r)
}

func (s *scanner) end() {
	if s.kind == 0 {
		return
	}
	raw := s.name[s.start:s.at]
	s.kind = 0
	// An ordinal's raised letter alone folds to nothing.
	if text := fold(raw); text != "" {
		s.tokens = append(s.tokens, token{text: text, raw: raw, before: s.sign})
		s.sign = 0
	}
}

// stronger returns the sign that parts more: a hard one, then hyphen, full stop,
// space. A bracket that closes says less than what stands behind it.
func stronger(a, b rune) rune {
	if strength(b) > strength(a) || isClosing(a) && strength(b) == strength(a) {
		return b
	}
	return a
}

func isOpening(r rune) bool { return r == '(' || r == '[' || r == '{' }

func isClosing(r rune) bool { return r == ')' || r == ']' || r == '}' }

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

// strictForm joins tokens into a key that keeps the full stops of single letters:
// "A. Cl." and "A Cl." differ, for the second names a key.
func strictForm(tokens []token) string {
	var b []byte
	for i := range tokens {
		b = append(b, tokens[i].text...)
		if tokens[i].dot && len(tokens[i].text) == 1 {
			b = append(b, '.')
		}
	}
	return string(b)
}

// looseForm joins tokens without regard to full stops, spaces and hyphens.
func looseForm(tokens []token) string {
	var b []byte
	for i := range tokens {
		b = append(b, tokens[i].text...)
	}
	return string(b)
}
