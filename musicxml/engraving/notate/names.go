package notate

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"deskpart/musicxml/engraving"
)

// nameStaves takes boxed words that stand at the head of every staff of a part for the
// staves' names: they stand left of the first line, and shortened left of the others, as
// in a choir's score. MusicXML has names for parts alone.
func (r *partReader) nameStaves() {
	staves := r.music.Staves
	if len(staves) < 2 || len(r.music.Bars) == 0 {
		return
	}
	names := make([]string, len(staves))
	heads := make([]int, len(staves)) // the marks that they are
	for s := range staves {
		marks := staves[s].Measures[0].Marks
		heads[s] = slices.IndexFunc(marks, func(m engraving.Mark) bool { return isName(&m) })
		if heads[s] < 0 {
			return
		}
		names[s] = words(&marks[heads[s]])
	}
	short := shortNames(names)
	for s := range staves {
		first := &staves[s].Measures[0]
		first.Marks = slices.Delete(first.Marks, heads[s], heads[s]+1)
		staves[s].Name, staves[s].Short = names[s], short[s]
	}
}

// isName reports whether a mark may name who plays or sings from its staff.
func isName(m *engraving.Mark) bool {
	return m.Kind == engraving.MarkWords && m.Enclosure == engraving.Rectangle && m.Onset.Sign() == 0 && m.Side == engraving.Above && words(m) != ""
}

// shortNames are names by their first letter and their number ("Soprano 1": "S. 1"), as
// choirs know them (common practice, no source); none where that would not tell them apart.
func shortNames(names []string) []string {
	short := make([]string, len(names))
	for i, name := range names {
		split := strings.Fields(name)
		initial, _ := utf8.DecodeRuneInString(split[0])
		short[i] = string(unicode.ToUpper(initial)) + "."
		if last := split[len(split)-1]; len(split) > 1 && strings.IndexFunc(last, func(r rune) bool { return !unicode.IsDigit(r) }) < 0 {
			short[i] += " " + last
		}
		if slices.Contains(short[:i], short[i]) {
			return make([]string, len(names))
		}
	}
	return short
}
