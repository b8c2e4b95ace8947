package collate

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// plainWords takes a text apart into words without case, accents and punctuation;
// signs such as a note or an equals sign are words of their own.
func plainWords(text string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(text) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(unicode.ToLower(r))
		case unicode.IsSymbol(r):
			b.WriteString(" " + string(r) + " ")
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// sameWords reports whether two texts, as plainWords gives them, say the same:
// the same words, each in full or cut short ("cresc", "crescendo").
func sameWords(a, b string) bool {
	if a == b {
		return true
	}
	return slices.EqualFunc(strings.Fields(a), strings.Fields(b), sameWord)
}

// shortestCut is how many letters an abbreviation has at least.
const shortestCut = 3

func sameWord(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	return a == b || len(a) >= shortestCut && strings.HasPrefix(b, a)
}

// quoted shows a text as it stands.
func quoted(text string) string {
	return "“" + strings.Join(strings.Fields(text), " ") + "”"
}
