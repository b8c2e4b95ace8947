package instruments

import (
	"deskpart/transpose/pitch"
	"strings"
)

// Names of the seven natural notes, C to B (gehrkens-mnt s.16, rgsmith-horn,
// latin-names). French ut and Spanish names are as in instrument-names.csv.
var noteNames = map[string][7]string{
	"en": {"C", "D", "E", "F", "G", "A", "B"},
	"de": {"C", "D", "E", "F", "G", "A", "H"},
	"fr": {"ut", "ré", "mi", "fa", "sol", "la", "si"},
	"it": {"Do", "Re", "Mi", "Fa", "Sol", "La", "Si"},
	"es": {"Do", "Re", "Mi", "Fa", "Sol", "La", "Si"},
}

// keyIn is the word between the instrument and its key.
var keyIn = map[string]string{"en": "in", "de": "in", "fr": "en", "it": "in", "es": "en"}

// Words for the register of a crook (rgsmith-horn): German puts it before the key.
var registerNames = map[string]map[string]string{
	"en": {"alto": "alto", "basso": "basso"},
	"de": {"alto": "hoch", "basso": "tief"},
	"fr": {"alto": "aigu", "basso": "grave"},
	"it": {"alto": "alto", "basso": "basso"},
	"es": {"alto": "agudo", "basso": "grave"},
}

// keyPhrase returns "in B♭ basso", "in tief B", "en si♭ grave".
func keyPhrase(language, key, register string) string {
	word, ok := keyIn[language]
	if !ok {
		word = keyIn["en"]
	}
	return word + " " + keyWords(language, key, register)
}

// keyWords returns the key and register without the word before them: "B♭ basso",
// "tief B".
func keyWords(language, key, register string) string {
	if _, ok := noteNames[language]; !ok {
		language = "en"
	}
	name, word := keyName(language, key), registerNames[language][register]
	if language == "de" {
		return joinWords(word, name)
	}
	return joinWords(name, word)
}

// keyName returns the name of a key such as "Bb": B♭, B, si♭, Si♭, Si♭.
func keyName(language, key string) string {
	if key == "" {
		return ""
	}
	step, err := pitch.ParseStep(key[:1])
	if err != nil {
		return key
	}
	if language == "de" {
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
