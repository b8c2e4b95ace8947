package instruments

import (
	"fmt"

	"deskpart/transpose/pitch"
)

// idiom is how a language says the way from written to sounding pitch.
type idiom struct {
	lower, higher string // with the interval's name: "sounds %s lower than written"
	same          string
	unpitched     string
}

var idioms = map[pitch.Language]idiom{
	pitch.English: {lower: "sounds %s lower than written", higher: "sounds %s higher than written",
		same: "sounds as written", unpitched: "has no definite pitch"},
	pitch.German: {lower: "klingt %s tiefer als notiert", higher: "klingt %s höher als notiert",
		same: "klingt wie notiert", unpitched: "ohne bestimmte Tonhöhe"},
	pitch.French: {lower: "sonne %s plus bas que la note écrite", higher: "sonne %s plus haut que la note écrite",
		same: "sonne comme écrit", unpitched: "à hauteur indéterminée"},
	pitch.Italian: {lower: "suona %s sotto la nota scritta", higher: "suona %s sopra la nota scritta",
		same: "suona come è scritto", unpitched: "a suono indeterminato"},
	pitch.Spanish: {lower: "suena %s por debajo de lo escrito", higher: "suena %s por encima de lo escrito",
		same: "suena como está escrito", unpitched: "de altura indeterminada"},
}

// Describe says in a language (en, de, fr, it or es; any other is taken as English)
// what the instrument makes of the written note: "sounds a major second lower than
// written".
func (i *Instrument) Describe(language pitch.Language) string {
	words, ok := idioms[language]
	if !ok {
		words = idioms[pitch.English]
	}
	switch by := i.Interval(); {
	case i.Flags.Unpitched:
		return words.unpitched
	case !i.Transposes():
		return words.same
	case by.IsDown():
		return fmt.Sprintf(words.lower, by.WithArticle(language))
	default:
		return fmt.Sprintf(words.higher, by.WithArticle(language))
	}
}
