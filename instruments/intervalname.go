package instruments

import "fmt"

// An idiom is how a language words the distance between sounding and written
// pitch. Interval names are feminine in the Romance languages and in German, so one
// form of each quality is enough.
type idiom struct {
	steps     [13]string        // unison to thirteenth
	qualities map[string]string // "perfect", "major", "minor", "diminished", "augmented"
	article   string
	octave    string // the one interval that needs no quality
	octaves   string // "%s octaves"
	counts    [5]string
	and       string
	lower     string // "sounds %s lower than written"
	higher    string
	same      string
	unpitched string
	adjective bool // the quality follows the interval
}

var idioms = map[string]idiom{
	"en": {
		steps: [13]string{"unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave",
			"ninth", "tenth", "eleventh", "twelfth", "thirteenth"},
		qualities: map[string]string{"perfect": "perfect", "major": "major", "minor": "minor",
			"diminished": "diminished", "augmented": "augmented"},
		article: "a", octave: "an octave", octaves: "%s octaves", counts: [5]string{2: "two", 3: "three", 4: "four"}, and: "and",
		lower: "sounds %s lower than written", higher: "sounds %s higher than written",
		same: "sounds as written", unpitched: "has no definite pitch",
	},
	"de": {
		steps: [13]string{"Prime", "Sekunde", "Terz", "Quarte", "Quinte", "Sexte", "Septime", "Oktave",
			"None", "Dezime", "Undezime", "Duodezime", "Tredezime"},
		qualities: map[string]string{"perfect": "reine", "major": "große", "minor": "kleine",
			"diminished": "verminderte", "augmented": "übermäßige"},
		article: "eine", octave: "eine Oktave", octaves: "%s Oktaven", counts: [5]string{2: "zwei", 3: "drei", 4: "vier"}, and: "und",
		lower: "klingt %s tiefer als notiert", higher: "klingt %s höher als notiert",
		same: "klingt wie notiert", unpitched: "ohne bestimmte Tonhöhe",
	},
	"fr": {
		steps: [13]string{"unisson", "seconde", "tierce", "quarte", "quinte", "sixte", "septième", "octave",
			"neuvième", "dixième", "onzième", "douzième", "treizième"},
		qualities: map[string]string{"perfect": "juste", "major": "majeure", "minor": "mineure",
			"diminished": "diminuée", "augmented": "augmentée"},
		article: "une", octave: "une octave", octaves: "%s octaves", counts: [5]string{2: "deux", 3: "trois", 4: "quatre"}, and: "et",
		lower: "sonne %s plus bas que la note écrite", higher: "sonne %s plus haut que la note écrite",
		same: "sonne comme écrit", unpitched: "à hauteur indéterminée", adjective: true,
	},
	"it": {
		steps: [13]string{"unisono", "seconda", "terza", "quarta", "quinta", "sesta", "settima", "ottava",
			"nona", "decima", "undicesima", "dodicesima", "tredicesima"},
		qualities: map[string]string{"perfect": "giusta", "major": "maggiore", "minor": "minore",
			"diminished": "diminuita", "augmented": "aumentata"},
		article: "una", octave: "un'ottava", octaves: "%s ottave", counts: [5]string{2: "due", 3: "tre", 4: "quattro"}, and: "e",
		lower: "suona %s sotto la nota scritta", higher: "suona %s sopra la nota scritta",
		same: "suona come è scritto", unpitched: "a suono indeterminato", adjective: true,
	},
	"es": {
		steps: [13]string{"unísono", "segunda", "tercera", "cuarta", "quinta", "sexta", "séptima", "octava",
			"novena", "décima", "undécima", "duodécima", "decimotercera"},
		qualities: map[string]string{"perfect": "justa", "major": "mayor", "minor": "menor",
			"diminished": "disminuida", "augmented": "aumentada"},
		article: "una", octave: "una octava", octaves: "%s octavas", counts: [5]string{2: "dos", 3: "tres", 4: "cuatro"}, and: "y",
		lower: "suena %s por debajo de lo escrito", higher: "suena %s por encima de lo escrito",
		same: "suena como está escrito", unpitched: "de altura indeterminada", adjective: true,
	},
}

// interval words a distance upwards in steps and semitones, octaves counted in: "a
// major ninth", "two octaves and a major second".
func (w idiom) interval(steps, semitones int) string {
	octaves := steps / 7
	switch {
	case steps < len(w.steps):
		return w.single(steps, semitones)
	case steps%7 == 0:
		return w.several(octaves)
	}
	return fmt.Sprintf("%s %s %s", w.several(octaves), w.and, w.single(steps%7, semitones-12*octaves))
}

func (w idiom) several(octaves int) string {
	return fmt.Sprintf(w.octaves, w.counts[min(octaves, len(w.counts)-1)])
}

// single words an interval of at most a thirteenth. An octave that is
// perfect needs no quality.
func (w idiom) single(steps, semitones int) string {
	name, quality := w.steps[steps], quality(steps, semitones)
	switch {
	case steps == 7 && quality == "perfect":
		return w.octave
	case w.adjective:
		return joinWords(w.article, name, w.qualities[quality])
	}
	return joinWords(w.article, w.qualities[quality], name)
}

// quality names the size of an interval among those of as many steps: fourths,
// fifths and octaves are perfect, the others major or minor.
func quality(steps, semitones int) string {
	natural := stepSemitones[steps%7] + 12*(steps/7)
	perfect := steps%7 == 0 || steps%7 == 3 || steps%7 == 4
	switch difference := semitones - natural; {
	case difference > 0:
		return "augmented"
	case difference == 0 && perfect:
		return "perfect"
	case difference == 0:
		return "major"
	case difference == -1 && !perfect:
		return "minor"
	}
	return "diminished"
}
