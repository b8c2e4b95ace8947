package exercise_test

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// textsOf are the texts of a language.
type textsOf = texts.Texts

// mustEnglish are the English ones.
func mustEnglish() *textsOf {
	said, err := texts.In(pitch.English)
	if err != nil {
		panic(err)
	}
	return said
}
