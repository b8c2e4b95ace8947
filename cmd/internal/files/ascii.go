package files

import (
	"strings"
	"unicode"

	"github.com/mozillazg/go-unidecode"
)

// spellings are the plain spellings that differ from the letter without its
// accent: umlauts as German writes them where it has none (DIN 5007-2), the
// Nordic letters likewise, and the signs of music.
var spellings = strings.NewReplacer(
	"ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue", "ß", "ss", "ẞ", "SS",
	"æ", "ae", "Æ", "Ae", "œ", "oe", "Œ", "Oe", "ø", "oe", "Ø", "Oe", "å", "aa", "Å", "Aa",
	"𝄫", "bb", "♭", "b", "♮", "natural", "♯", "sharp", "𝄪", "double-sharp", "&", "and", "+", "and",
)

// plainASCII spells text in ASCII: "Clarinet in B♭" is "Clarinet in Bb". A "#"
// after the name of a note is "sharp", and before a number nothing.
func plainASCII(text string) string {
	return unidecode.Unidecode(spellings.Replace(spellHash(text)))
}

func spellHash(text string) string {
	var b strings.Builder
	runes := []rune(text)
	for i, r := range runes {
		switch {
		case r != '#':
			b.WriteRune(r)
		case isNoteName(runes[:i]):
			b.WriteString("sharp")
		}
	}
	return b.String()
}

// isNoteName tells whether text ends in a single letter from A to H.
func isNoteName(text []rune) bool {
	end := len(text) - 1
	return end >= 0 && strings.ContainsRune("ABCDEFGHabcdefgh", text[end]) &&
		(end == 0 || !unicode.IsLetter(text[end-1]))
}

// joinWords puts one "_" for every run of what is neither letter, digit, nor one
// of "-", ".", "(" and ")".
func joinWords(text string) string {
	words := strings.FieldsFunc(text, func(r rune) bool {
		return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-.()", r)
	})
	return strings.Join(words, "_")
}
