package marking

import (
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
)

// Whose answer a file is, is read off its name: what is left of "Anna 3 Klasse
// 8.mxl" without exercise, numbers and class is Anna. A name that says only the
// exercise leaves the folder it lies in.

// otherWords are no part of a pupil's name: words for exercise and answer, and what
// the usual learning platforms put into the names of files (common practice, no
// source).
var otherWords = regexp.MustCompile(`(?i)^(exercises?|exercices?|esercizio|esercizi|ejercicios?|aufgaben?|übung(en)?|uebung(en)?|answers?|antwort(en)?|r[eé]ponses?|rispost[ae]|respuestas?|lösung(en)?|loesung(en)?|solutions?|` +
	`soluzion[ei]|soluci[oó]n(es)?|ex|nr|no|num|n|bis|to|all|alles?|tous|toutes|tout|tutt[eio]|tod[ao]s?|und|and|et|assignsubmission|submission|file|abgabe|onlinetext|` +
	`hausaufgaben?|homework|devoirs?|compit[oi]|tareas?|blatt|arbeitsblatt|sheet|worksheet|feuille|fiche|foglio|scheda|hoja|ficha|noten|fertig|final|copy|kopie|version|v)$`)

// classWords are followed by the name of a class: "Klasse 8", "class 7b".
var classWords = regexp.MustCompile(`(?i)^(klasse|kl|class|grade|year|form|classe|clase|curso)$`)

// className is the name of a class by itself: "7b".
var className = regexp.MustCompile(`^[0-9]{1,2}\pL$`)

// PupilOf reads the pupil's name off a file's path below the folder that was given;
// the path with forward slashes. It is "" where nothing tells.
func PupilOf(path string) string {
	folder, file := filepath.Split(filepath.FromSlash(path))
	if name := nameIn(strings.TrimSuffix(file, filepath.Ext(file))); name != "" {
		return name
	}
	if folder = filepath.Clean(folder); folder != "." && folder != string(filepath.Separator) {
		return nameIn(filepath.Base(folder))
	}
	return ""
}

// nameIn is what is left of a text without what is no name.
func nameIn(stem string) string {
	var kept []string
	class := false
	for _, word := range strings.FieldsFunc(stem, func(r rune) bool { return strings.ContainsRune(" _-.,;()[]#", r) }) {
		switch {
		case classWords.MatchString(word):
			class = true
			continue
		case class, className.MatchString(word), otherWords.MatchString(word), !strings.ContainsFunc(word, unicode.IsLetter):
		case strings.ContainsFunc(word, unicode.IsDigit) && otherWords.MatchString(strings.TrimRight(word, "0123456789")):
		default:
			kept = append(kept, strings.TrimRight(word, "0123456789"))
		}
		class = false
	}
	return strings.Join(kept, " ")
}
