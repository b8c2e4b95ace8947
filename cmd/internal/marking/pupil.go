package marking

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Whose answer a file is, is read off its name: what is left of "Anna 3 Klasse
// 8.mxl" without exercise, numbers and class is Anna. A name that says only the
// exercise leaves the folder it lies in.

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

// ClassOf is the folder of a file's path that is called as a class is, "7b" or "Klasse 8"; ""
// for none.
func ClassOf(path string) string {
	for dir := filepath.Dir(filepath.FromSlash(path)); filepath.Dir(dir) != dir; dir = filepath.Dir(dir) {
		if base := filepath.Base(dir); slices.ContainsFunc(wordsIn(base), func(word string) bool { return className.MatchString(word) || saysClass(word) }) {
			return base
		}
	}
	return ""
}

func wordsIn(stem string) []string {
	return strings.FieldsFunc(stem, func(r rune) bool { return strings.ContainsRune(" _-.,;()[]#", r) })
}

// nameIn is what is left of a text without what is no name.
func nameIn(stem string) string {
	var kept []string
	class := false
	words := wordsIn(stem)
	for i, word := range words {
		switch {
		case i > 0 && len(kept) > 0 && kept[len(kept)-1] == words[i-1] && saysPupil(words[i-1]) && len(words[i-1]) > 2 && isNumber(word):
			kept = append(kept, word)
		case saysClass(word):
			class = true
			continue
		case class, className.MatchString(word), saysNoName(word), !strings.ContainsFunc(word, unicode.IsLetter):
		case strings.ContainsFunc(word, unicode.IsDigit) && saysNoName(strings.TrimRight(word, "0123456789")):
		default:
			kept = append(kept, withoutExercise(word, words))
		}
		class = false
	}
	return strings.Join(kept, " ")
}

func isNumber(word string) bool { return strings.Trim(word, "0123456789") == "" }

// withoutExercise takes the number of the exercise off a name, "Ida3", where it is no
// number of the pupil's.
func withoutExercise(word string, words []string) string {
	name := strings.TrimRight(word, "0123456789")
	if saysPupil(name) || slices.ContainsFunc(words, isNumber) {
		return word
	}
	return name
}
