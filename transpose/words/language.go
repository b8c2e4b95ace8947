package words

import (
	"fmt"
	"slices"
	"strings"
)

// Language is one of the five, by its code (ISO 639-1).
type Language string

// The languages.
const (
	English Language = "en"
	German  Language = "de"
	French  Language = "fr"
	Italian Language = "it"
	Spanish Language = "es"
)

// Languages lists them in the order of the tables' columns.
func Languages() []Language { return []Language{English, German, French, Italian, Spanish} }

// ParseLanguage reads the code of a language.
func ParseLanguage(text string) (Language, error) {
	l := Language(strings.ToLower(strings.TrimSpace(text)))
	if !slices.Contains(Languages(), l) {
		return "", fmt.Errorf("%q is none of the languages en, de, fr, it, es", text)
	}
	return l, nil
}

// column is the language's place in a row of a table.
func (l Language) column() int { return slices.Index(Languages(), l) }
