package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/report"
	"deskpart/instruments"
	"deskpart/musicxml"
)

// markOptions are the flags of mark.
type markOptions struct {
	reportFlags
	question  string
	csv       bool
	details   bool
	filesFrom string
}

func newMarkCmd(p *program) *cobra.Command {
	var o markOptions
	cmd := &cobra.Command{
		Use:   "mark KEY ANSWER…",
		Short: "Mark learners' transpositions: which mistake was made, said once",
		Long: `Compares learners' files with the answer, note by note, and says which mistake was
made. A mistake that explains many notes, such as moving the wrong way, is said once
with the bars it covers, and costs once in the lenient total. Rhythm is marked apart
from pitch.

KEY is an answer as MusicXML (answer-01.musicxml, or any score of one staff), or a
folder made by deskpart exercise; there an answer belongs to the exercise that its
name says (exercise-03.musicxml, Anna 3.mxl), or else to the one that it fits best.
The question stands beside the key as exercise-01.musicxml, or is told by the key.

ANSWER is a file of any notation program or a folder of them: a class. A file that
cannot be read is a line of the table. The exit status is then 1; mistakes of
learners do not change it.`,
		Example: `  One answer:
    deskpart mark horn/answer-01.musicxml anna.musicxml
  A class, for a spreadsheet:
    deskpart mark horn/ class-7b/ --csv > marks.csv`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return errors.New("no key was named; give an answer or a folder of exercises, then what is to be marked")
			case len(args) == 1 && o.filesFrom == "":
				return errors.New("no answer was named; give the learners' files or a folder of them after the key")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runMark(cmd.Context(), p, &o, args[0], args[1:]) },
	}
	flags := cmd.Flags()
	flags.StringVar(&o.question, "question", "", "the question, where it does not stand beside the key")
	flags.BoolVar(&o.csv, "csv", false, "print the class as a table for a spreadsheet")
	flags.BoolVar(&o.details, "details", false, "print every answer with all its mistakes in place of a table")
	flags.StringVar(&o.filesFrom, "files-from", "", "a `FILE` with more answers, one a line or separated by NUL; - is standard input")
	o.addFlags(cmd)
	return cmd
}

func runMark(ctx context.Context, p *program, o *markOptions, keyPath string, paths []string) error {
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	keys, err := readKeys(keyPath, o.question, catalogue)
	if err != nil {
		return err
	}
	search := files.Search{Paths: paths, FilesFrom: o.filesFrom, In: p.streams.In}
	inputs, problems, err := search.Find(ctx)
	if err != nil {
		return err
	}
	answers := []marking.Result{}
	for _, problem := range problems {
		answers = append(answers, unmarked(problem.Path, problem.Err))
	}
	for _, in := range inputs {
		if err := context.Cause(ctx); err != nil {
			return err
		}
		answers = append(answers, markFile(keys, in.Path))
	}
	if len(answers) == 0 {
		return fmt.Errorf("no answers were found in %s; they are files named .musicxml, .xml or .mxl", strings.Join(paths, ", "))
	}
	class := marking.NewClass(answers)
	if err := printClass(p, o, class); err != nil {
		return err
	}
	if class.Summary.Marked < class.Summary.Answers {
		return errNeedsPerson
	}
	return nil
}

// markFile marks one answer; a file that cannot be read becomes a line.
func markFile(keys marking.KeySet, path string) marking.Result {
	score, err := readScore(path)
	if err != nil {
		return unmarked(path, err)
	}
	r, err := keys.Mark(score)
	if err != nil {
		return unmarked(path, err)
	}
	return r
}

func unmarked(path string, err error) marking.Result {
	text := strings.TrimPrefix(err.Error(), path+": ")
	return marking.Result{File: path, Mistakes: []marking.Mistake{}, Error: text}
}

func printClass(p *program, o *markOptions, class marking.Class) error {
	switch {
	case o.json:
		return printJSON(p, class)
	case o.csv:
		return class.WriteCSV(p.streams.Out)
	case o.quiet:
		return nil
	case o.details:
		for _, a := range class.Answers {
			if err := marking.NewClass([]marking.Result{a}).WriteText(p.streams.Out, report.Visible); err != nil {
				return err
			}
		}
		return nil
	}
	return class.WriteText(p.streams.Out, report.Visible)
}

// readKeys reads the key, or the keys of a folder of exercises.
func readKeys(path, question string, catalogue *instruments.Catalogue) (marking.KeySet, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such key", path)
	case err != nil:
		return nil, err
	case !info.IsDir():
		k, err := readKey(path, question, catalogue)
		return marking.KeySet{k}, err
	}
	var keys marking.KeySet
	for _, answer := range answersIn(path) {
		k, err := readKey(answer, "", catalogue)
		if err != nil {
			return nil, err
		}
		keys = append(keys, k)
	}
	if len(keys) == 0 {
		return nil, fmt.Errorf("%s: no answer-01.musicxml and so on are in it; name a folder made by deskpart exercise, or an answer", path)
	}
	return keys, nil
}

// answersIn lists the answers of a folder, or of the folders of its versions.
func answersIn(folder string) []string {
	var found []string
	for _, pattern := range []string{"answer-*.musicxml", "*/answer-*.musicxml"} {
		names, _ := filepath.Glob(filepath.Join(escapeGlob(folder), pattern)) // the pattern is well-formed
		sort.Strings(names)
		if found = append(found, names...); len(found) > 0 {
			return found
		}
	}
	return nil
}

// escapeGlob makes a folder's name stand for itself in a pattern.
func escapeGlob(name string) string {
	return strings.NewReplacer(`*`, `[*]`, `?`, `[?]`, `[`, `[[]`).Replace(name)
}

func readKey(path, question string, catalogue *instruments.Catalogue) (*marking.Key, error) {
	answer, err := readScore(path)
	if err != nil {
		return nil, err
	}
	var asked *musicxml.Score
	if question == "" {
		question = questionBeside(path)
	}
	if question != "" {
		if asked, err = readScore(question); err != nil {
			return nil, err
		}
	}
	return marking.NewKey(answer, asked, catalogue)
}

// questionBeside is exercise-NN beside answer-NN, "" where there is none.
func questionBeside(path string) string {
	name, isAnswer := strings.CutPrefix(filepath.Base(path), "answer-")
	if !isAnswer {
		return ""
	}
	question := filepath.Join(filepath.Dir(path), "exercise-"+name)
	if _, err := os.Stat(question); err != nil {
		return ""
	}
	return question
}
