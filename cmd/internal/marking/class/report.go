package class

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/spreadsheet"
)

// Report writes a class for people and spreadsheets.
type Report struct {
	Class
	Texts *texts.Texts
	// Visible makes what comes from outside safe for a terminal.
	Visible func(string) string
}

// WriteText writes one answer in full, several as a table.
func (r Report) WriteText(w io.Writer) error {
	if len(r.Answers) == 1 {
		return r.writeAnswer(w, r.Answers[0])
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, r.columns("pupil", "exercise", "right", "lenient", "rhythm", "mistakes", "file"))
	for _, a := range r.Answers {
		if a.Error != "" {
			fmt.Fprintf(table, "%s\t-\t-\t-\t-\t%s\t%s\n", r.pupil(a.Pupil), r.Visible(a.Error), r.Visible(a.File))
			continue
		}
		fmt.Fprintf(table, "%s\t%s\t%d/%d\t%d/%d\t%d/%d\t%s\t%s\n", r.pupil(a.Pupil), r.exercise(a), a.Right, a.Notes, a.Lenient, a.Notes,
			a.RightRhythm, a.Notes, r.kinds(a), r.Visible(a.File))
	}
	s := r.Summary
	fmt.Fprintf(table, "%s\t\t%d/%d\t%d/%d\t\t%s\t\n", r.Texts.Pick("class", "all"), s.Right, s.Notes, s.Lenient, s.Notes,
		r.Texts.Say("class-marked", texts.Fill{"n": s.Marked, "of": s.Answers}))
	if err := table.Flush(); err != nil {
		return err
	}
	if err := r.writePupils(w); err != nil {
		return err
	}
	return r.writeCommonest(w)
}

func (r Report) columns(names ...string) string {
	var heads []string
	for _, name := range names {
		heads = append(heads, r.Texts.Pick("column", name))
	}
	return strings.Join(heads, "\t")
}

// PupilName is a name, or the words for none.
func (r Report) PupilName(name string) string {
	if name == "" {
		return r.Texts.Pick("class", "nobody")
	}
	return name
}

func (r Report) pupil(name string) string { return r.Visible(r.PupilName(name)) }

// exercise says which one an answer was taken for.
func (r Report) exercise(a marking.Result) string {
	if a.Exercise == 0 {
		return "-"
	}
	return strconv.Itoa(a.Exercise)
}

// writePupils writes the table of pupils and exercises, where there are several of
// these.
func (r Report) writePupils(w io.Writer) error {
	if len(r.Summary.Exercises) < 2 || len(r.Summary.Pupils) < 2 {
		return nil
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "\n%s", r.Texts.Pick("column", "pupil"))
	for _, e := range r.Summary.Exercises {
		fmt.Fprintf(table, "\t%s", r.ExerciseName(e))
	}
	fmt.Fprintf(table, "\t%s\n", r.Texts.Pick("class", "all"))
	for _, p := range r.Summary.Pupils {
		fmt.Fprint(table, r.pupil(p.Name))
		for _, e := range r.Summary.Exercises {
			fmt.Fprint(table, "\t"+r.Cell(p, e))
		}
		fmt.Fprintf(table, "\t%s\n", r.Total(p))
	}
	return table.Flush()
}

// ExerciseName is the head of an exercise's column: its number, with the version
// where the sheets are several.
func (r Report) ExerciseName(e Exercise) string {
	name := strconv.Itoa(e.Number)
	for _, other := range r.Summary.Exercises {
		if other.Sheet != e.Sheet {
			return e.Sheet[strings.LastIndexByte(e.Sheet, '-')+1:] + name
		}
	}
	return name
}

// Total is what a pupil has in all exercises; in words where no file could be read.
func (r Report) Total(p Pupil) string {
	if p.Notes == 0 {
		return r.Texts.Pick("class", "unreadable")
	}
	return fmt.Sprintf("%d/%d", p.Lenient, p.Notes)
}

// Cell is what a pupil has in an exercise: "11/13 (2)", in brackets the number of
// mistakes where there are any; each answer, where several were handed in; "" for none.
func (r Report) Cell(p Pupil, e Exercise) string {
	var list []string
	for _, a := range r.Of(p) {
		if a.Error == "" && a.Exercise == e.Number && a.Sheet == e.Sheet {
			text := fmt.Sprintf("%d/%d", a.Lenient, a.Notes)
			if n := len(a.Mistakes); n > 0 {
				text += fmt.Sprintf(" (%d)", n)
			}
			list = append(list, text)
		}
	}
	return strings.Join(list, ", ")
}

// MostCommon bounds the list of the commonest mistakes in text.
const MostCommon = 10

func (r Report) writeCommonest(w io.Writer) error {
	if len(r.Summary.Commonest) == 0 {
		return nil
	}
	if _, err := fmt.Fprintf(w, "\n%s\n", r.Texts.Pick("class", "commonest")); err != nil {
		return err
	}
	for i, m := range r.Summary.Commonest {
		if i == MostCommon {
			break
		}
		line := r.Texts.Say("class-common", texts.Fill{"n": len(m.Pupils), "of": len(r.Summary.Pupils), "kind": r.Texts.Pick("kind", string(m.Kind)), "cause": m.Cause})
		if _, err := fmt.Fprintln(w, "  "+line); err != nil {
			return err
		}
	}
	return nil
}

// Where says a mistake's place and kind, or the rule where that has a word of its own: "bar 3,
// beat 2: rhythm:".
func (r Report) Where(m marking.Mistake) string {
	kind := string(m.Kind)
	if r.Texts.Has("kind", string(m.Rule)) {
		kind = string(m.Rule)
	}
	return r.Texts.Say("marked.mistake", texts.Fill{"place": m.Place, "kind": r.Texts.Pick("kind", kind)})
}

// kinds lists the kinds of an answer's mistakes, each once.
func (r Report) kinds(a marking.Result) string {
	var list []string
	for _, kind := range marking.Kinds {
		n := 0
		for _, m := range a.Mistakes {
			if m.Kind == kind {
				n++
			}
		}
		name := r.Texts.Pick("kind", string(kind))
		switch {
		case n == 1:
			list = append(list, name)
		case n > 1:
			list = append(list, fmt.Sprintf("%s ×%d", name, n))
		}
	}
	if len(list) == 0 {
		return r.Texts.Pick("class", "none")
	}
	return strings.Join(list, ", ")
}

// WriteDetails writes every answer with all its mistakes.
func (r Report) WriteDetails(w io.Writer) error {
	for _, a := range r.Answers {
		if err := r.writeAnswer(w, a); err != nil {
			return err
		}
	}
	return nil
}

// writeAnswer writes an answer with all its mistakes.
func (r Report) writeAnswer(w io.Writer, a marking.Result) error {
	if a.Error != "" {
		_, err := fmt.Fprintf(w, "%s: %s\n", r.Visible(a.File), r.Visible(a.Error))
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", r.Visible(a.File), r.Texts.Say("answer-total", texts.Fill{"right": a.Right, "notes": a.Notes, "lenient": a.Lenient, "rhythm": a.RightRhythm}))
	if a.Exercise > 0 {
		fmt.Fprintf(&b, "  %s\n", r.Texts.Say("answer-exercise", texts.Fill{"pupil": r.pupil(a.Pupil), "n": a.Exercise, "why": a.Why}))
	}
	for _, m := range a.Mistakes {
		fmt.Fprintf(&b, "  %s %s\n", r.Visible(r.Where(m)), r.Visible(m.Text))
	}
	for _, text := range a.Remarks {
		fmt.Fprintf(&b, "  %s\n", r.Texts.Say("answer-remark", texts.Fill{"text": text}))
	}
	fmt.Fprintf(&b, "  %s\n", r.Texts.Say("answer-marks", texts.Fill{"strict": a.Marks.Strict, "of": a.Marks.Of, "lenient": a.Marks.Lenient}))
	_, err := io.WriteString(w, b.String())
	return err
}

// columnNames are those of the spreadsheet before and after the kinds.
var columnNames, lastColumn = []string{"pupil", "exercise", "sheet", "why", "file", "notes", "right", "lenient", "right-pitch", "right-rhythm", "marks", "marks-lenient", "marks-of"}, "text"

// WriteCSV writes a row for each answer, with a column for each kind of mistake,
// and a row for the class.
func (r Report) WriteCSV(w io.Writer) error {
	out := spreadsheet.NewWriter(w)
	var header []string
	for _, name := range columnNames {
		header = append(header, r.Texts.Pick("column", name))
	}
	for _, kind := range marking.Kinds {
		header = append(header, r.Texts.Pick("kind", string(kind)))
	}
	out.Row(append(header, r.Texts.Pick("column", lastColumn))...)
	var sum marking.Result
	total := map[marking.Kind]int{}
	for _, a := range r.Answers {
		count := map[marking.Kind]int{}
		var said []string
		for _, m := range a.Mistakes {
			count[m.Kind]++
			total[m.Kind]++
			said = append(said, m.Place+": "+m.Text)
		}
		if a.Error != "" {
			said = []string{a.Error}
		}
		sum.Add(a)
		out.Row(r.row(a, count, strings.Join(said, "; "))...)
	}
	var common []string
	for i, m := range r.Summary.Commonest {
		if i < MostCommon {
			common = append(common, r.Texts.Say("class-common", texts.Fill{"n": len(m.Pupils), "of": len(r.Summary.Pupils), "kind": r.Texts.Pick("kind", string(m.Kind)), "cause": m.Cause}))
		}
	}
	sum.Pupil = r.Texts.Pick("class", "all")
	out.Row(r.row(sum, total, strings.Join(common, "; "))...)
	return out.Flush()
}

func (r Report) row(a marking.Result, count map[marking.Kind]int, said string) []string {
	cells := []string{a.Pupil, "", a.Sheet, a.Why, a.File}
	if a.Exercise > 0 {
		cells[1] = strconv.Itoa(a.Exercise)
	}
	for _, n := range []int{a.Notes, a.Right, a.Lenient, a.RightPitch, a.RightRhythm, a.Marks.Strict, a.Marks.Lenient, a.Marks.Of} {
		cells = append(cells, strconv.Itoa(n))
	}
	for _, kind := range marking.Kinds {
		cells = append(cells, strconv.Itoa(count[kind]))
	}
	return append(cells, said)
}
