package instruments

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// fold makes words comparable: small letters, no diacritics, ß as ss.
func fold(word string) string {
	if isASCII(word) {
		return strings.ToLower(word)
	}
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(word)) {
		switch r = plainSign(r); {
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
		case r == 'ø':
			b.WriteByte('o')
		case r == 'ł':
			b.WriteByte('l')
		case r == 'º', r == 'ª', r == '°':
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func isASCII(word string) bool {
	for n := range len(word) {
		if word[n] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// umlauts are the two-letter forms that old names and plain keyboards use.
var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue", "ø", "oe", "Ø", "Oe", "å", "aa", "Å", "Aa")

// twoLetterForm returns the name with its umlauts in two letters each, under which
// it may stand as well.
func twoLetterForm(name string) string {
	if isASCII(name) || !strings.ContainsAny(name, "äöüøåÄÖÜØÅ") { // Replace would copy it
		return name
	}
	return umlauts.Replace(name)
}
