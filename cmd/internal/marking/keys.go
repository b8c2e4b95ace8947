package marking

import (
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/musicxml"
)

// KeySet is the keys that answers may belong to: one, or those of a sheet.
type KeySet []*Key

// Mark marks an answer by the key that it belongs to: the one whose exercise its
// file names, in itself or in its own name; or else the one that it fits best.
func (s KeySet) Mark(answer *musicxml.Score) (Result, error) {
	best, found := Result{}, false
	for _, k := range s.candidates(answer) {
		r, err := k.Mark(answer)
		if err != nil {
			return r, err
		}
		if !found || fits(r) > fits(best) {
			best, found = r, true
		}
	}
	return best, nil
}

// fits is how well an answer fits a key, in hundredths: rhythm counts most,
// because it is what learners copy.
func fits(r Result) int {
	if r.Notes == 0 {
		return 0
	}
	return (100*r.RightRhythm + 60*r.Lenient + 40*r.Right) / r.Notes
}

// candidates are the keys that an answer may belong to.
func (s KeySet) candidates(answer *musicxml.Score) KeySet {
	if len(s) <= 1 {
		return s
	}
	fields := fieldsOf(answer.Header.Root())
	if number, err := strconv.Atoi(fields[exercise.FieldExercise]); err == nil {
		if named := s.numbered(number, fields[exercise.FieldSheet]); len(named) > 0 {
			return named
		}
	}
	if number, ok := numberIn(answer.Name); ok {
		if named := s.numbered(number, ""); len(named) > 0 {
			return named
		}
	}
	return s
}

// numbered are the keys of an exercise; with a sheet's code, of that sheet alone.
func (s KeySet) numbered(number int, sheet string) KeySet {
	var list KeySet
	for _, k := range s {
		if k.Number == number && (sheet == "" || k.Sheet == sheet) {
			list = append(list, k)
		}
	}
	return list
}

// exerciseNumber finds the number of an exercise in a file's name: "exercise-03",
// "Anna 3", "answer_07 (2)" is 7.
var exerciseNumber = regexp.MustCompile(`(?i)(?:exercise|answer|ex|no|nr)[-_ .]*0*([0-9]{1,3})\b`)
var lastNumber = regexp.MustCompile(`(?:^|[^0-9])0*([0-9]{1,3})$`)

func numberIn(path string) (int, bool) {
	stem := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	for _, pattern := range []*regexp.Regexp{exerciseNumber, lastNumber} {
		if m := pattern.FindStringSubmatch(stem); m != nil {
			n, err := strconv.Atoi(m[1])
			return n, err == nil
		}
	}
	return 0, false
}
