package pitch

import (
	"fmt"
	"slices"
	"strings"
)

// Language is one of those that names and texts are written in, by its code (ISO 639-1).
type Language string

// The languages.
const (
	English Language = "en"
	German  Language = "de"
	French  Language = "fr"
	Italian Language = "it"
	Spanish Language = "es"
)

// Languages lists them, English first.
func Languages() []Language { return []Language{English, German, French, Italian, Spanish} }

// ParseLanguage reads the code of a language.
func ParseLanguage(text string) (Language, error) {
	l := Language(strings.ToLower(strings.TrimSpace(text)))
	if !slices.Contains(Languages(), l) {
		return "", fmt.Errorf("%q is none of the languages en, de, fr, it, es", text)
	}
	return l, nil
}
