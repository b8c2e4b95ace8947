package marking

import (
	"encoding/csv"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"text/tabwriter"
)

// Class is the answers of several learners.
type Class struct {
	Answers []Result     `json:"answers"`
	Summary ClassSummary `json:"class"`
}

// ClassSummary is what a teacher wants to know of the whole class.
type ClassSummary struct {
	Answers int `json:"answers"` // files
	Marked  int `json:"marked"`  // of them those that could be read
	Notes   int `json:"notes"`
	Right   int `json:"right"`
	Lenient int `json:"lenient"`
	// Commonest are the mistakes of the class, those of most answers first.
	Commonest []Common `json:"commonest"`
}

// Common is a mistake with how many answers have it.
type Common struct {
	Kind    string `json:"kind"`
	Cause   string `json:"cause"`
	Answers int    `json:"answers"`
	Notes   int    `json:"notes"`
}

// NewClass counts the answers together.
func NewClass(answers []Result) Class {
	c := Class{Answers: answers, Summary: ClassSummary{Answers: len(answers), Commonest: []Common{}}}
	for _, a := range answers {
		if a.Error != "" {
			continue
		}
		c.Summary.Marked++
		c.Summary.Notes += a.Notes
		c.Summary.Right += a.Right
		c.Summary.Lenient += a.Lenient
	}
	c.Summary.Commonest = commonest(answers)
	return c
}

func commonest(answers []Result) []Common {
	index := map[string]int{}
	list := []Common{}
	for _, a := range answers {
		seen := map[string]bool{}
		for _, m := range a.Mistakes {
			name := m.Kind + "\x00" + m.Cause
			at, known := index[name]
			if !known {
				at = len(list)
				index[name] = at
				list = append(list, Common{Kind: m.Kind, Cause: m.Cause})
			}
			list[at].Notes += m.Notes
			if !seen[name] {
				list[at].Answers++
				seen[name] = true
			}
		}
	}
	sort.SliceStable(list, func(i, k int) bool {
		if list[i].Answers != list[k].Answers {
			return list[i].Answers > list[k].Answers
		}
		return list[i].Notes > list[k].Notes
	})
	return list
}

// WriteText writes one answer in full, several as a table.
func (c Class) WriteText(w io.Writer, visible func(string) string) error {
	if len(c.Answers) == 1 {
		return c.Answers[0].writeText(w, visible)
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "answer\tright\tlenient\trhythm\tmistakes")
	for _, a := range c.Answers {
		if a.Error != "" {
			fmt.Fprintf(table, "%s\t-\t-\t-\tcannot be read: %s\n", visible(a.File), visible(a.Error))
			continue
		}
		fmt.Fprintf(table, "%s\t%d/%d\t%d/%d\t%d/%d\t%s\n", visible(a.File), a.Right, a.Notes, a.Lenient, a.Notes, a.RightRhythm, a.Notes, a.kinds())
	}
	s := c.Summary
	fmt.Fprintf(table, "all\t%d/%d\t%d/%d\t\t%s marked\n", s.Right, s.Notes, s.Lenient, s.Notes, counted(s.Marked, "answer"))
	if err := table.Flush(); err != nil {
		return err
	}
	return c.writeCommonest(w)
}

// mostCommon bounds the list of the commonest mistakes in text.
const mostCommon = 10

func (c Class) writeCommonest(w io.Writer) error {
	if len(c.Summary.Commonest) == 0 {
		return nil
	}
	if _, err := fmt.Fprintln(w, "\nThe commonest mistakes:"); err != nil {
		return err
	}
	for i, m := range c.Summary.Commonest {
		if i == mostCommon {
			break
		}
		if _, err := fmt.Fprintf(w, "%4d of %d  %s: %s\n", m.Answers, c.Summary.Marked, m.Kind, m.Cause); err != nil {
			return err
		}
	}
	return nil
}

// kinds lists the kinds of an answer's mistakes, each once.
func (r Result) kinds() string {
	var list []string
	for _, kind := range Kinds {
		n := 0
		for _, m := range r.Mistakes {
			n += one(m.Kind == kind)
		}
		switch {
		case n == 1:
			list = append(list, kind)
		case n > 1:
			list = append(list, fmt.Sprintf("%s ×%d", kind, n))
		}
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, ", ")
}

// writeText writes an answer with all its mistakes.
func (r Result) writeText(w io.Writer, visible func(string) string) error {
	if r.Error != "" {
		_, err := fmt.Fprintf(w, "%s: cannot be read: %s\n", visible(r.File), visible(r.Error))
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d of %s right; %d of %d when each mistake counts once; rhythm %d of %d\n",
		visible(r.File), r.Right, counted(r.Notes, "note"), r.Lenient, r.Notes, r.RightRhythm, r.Notes)
	for _, m := range r.Mistakes {
		fmt.Fprintf(&b, "  bar %s, beat %s: %s: %s\n", m.Measure, m.Beat, m.Kind, visible(m.Text))
	}
	for _, text := range r.Remarks {
		fmt.Fprintf(&b, "  remark: %s\n", text)
	}
	fmt.Fprintf(&b, "  marks %d of %d, or %d when each mistake counts once\n", r.Marks.Strict, r.Marks.Of, r.Marks.Lenient)
	_, err := io.WriteString(w, b.String())
	return err
}

// WriteCSV writes a row for each answer, with a column for each kind of mistake,
// and a row for the class.
func (c Class) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	header := append([]string{"file", "notes", "right", "lenient", "right_pitch", "right_rhythm", "marks", "marks_lenient", "marks_of"}, Kinds...)
	out.Write(append(header, "text"))
	var sum Result
	total := map[string]int{}
	for _, a := range c.Answers {
		count := map[string]int{}
		var texts []string
		for _, m := range a.Mistakes {
			count[m.Kind]++
			total[m.Kind]++
			texts = append(texts, fmt.Sprintf("bar %s: %s", m.Measure, m.Text))
		}
		if a.Error != "" {
			texts = []string{"cannot be read: " + a.Error}
		}
		sum.Notes, sum.Right, sum.Lenient = sum.Notes+a.Notes, sum.Right+a.Right, sum.Lenient+a.Lenient
		sum.RightPitch, sum.RightRhythm = sum.RightPitch+a.RightPitch, sum.RightRhythm+a.RightRhythm
		sum.Marks.Strict, sum.Marks.Lenient, sum.Marks.Of = sum.Marks.Strict+a.Marks.Strict, sum.Marks.Lenient+a.Marks.Lenient, sum.Marks.Of+a.Marks.Of
		out.Write(row(a.File, a, count, strings.Join(texts, "; ")))
	}
	var common []string
	for i, m := range c.Summary.Commonest {
		if i < mostCommon {
			common = append(common, fmt.Sprintf("%d of %d: %s", m.Answers, c.Summary.Marked, m.Cause))
		}
	}
	out.Write(row("all", sum, total, strings.Join(common, "; ")))
	out.Flush()
	return out.Error()
}

func row(name string, r Result, count map[string]int, text string) []string {
	cells := []string{cell(name)}
	for _, n := range []int{r.Notes, r.Right, r.Lenient, r.RightPitch, r.RightRhythm, r.Marks.Strict, r.Marks.Lenient, r.Marks.Of} {
		cells = append(cells, strconv.Itoa(n))
	}
	for _, kind := range Kinds {
		cells = append(cells, strconv.Itoa(count[kind]))
	}
	return append(cells, cell(text))
}

// cell keeps a spreadsheet from taking a text for a formula.
func cell(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}
