package instruments

import (
	"strings"

	"deskpart/transpose/pitch"
)

// Names of the seven natural notes, C to B (gehrkens-mnt s.16, rgsmith-horn,
// latin-names). French ut and Spanish names are as in instrument-names.csv.
var noteNames = map[pitch.Language][7]string{
	pitch.English: {"C", "D", "E", "F", "G", "A", "B"},
	pitch.German:  {"C", "D", "E", "F", "G", "A", "H"},
	pitch.French:  {"ut", "ré", "mi", "fa", "sol", "la", "si"},
	pitch.Italian: {"Do", "Re", "Mi", "Fa", "Sol", "La", "Si"},
	pitch.Spanish: {"Do", "Re", "Mi", "Fa", "Sol", "La", "Si"},
}

// keyIn is the word between the instrument and its key.
var keyIn = map[pitch.Language]string{pitch.English: "in", pitch.German: "in", pitch.French: "en", pitch.Italian: "in", pitch.Spanish: "en"}

// Words for the register of a crook (rgsmith-horn): German puts it before the key.
var registerNames = map[pitch.Language]map[string]string{
	pitch.English: {"alto": "alto", "basso": "basso"},
	pitch.German:  {"alto": "hoch", "basso": "tief"},
	pitch.French:  {"alto": "aigu", "basso": "grave"},
	pitch.Italian: {"alto": "alto", "basso": "basso"},
	pitch.Spanish: {"alto": "agudo", "basso": "grave"},
}

// keyPhrase returns "in B♭ basso", "in tief B", "en si♭ grave".
func keyPhrase(language pitch.Language, key, register string) string {
	word, ok := keyIn[language]
	if !ok {
		word = keyIn[pitch.English]
	}
	return word + " " + keyWords(language, key, register)
}

// keyWords returns the key and register without the word before them: "B♭ basso",
// "tief B".
func keyWords(language pitch.Language, key, register string) string {
	if _, ok := noteNames[language]; !ok {
		language = pitch.English
	}
	name, word := keyName(language, key), registerNames[language][register]
	if language == pitch.German {
		return joinWords(word, name)
	}
	return joinWords(name, word)
}

// keyName returns the name of a key such as "Bb": B♭, B, si♭, Si♭, Si♭.
func keyName(language pitch.Language, key string) string {
	if key == "" {
		return ""
	}
	step, err := pitch.ParseStep(key[:1])
	if err != nil {
		return key
	}
	if language == pitch.German {
		return germanKey(key)
	}
	return noteNames[language][step] + strings.NewReplacer("b", "♭", "#", "♯").Replace(key[1:])
}

// germanKey follows the German rule: suffix -es and -is, B for B flat, As and Es
// contracted.
func germanKey(key string) string {
	switch {
	case key == "Bb":
		return "B"
	case key == "Eb", key == "Ab":
		return key[:1] + "s"
	case strings.HasSuffix(key, "b"):
		return key[:1] + "es"
	case strings.HasSuffix(key, "#"):
		return strings.Replace(key[:1], "B", "H", 1) + "is"
	case key == "B":
		return "H"
	}
	return key
}
