package instruments

import (
	"slices"
	"strings"

	"deskpart/transpose/pitch"
)

// Languages of names and labels.
var languages = pitch.Languages()

// A Name is what an instrument is called in one language, its key aside.
type Name struct {
	Singular, Plural, Abbreviation string
}

// Names returns the name in a language (en, de, fr, it or es; any other is taken
// as English).
func (i *Instrument) Names(language pitch.Language) Name {
	if name, ok := i.names[language]; ok {
		return name
	}
	return i.names[pitch.English]
}

// Name returns the name with the key where the trade says it: "Clarinet in B♭",
// "Klarinette in B", "Clarinette en si♭", "Flute".
func (i *Instrument) Name(language pitch.Language) string {
	return i.Label(language, "")
}

// Abbreviation returns the usual abbreviation without the key: "Cl.", "Klar.".
func (i *Instrument) Abbreviation(language pitch.Language) string {
	return i.Names(language).Abbreviation
}

// Label returns what stands at the head of the part of the player of that number
// ("" for none; "3,4" for two players on one part): "Clarinet in B♭ 1", "Horns in F
// 3, 4".
func (i *Instrument) Label(language pitch.Language, number string) string {
	return i.labelWith("", language, number)
}

// labelWith is the label with more keys behind its own: "Clarinet in B♭/A 1".
func (i *Instrument) labelWith(keys string, language pitch.Language, number string) string {
	name := i.Names(language).Singular
	if strings.Contains(number, ",") {
		name = i.Names(language).Plural
	}
	return joinWords(name, i.keyWords(language)+keys, numberWords(number))
}

// ShortLabel is the abbreviation with the player's number, as it stands before the
// later systems: "Cl. 1".
func (i *Instrument) ShortLabel(language pitch.Language, number string) string {
	return joinWords(i.Abbreviation(language), numberWords(number))
}

// Title names the instrument and its notation in words that differ for every
// instrument of the catalogue: "Horn in F (bass clef, old notation)".
func (i *Instrument) Title(language pitch.Language) string {
	if i.Variant == "" {
		return i.Name(language)
	}
	return i.Name(language) + " (" + i.Variant + ")"
}

func (i *Instrument) keyWords(language pitch.Language) string {
	if !i.Flags.SaysKey || i.Key == "" {
		return ""
	}
	return keyPhrase(language, i.Key, i.saidRegister())
}

// saidRegister is alto or basso where labels say so.
func (i *Instrument) saidRegister() string {
	if i.Flags.SaysOctave {
		return i.Register
	}
	return ""
}

// numberWords turns the list form of numbers into that of a label.
func numberWords(number string) string {
	return strings.ReplaceAll(number, ",", ", ")
}

func joinWords(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(word string) bool { return word == "" }), " ")
}
