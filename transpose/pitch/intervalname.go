package pitch

import (
	"fmt"
	"strconv"
	"strings"
)

// largestNamed is the largest size that has a name of its own, a fourteenth; past
// it octaves are counted.
const largestNamed = 13

// Name returns the interval's size in English, without direction: "major second",
// "octave", "two octaves and a major second".
func (i Interval) Name() string { return i.NameIn(English) }

// String adds the direction: "major second up", "perfect unison".
func (i Interval) String() string {
	switch {
	case i == Interval{}:
		return i.Name()
	case i.IsDown():
		return i.Name() + " down"
	}
	return i.Name() + " up"
}

// NameIn returns the interval's size in a language (en, de, fr, it or es; any other
// is taken as English), without direction: "große Sekunde", "octave".
func (i Interval) NameIn(language Language) string { return wordsIn(language).interval(i, false) }

// WithArticle is NameIn behind the indefinite article: "an octave", "une seconde
// majeure"; several octaves have none.
func (i Interval) WithArticle(language Language) string { return wordsIn(language).interval(i, true) }

func (w words) interval(i Interval, article bool) string {
	i, off := i.up()
	if i.Diatonic <= largestNamed {
		return w.single(i.Diatonic, off, article)
	}
	octaves, rest := i.Diatonic/7, i.Diatonic%7
	text := w.count(octaves) + " " + w["octaves"]
	if rest == 0 && off == 0 {
		return text
	}
	return text + " " + w["and"] + " " + w.single(rest, off, true)
}

// single words an interval of one name. An octave that is perfect needs no quality.
func (w words) single(steps, off int, article bool) string {
	name := w[strconv.Itoa(steps)]
	switch quality := w.quality(steps, off); {
	case steps == 7 && off == 0:
	case w["quality"] == "after":
		name += " " + quality
	default:
		name = quality + " " + name
	}
	if article {
		return w.withArticle(steps, name)
	}
	return name
}

// of is a word as it goes with an interval of that size: the unison has its own.
func (w words) of(steps int, term string) string {
	if word, ok := w["unison "+term]; ok && steps == 0 {
		return word
	}
	return w[term]
}

// withArticle puts the indefinite article before a name.
func (w words) withArticle(steps int, name string) string {
	article := w.of(steps, "a")
	if strings.ContainsRune("aeiou", []rune(name)[0]) {
		article = w.of(steps, "an")
	}
	if strings.HasSuffix(article, "'") {
		return article + name
	}
	return article + " " + name
}

// quality names how an interval lies among those of its size, by the semitones it
// is off the perfect or major one.
func (w words) quality(steps, off int) string {
	switch {
	case off > 0:
		return w.times(off) + w.of(steps, "augmented")
	case off == 0 && isPerfect(steps):
		return w.of(steps, "perfect")
	case off == 0:
		return w["major"]
	case isPerfect(steps):
		return w.times(-off) + w.of(steps, "diminished")
	case off == -1:
		return w["minor"]
	}
	return w.times(-off-1) + w["diminished"]
}

func (w words) times(n int) string {
	switch n {
	case 1:
		return ""
	case 2:
		return w["twice"] + " "
	case 3:
		return w["thrice"] + " "
	}
	return fmt.Sprintf("%d %s ", n, w["times"])
}

// count says a number of octaves, in words as far as there are octaves to hear.
func (w words) count(octaves int) string {
	if word, ok := w[strconv.Itoa(octaves)+" octaves"]; ok {
		return word
	}
	return strconv.Itoa(octaves)
}
