package proof

import (
	"strings"

	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// soundsWords says what a transposition, added to written pitch, makes of it.
func soundsWords(i pitch.Interval) string {
	if i == (pitch.Interval{}) {
		return "sounds as written"
	}
	way := "higher"
	if i.IsDown() {
		way = "lower"
	}
	return "sounds " + i.WithArticle(pitch.English) + " " + way + " than written"
}

// inColumn is what soundsWords says, short, for a column headed "Sounds".
func inColumn(words string) string {
	return strings.TrimSuffix(strings.TrimPrefix(words, "sounds "), " than written")
}

// recognisedWords says how the instrument was found.
func recognisedWords(by string, assumed bool) string {
	words := map[string]string{
		parts.ByPlan:      "given by the plan",
		parts.ByForPart:   "as the concert score says of its parts",
		parts.ByTranspose: "as the score’s own transposition says",
		parts.ByName:      "known by its name",
		parts.BySound:     "known by its standard sound",
		parts.ByFamily:    "the usual one of its family",
		parts.ByNone:      "not recognised: it stays at sounding pitch",
	}[by]
	if assumed && by != parts.ByNone {
		words += ", assumed"
	}
	return words
}

// pitchWords says what the score was taken for, and why.
func pitchWords(pitch, reason string) string {
	words := "Some parts of the score were read at sounding pitch, some as their players read them"
	switch pitch {
	case "concert":
		words = "The score was read at sounding pitch"
	case "written":
		words = "The score was read as its players read it"
	}
	if reason != "" {
		words += ": " + esc(reason)
	}
	return words
}
