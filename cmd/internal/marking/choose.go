package marking

import (
	"cmp"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/texts"
)

// hints are what a file says of its exercise beside the notes.
type hints struct {
	// number and sheet are those of its fields, 0 and "" for none.
	number int
	sheet  string
	// named are the numbers in its name, the likeliest first.
	named []int
	// part is the name of the staff.
	part string
}

func hintsOf(path string, fields map[string]string) hints {
	h := hints{sheet: fields[exercise.FieldSheet], named: numbersIn(path)}
	h.number, _ = strconv.Atoi(fields[exercise.FieldExercise])
	return h
}

// withPart prefers the numbers in the part's name where a file has several parts.
func (h hints) withPart(name string, parts int) hints {
	h.part = name
	if numbers := numbersIn(name); parts > 1 && len(numbers) > 0 {
		h.number, h.named = 0, numbers
	}
	return h
}

// anyNumber finds the numbers in a file's name.
var anyNumber = regexp.MustCompile(`(?:^|[^0-9])0*([0-9]{1,3})(?:[^0-9]|$)`)

// numbersIn lists the numbers in a file's name: those behind a word for exercise
// first.
func numbersIn(path string) []int {
	stem := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	var list []int
	for _, pattern := range []*regexp.Regexp{wordsOfFiles().number, anyNumber} {
		for rest := stem; ; {
			at := pattern.FindStringSubmatchIndex(rest)
			if at == nil {
				break
			}
			if n, err := strconv.Atoi(rest[at[2]:at[3]]); err == nil && !slices.Contains(list, n) {
				list = append(list, n)
			}
			rest = rest[at[3]:]
		}
	}
	return list
}

// fits is how well an answer fits a key, in hundredths: rhythm counts most,
// because it is what learners copy.
func fits(r Result) int {
	if r.Notes == 0 {
		return 0
	}
	extra, lenient := 0, r.Lenient
	for _, m := range r.Mistakes {
		extra += len(m.extra)
		if m.Rule == RuleCopied { // which earns nothing, but tells
			lenient = max(lenient, r.Notes-len(r.Mistakes))
		}
	}
	return (100*r.RightRhythm + 60*lenient + 40*r.Right - 100*extra) / r.Notes
}

// What counts as equal, also for the staff that bears the player's name, and below what
// nothing fits, in the hundredths of fits.
const (
	fitsAlike  = 12
	fitsNamed  = 60
	fitsHardly = 60
)

// FitsHardly reports whether an answer is rather one to another question: it fits its
// exercise hardly, and nothing explains why.
func (r Result) FitsHardly() bool {
	return r.Error == "" && fits(r) < fitsHardly && 3*len(r.Mistakes) > r.Notes
}

// mostTried bounds the keys that are marked by; the nearest ones are.
const mostTried = 6

// choose marks a staff by the keys that it may belong to, the likeliest first.
func (m Marker) choose(answer *music, h hints) []Result {
	if len(m.Keys) == 1 {
		r := m.Keys[0].examine(answer, m.Texts)
		if r.Why = m.otherSheet(h, fits(r)); r.Why == "" {
			r.Why = m.Texts.Say("marking.why-only", nil)
		}
		return []Result{r}
	}
	var tried []Result
	for _, k := range m.nearest(answer, h) {
		tried = append(tried, k.examine(answer, m.Texts))
	}
	slices.SortStableFunc(tried, func(a, b Result) int { return cmp.Compare(fits(b), fits(a)) })
	best := fits(tried[0])
	var equal, other []Result
	for _, r := range tried {
		alike := fitsAlike
		if r.key().Staves > 1 && r.key().samePart(h.part) {
			alike = fitsNamed
		}
		if fits(r) >= best-alike || best < fitsHardly {
			equal = append(equal, r)
		} else {
			other = append(other, r)
		}
	}
	return append(m.between(equal, h, best), other...)
}

// between puts first, among answers that fit as well, the one that the file, the
// staff's name or the file's name means.
func (m Marker) between(equal []Result, h hints, best int) []Result {
	means := func(is func(r Result) bool) int {
		if len(equal) < 2 {
			return -1
		}
		return slices.IndexFunc(equal, is)
	}
	first, why := 0, m.Texts.Say("marking.why-notes", nil)
	file := means(func(r Result) bool {
		return h.number > 0 && r.Exercise == h.number && (h.sheet == "" || r.Sheet == h.sheet) && (r.key().Staves < 2 || r.key().samePart(h.part))
	})
	staff := means(func(r Result) bool { return r.key().Staves > 1 && r.key().samePart(h.part) })
	name := -1
	for _, n := range h.named {
		if name < 0 {
			name = means(func(r Result) bool { return r.Exercise == n })
		}
	}
	hardly := best < fitsHardly
	switch {
	case file >= 0 && hardly:
		first, why = file, m.Texts.Say("marking.why-hardly-file", texts.Fill{"n": equal[file].Exercise})
	case file < 0 && staff < 0 && name >= 0 && hardly:
		first, why = name, m.Texts.Say("marking.why-hardly-name", texts.Fill{"n": equal[name].Exercise})
	case file >= 0:
		first, why = file, m.Texts.Say("marking.why-file", texts.Fill{"n": equal[file].Exercise})
	case staff >= 0:
		first, why = staff, m.Texts.Say("marking.why-notes", nil)
	case name >= 0:
		first, why = name, m.Texts.Say("marking.why-name", texts.Fill{"n": equal[name].Exercise})
	case hardly:
		why = m.Texts.Say("marking.why-nearest", nil)
	case len(equal) > 1 && equal[0].key().Staves < 2:
		why = m.Texts.Say("marking.why-first", texts.Fill{"n": equal[0].Exercise})
	}
	if other := m.otherSheet(h, best); other != "" {
		why = other
	}
	chosen := equal[first]
	list := append([]Result{chosen}, slices.Delete(slices.Clone(equal), first, first+1)...)
	for i := range list {
		list[i].Why = why
	}
	return list
}

// otherSheet says that an answer that fits nothing well is one of another sheet, as its
// file says; "" for others.
func (m Marker) otherSheet(h hints, best int) string {
	ours := func(k *Key) bool { return k.Sheet == "" || k.Sheet == h.sheet }
	if best >= fitsHardly || h.sheet == "" || slices.ContainsFunc(m.Keys, ours) {
		return ""
	}
	return m.Texts.Say("marking.why-other-sheet", texts.Fill{"sheet": h.sheet})
}

// oneExercise keeps the keys of the exercise for several staves that those of a file fit
// best together, and says why: one staff by itself may fit another exercise by chance.
func (m Marker) oneExercise(staves []candidate, h hints) (one Marker, why string) {
	var all []Marker
	var fit []int
	for from := 0; from < len(m.Keys); from += max(m.Keys[from].Staves, 1) {
		keys := m.Keys[from:min(from+max(m.Keys[from].Staves, 1), len(m.Keys))]
		if len(staves) < 2 || len(staves) > len(keys) {
			continue
		}
		sum := 0
		for i, c := range staves {
			k := keys[i]
			if named := slices.IndexFunc(keys, func(k *Key) bool { return k.samePart(c.part) }); named >= 0 {
				k = keys[named]
			}
			sum += fits(k.examine(c.music, m.Texts))
		}
		all, fit = append(all, Marker{keys, m.Texts}), append(fit, sum/len(staves))
	}
	if len(all) == 0 || slices.Max(fit) < fitsHardly {
		return m, ""
	}
	best := slices.Max(fit)
	first, why := slices.Index(fit, best), m.Texts.Say("marking.why-notes", nil)
	says := func(number int, key string) {
		for i := range all {
			if n := all[i].Keys[0].Number; n == number && fit[i] >= best-fitsAlike {
				first, why = i, m.Texts.Say(key, texts.Fill{"n": n})
			}
		}
	}
	equal := slices.DeleteFunc(slices.Clone(fit), func(n int) bool { return n < best-fitsAlike })
	if len(equal) > 1 {
		for _, n := range slices.Backward(h.named) {
			says(n, "marking.why-name")
		}
		says(h.number, "marking.why-file")
	}
	return all[first], why
}

// nearest lists the keys that a staff comes nearest to, and those that the file
// names.
func (m Marker) nearest(answer *music, h hints) []*Key {
	type near struct {
		key  *Key
		cost int
	}
	var all []near
	for _, k := range m.Keys {
		all = append(all, near{k, align(k.expected, answer).cost})
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.cost, b.cost) })
	var list []*Key
	for i, n := range all {
		if i < mostTried || n.key.samePart(h.part) && i < 4*mostTried || n.key.Number > 0 && (n.key.Number == h.number || slices.Contains(h.named, n.key.Number)) {
			list = append(list, n.key)
		}
	}
	return list
}
