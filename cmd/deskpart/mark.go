package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/pages/marked"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// markOptions are the flags of mark.
type markOptions struct {
	runFlags
	outFlags
	pdfFlags
	language      pitch.Language
	question, out string
	csv, details  bool
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
notes fit, and of several that they fit as well, to the one that its name says
(exercise-03.musicxml, Anna 3.mxl). The question stands beside the key as
exercise-01.musicxml, or is told by the key.

ANSWER is a file of any notation program or a folder of them: a class. One file may
hold several exercises, as parts or one after another. Whose it is, its name says, or
the folder that it lies in. A file that cannot be read is a line of the table. The exit
status is then 1; mistakes of learners do not change it.

With --out each pupil has a page to print: the answer with its mistakes, the rule, what
is right, what to practise; and the class has one. With --pdf they are PDFs, too.`,
		Example: `  A sheet, and a pupil's answer to one of its exercises:
    deskpart exercise --instrument "horn in F" --level 2 --count 10 --seed 7 --out horn
    deskpart mark horn/answer-01.musicxml "examples/class-7b/Anna 1.musicxml"
  A class, for a spreadsheet:
    deskpart mark horn/ examples/class-7b/ --csv > marks.csv
  A page for each pupil, in German:
    deskpart mark horn/ examples/class-7b/ --out pages/ --pdf --language de`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return errors.New("no key was named; give an answer or a folder of exercises, then what is to be marked")
			case len(args) == 1 && o.filesFrom == "":
				return errors.New("no answer was named; give the learners' files or a folder of them after the key")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			paths, err := files.Named(args)
			if err != nil {
				return err
			}
			return runMark(cmd.Context(), p, &o, paths[0], paths[1:])
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.question, "question", "", "the question, where it does not stand beside the key")
	flags.BoolVar(&o.csv, "csv", false, "print the class as a table for a spreadsheet")
	flags.BoolVar(&o.details, "details", false, "print every answer with all its mistakes in place of a table")
	flags.StringVar(&o.out, "out", "", "write a page for each pupil and one for the class to this `DIR`")
	addFilesFrom(flags, &o.filesFrom, "answers")
	addLanguage(flags, &o.language, "the texts and the names of notes")
	o.addWorkFlags(cmd)
	o.outFlags.addFlags(cmd)
	o.pdfFlags.addFlags(cmd, true)
	return cmd
}

func runMark(ctx context.Context, p *program, o *markOptions, keyPath string, paths []string) error {
	if err := files.CanHold(o.out); err != nil {
		return err
	}
	pool, err := o.pool()
	if err != nil {
		return err
	}
	defer o.tuneCollector(pool)()
	marker, err := o.marker(ctx, p, pool, keyPath)
	if musicxml.ErrorCode(err) != "" && !errors.Is(err, fs.ErrNotExist) { // the key's fault, not that of the flags
		return o.refuseKey(p, keyPath, err)
	}
	if err != nil {
		return err
	}
	if o.pdf && o.out == "" {
		return errors.New("--pdf is for the pages of --out; say where they are to go")
	}
	if err := o.settle(string(marker.Texts.Language), o.pdf); err != nil {
		return err
	}
	search := files.Search{Paths: paths, FilesFrom: o.filesFrom, In: p.streams.In, EveryFile: true, Output: o.out}
	inputs, problems, err := search.Find(ctx)
	if err != nil {
		return err
	}
	answers, err := o.markAll(ctx, pool, marker, inputs)
	if err != nil {
		return err
	}
	for _, problem := range problems {
		answers = append(answers, marking.Unmarked(marker.Texts, problem.Path, notice.Unreadable, problem.Err))
	}
	if len(answers) == 0 {
		p.streams.Say("no answer was found in " + strings.Join(paths, ", ") + "; answers end in .musicxml, .xml or .mxl")
	}
	return o.deliver(p, class.Report{Class: class.New(answers), Texts: marker.Texts, Visible: report.Visible}, inputs)
}

// deliver writes and prints what the answers came to.
func (o *markOptions) deliver(p *program, result class.Report, inputs []files.Input) error {
	if o.out != "" {
		if err := o.writePages(result, inputs); err != nil {
			return err
		}
	}
	if err := o.print(p, result); err != nil {
		return err
	}
	if needsPerson(result.Class) || len(result.Answers) == 0 {
		return errNeedsPerson
	}
	return nil
}

// refuseKey says why a key cannot be used, and that nothing was marked.
func (o *markOptions) refuseKey(p *program, path string, err error) error {
	code := codeOf(err)
	err = musicxml.Locate(err, musicxml.Error{File: path, Code: code})
	p.streams.Say(err.Error())
	if !o.json {
		return errNeedsPerson
	}
	if known, ok := errors.AsType[*musicxml.Error](err); ok && known.File != "" {
		path = known.File
	}
	none := class.New([]marking.Result{})
	rejection := report.NewRejection(path, code, err)
	none.Rejected = append(none.Rejected, class.Rejected{Input: path, Code: code, Text: rejection.Text})
	if err := printJSON(p, none); err != nil {
		return err
	}
	return errNeedsPerson
}

// writePages writes a page for each pupil and one for the class.
func (o *markOptions) writePages(r class.Report, inputs []files.Input) error {
	var names files.Names
	made, err := marked.Pages(r.Texts, r, names.Unique)
	if err != nil {
		return err
	}
	var pages []outFile
	for _, page := range made {
		data, err := page.HTML()
		if err != nil {
			return err
		}
		pages = append(pages, outFile{page.File, data})
		if !o.pdf {
			continue
		}
		if data, err = page.PDF(o.size); err != nil {
			return err
		}
		pages = append(pages, outFile{exercise.PDFName(page.File), data})
	}
	return o.writeFolder(o.out, pages, inputs...)
}

// needsPerson reports whether a pupil's file could not be marked.
func needsPerson(c class.Class) bool {
	return slices.ContainsFunc(c.Rejected, func(r class.Rejected) bool { return r.Code != notice.SystemFile })
}

// marker reads the keys, which stay to the end of the run, and the language.
func (o *markOptions) marker(ctx context.Context, p *program, pool *run.Pool, keyPath string) (marking.Marker, error) {
	t, err := texts.In(o.language)
	if err != nil {
		return marking.Marker{}, err
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return marking.Marker{}, err
	}
	var keys []*marking.Key
	err = run.All(ctx, pool, []string{keyPath}, run.Work[string, []*marking.Key]{
		Do: func(_ context.Context, w *run.Worker, path string) ([]*marking.Key, error) {
			return (&keyReader{o, w, catalogue}).keys(path, o.question)
		},
		Deliver: func(r run.Result[string, []*marking.Key]) error {
			keys = r.Value
			return r.Err
		}})
	return marking.Marker{Keys: keys, Texts: t}, err
}

// markAll marks the files, several at once, in their order.
func (o *markOptions) markAll(ctx context.Context, pool *run.Pool, marker marking.Marker, inputs []files.Input) ([]marking.Result, error) {
	answers := []marking.Result{}
	err := run.All(ctx, pool, inputs, run.Work[files.Input, []marking.Result]{Cost: o.scoreCost,
		Do: func(_ context.Context, w *run.Worker, in files.Input) ([]marking.Result, error) {
			return o.markInput(w, marker, in)
		},
		Deliver: func(r run.Result[files.Input, []marking.Result]) error {
			if r.Err != nil {
				r.Value = []marking.Result{marking.Unmarked(marker.Texts, r.Item.Path, codeOf(r.Err), r.Err)}
			}
			answers = append(answers, r.Value...)
			return nil
		}})
	return answers, err
}

// markInput marks the answers of a file; a file that cannot be read becomes a line.
func (o *markOptions) markInput(w *run.Worker, marker marking.Marker, in files.Input) ([]marking.Result, error) {
	results, err := o.markFile(w, marker, in)
	for i := range results {
		results[i].Pupil = marking.PupilOf(in.Key)
	}
	return results, err
}

func (o *markOptions) markFile(w *run.Worker, marker marking.Marker, in files.Input) ([]marking.Result, error) {
	path := in.Path
	begin, err := beginningOf(path)
	if err != nil {
		return []marking.Result{marking.Unmarked(marker.Texts, path, notice.Unreadable, err)}, nil
	}
	var waits error
	results := marker.MarkFile(path, begin, func() (*musicxml.Score, error) {
		score, err := o.readAnswer(w, in)
		if run.Waits(err) {
			waits = err
		}
		return score, err
	})
	return results, waits
}

// beginningBytes is how much of a file tells what it is.
const beginningBytes = 2048

func beginningOf(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, report.ReadingError(err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, beginningBytes))
	if err != nil {
		return nil, report.ReadingError(err)
	}
	return data, nil
}

func (o *markOptions) print(p *program, r class.Report) error {
	switch {
	case o.json:
		return printJSON(p, r.Class)
	case o.csv:
		return r.WriteCSV(p.streams.Out)
	case o.quiet:
		return nil
	case o.details:
		return r.WriteDetails(p.streams.Out)
	}
	return r.WriteText(p.streams.Out)
}

// readAnswer reads a learner's file within the memory that there is.
func (o *markOptions) readAnswer(w *run.Worker, in files.Input) (*musicxml.Score, error) {
	path := in.Path
	if err := o.reserve(w, run.Cost{Whole: in.Size}, nil); err != nil {
		return nil, err
	}
	data, err := files.ReadInput(path, o.limits.InputBytes, nil)
	if err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: path})
	}
	score, err := o.readWithin(w, data, musicxml.ReadOptions{Name: path, Limits: o.limits, SkipFiles: true})
	if err != nil && !run.Waits(err) {
		err = musicxml.Locate(err, musicxml.Error{File: path})
	}
	return score, err
}
