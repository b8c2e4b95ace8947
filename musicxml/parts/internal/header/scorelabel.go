package header

import (
	"slices"
	"strings"

	"deskpart/musicxml/lexicon"
)

// scoreLabels are what a score calls itself on its first page, in English, German,
// French, Italian and Spanish (memory): a part is none of these.
var scoreLabels = [][]string{
	{"score"}, {"full", "score"}, {"conductor", "s", "score"}, {"conductors", "score"}, {"conductor"}, {"study", "score"}, {"miniature", "score"}, {"pocket", "score"},
	{"condensed", "score"}, {"short", "score"}, {"concert", "score"}, {"c", "score"}, {"score", "in", "c"}, {"score", "c"},
	{"score", "in", "concert", "pitch"}, {"concert", "pitch", "score"}, {"concert", "pitch"}, {"score", "at", "concert", "pitch"}, {"score", "at", "sounding", "pitch"}, {"sounding", "pitch"},
	{"transposed", "score"}, {"transposing", "score"}, {"score", "transposed"}, {"orchestral", "score"}, {"orchestra", "score"}, {"band", "score"}, {"choral", "score"}, {"vocal", "score"},
	{"full", "score", "in", "c"}, {"full", "score", "transposed"}, {"transposed", "full", "score"}, {"score", "and", "parts"},
	{"partitur"}, {"partitur", "in", "c"}, {"dirigierpartitur"}, {"studienpartitur"}, {"taschenpartitur"}, {"klingende", "partitur"}, {"partitur", "klingend"}, {"transponierende", "partitur"}, {"transponierte", "partitur"}, {"partitur", "transponiert"}, {"direktion"}, {"direktionsstimme"}, {"klangnotation"},
	{"partition"}, {"partition", "d", "orchestre"}, {"conducteur"}, {"partition", "en", "ut"}, {"conducteur", "en", "ut"}, {"partition", "en", "do"}, {"partition", "transposee"}, {"partition", "generale"}, {"grande", "partition"},
	{"partitura"}, {"partitura", "in", "do"}, {"partitura", "en", "do"}, {"partitura", "general"}, {"partitura", "generale"}, {"partitura", "in", "suoni", "reali"}, {"suoni", "reali"}, {"partitura", "traspositrice"}, {"partitura", "transpuesta"}, {"partitura", "in", "ut"}, {"particella"}, {"partitura", "completa"}, {"director"}, {"guion"},
}

// labelJoints are what stands between a heading and the score's label behind it:
// "for school orchestra - score in C".
var labelJoints = []string{" - ", " – ", " — ", ", ", "; ", ": ", " (", " / "}

// withoutScoreLabel takes the score's own label off the end of a heading.
func withoutScoreLabel(text string) string {
	for _, joint := range labelJoints {
		if at := strings.LastIndex(text, joint); at > 0 && isScoreLabel(text[at+len(joint):]) {
			return strings.TrimRight(text[:at], " ")
		}
	}
	return text
}

// isScoreLabel reports whether a text is only the score's own label: "Score in C",
// "(Transposed Score)".
func isScoreLabel(text string) bool {
	if len(text) > 60 || strings.TrimSpace(text) == "" {
		return false
	}
	t := lexicon.Tokens(text)
	return slices.ContainsFunc(scoreLabels, func(label []string) bool { return slices.Equal(label, t) })
}
