package instruments

import "fmt"

// Describe says in a language (en, de, fr, it or es; any other is taken as English)
// what the instrument makes of the written note: "sounds a major second lower than
// written".
func (i *Instrument) Describe(language string) string {
	words, ok := idioms[language]
	if !ok {
		words = idioms["en"]
	}
	steps, semitones := i.Interval()
	switch {
	case i.Flags.Unpitched:
		return words.unpitched
	case !i.Transposes():
		return words.same
	case semitones < 0:
		return fmt.Sprintf(words.lower, words.interval(-steps, -semitones))
	}
	return fmt.Sprintf(words.higher, words.interval(steps, semitones))
}
