package class

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"deskpart/cmd/internal/marking"
	"deskpart/musicxml/notice"
)

// Class is the answers of several learners. Its fields are those of --json.
type Class struct {
	Answers []marking.Result `json:"answers"`
	// Rejected are the files that could not be marked; they have their line among
	// the answers, too.
	Rejected []Rejected `json:"rejected"`
	Summary  Summary    `json:"summary"`
}

// Rejected is a file that could not be marked.
type Rejected struct {
	Input string      `json:"input"`
	Code  notice.Code `json:"code"`
	Text  string      `json:"text"`
}

// Summary is what a teacher wants to know of the whole class.
type Summary struct {
	Answers int `json:"answers"` // lines: answers and files that are none
	Marked  int `json:"marked"`  // of them those that could be read
	Notes   int `json:"notes"`
	Right   int `json:"right"`
	Lenient int `json:"lenient"`
	// Pupils in the order of their names, Exercises in the order of the sheet.
	Pupils    []Pupil    `json:"pupils"`
	Exercises []Exercise `json:"exercises"`
	// Commonest are the mistakes of the class, those of most pupils first.
	Commonest []Common `json:"commonest"`
}

// Exercise is a column of the class's table.
type Exercise struct {
	Sheet  string `json:"sheet,omitempty"`
	Number int    `json:"number"`
}

// Pupil is a row of the class's table.
type Pupil struct {
	Name    string `json:"name"`
	Notes   int    `json:"notes"`
	Right   int    `json:"right"`
	Lenient int    `json:"lenient"`
	// Answers are the indexes of the pupil's answers in Class.Answers.
	Answers []int `json:"answers"`
}

// Common is a mistake with how many pupils made it.
type Common struct {
	Kind    marking.Kind `json:"kind"`
	Rule    marking.Rule `json:"rule"`
	Cause   string       `json:"cause"`
	Pupils  []string     `json:"pupils"`
	Answers int          `json:"answers"`
	Notes   int          `json:"notes"`
}

// New counts the answers together.
func New(answers []marking.Result) Class {
	answers = apart(answers)
	c := Class{Answers: answers, Rejected: []Rejected{}}
	s := Summary{Answers: len(answers), Exercises: []Exercise{}, Pupils: []Pupil{}}
	for _, a := range answers {
		if a.Error != "" {
			c.Rejected = append(c.Rejected, Rejected{a.File, a.Code, a.Error})
			continue
		}
		s.Marked++
		s.Notes += a.Notes
		s.Right += a.Right
		s.Lenient += a.Lenient
		if e := (Exercise{a.Sheet, a.Exercise}); !slices.Contains(s.Exercises, e) {
			s.Exercises = append(s.Exercises, e)
		}
	}
	slices.SortFunc(s.Exercises, func(a, b Exercise) int {
		return cmp.Or(strings.Compare(a.Sheet, b.Sheet), cmp.Compare(a.Number, b.Number))
	})
	s.Pupils = pupilsOf(answers)
	s.Commonest = commonest(answers)
	c.Summary = s
	return c
}

// apart names pupils of one name in several classes by their class, too.
func apart(answers []marking.Result) []marking.Result {
	apart := slices.Clone(answers)
	for i, a := range answers {
		class := marking.ClassOf(a.File)
		if class != "" && a.Pupil != "" && slices.ContainsFunc(answers, func(b marking.Result) bool {
			return samePupil(a.Pupil, b.Pupil) && !slices.Contains([]string{"", class}, marking.ClassOf(b.File))
		}) {
			apart[i].Pupil = a.Pupil + " (" + class + ")"
		}
	}
	return apart
}

// pupilsOf gathers the answers of each pupil, however their name is written.
func pupilsOf(answers []marking.Result) []Pupil {
	list := []Pupil{}
	for i, a := range answers {
		if a.Code == notice.SystemFile {
			continue // nobody's
		}
		at := slices.IndexFunc(list, func(p Pupil) bool { return samePupil(p.Name, a.Pupil) })
		if at < 0 {
			at = len(list)
			list = append(list, Pupil{Name: a.Pupil})
		}
		p := &list[at]
		p.Answers = append(p.Answers, i)
		p.Notes, p.Right, p.Lenient = p.Notes+a.Notes, p.Right+a.Right, p.Lenient+a.Lenient
	}
	slices.SortStableFunc(list, func(a, b Pupil) int { return strings.Compare(inOrderOfNames(a.Name), inOrderOfNames(b.Name)) })
	return list
}

func samePupil(a, b string) bool { return strings.EqualFold(a, b) }

// commonest lists the mistakes, those of most pupils first.
func commonest(answers []marking.Result) []Common {
	type name struct {
		kind  marking.Kind
		rule  marking.Rule
		cause string
	}
	index := map[name]int{}
	list := []Common{}
	for _, a := range answers {
		seen := map[name]bool{}
		for _, m := range a.Mistakes {
			n := name{m.Kind, m.Rule, m.Cause}
			at, known := index[n]
			if !known {
				at = len(list)
				index[n] = at
				list = append(list, Common{Kind: m.Kind, Rule: m.Rule, Cause: m.Cause, Pupils: []string{}})
			}
			c := &list[at]
			c.Notes += m.Notes
			if !seen[n] {
				c.Answers++
				seen[n] = true
			}
			if !slices.ContainsFunc(c.Pupils, func(p string) bool { return samePupil(p, a.Pupil) }) {
				c.Pupils = append(c.Pupils, a.Pupil)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Common) int {
		return cmp.Or(cmp.Compare(len(b.Pupils), len(a.Pupils)), cmp.Compare(b.Answers, a.Answers), cmp.Compare(b.Notes, a.Notes))
	})
	return list
}

// Of lists a pupil's answers.
func (c Class) Of(p Pupil) []marking.Result {
	var list []marking.Result
	for _, i := range p.Answers {
		list = append(list, c.Answers[i])
	}
	return list
}

var digits = regexp.MustCompile(`[0-9]+`)

// longestNumber is how many digits numbers in names are filled up to.
const longestNumber = 9

// inOrderOfNames is what names are sorted by: small letters, and S2 before S10.
func inOrderOfNames(name string) string {
	return digits.ReplaceAllStringFunc(strings.ToLower(name), func(n string) string {
		return strings.Repeat("0", max(0, longestNumber-len(n))) + n
	})
}
