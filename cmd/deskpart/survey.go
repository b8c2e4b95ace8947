package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/cmd/internal/survey"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose/pitch"
)

// surveyOptions are the flags of survey.
type surveyOptions struct {
	runFlags
	outFlags
	plan     string
	csv      bool
	language pitch.Language // of the warnings
	parts.Options
}

func newSurveyCmd(p *program) *cobra.Command {
	o := surveyOptions{Options: parts.DefaultOptions()}
	cmd := &cobra.Command{
		Use:   "survey PATH…",
		Short: "What is in scores: parts, instruments, pitch, keys, ranges, and what is wrong",
		Long: `What a score holds and what an extraction of it would meet: its pitch (concert,
written, or unsaid), and for each part the instrument and how it was recognised,
the transposition in force, the key signatures, the lowest and highest note as it
sounds and as the player reads it, beside the instrument's range, and every
warning. Nothing is written but a plan, if one is asked for. Of a work of several
movements (an opus, a compressed file of several scores, files with --work) it also
lists the players, one set for all movements, and what each has in every movement.

--plan writes a table that a spreadsheet opens: a row for each part, to be changed
and handed to deskpart extract --plan. Unchanged, it leads to the usual parts; where one
player could take up a second instrument of the family (flute 2 and piccolo), never both
at once and with time to change, the column player proposes that.

--csv prints a table of all parts for a spreadsheet instead, a row for each.

Ranges are a guide; for young players their teacher decides.`,
		Example: `  A score:
    deskpart survey examples/two-ferries.musicxml
  A plan to start from:
    deskpart survey examples/two-ferries.musicxml --plan plan.csv
  An archive, for a program to read:
    deskpart survey examples/ --json`,
		Args: scoresNamed(&o.runFlags, "score.musicxml"),
		RunE: func(cmd *cobra.Command, args []string) error { return runSurvey(cmd.Context(), p, &o, args) },
	}
	flags := cmd.Flags()
	flags.StringVar(&o.plan, "plan", "", "write a plan to start from to `FILE.csv` (one score or work only)")
	flags.BoolVar(&o.csv, "csv", false, "print a table in place of text")
	addInput(flags, &o.Input)
	addLanguage(flags, &o.language, "the warnings and the summary (tables stay English)")
	o.runFlags.addFlags(cmd)
	o.addWorkFlag(cmd)
	o.lacking = true
	o.outFlags.addFlags(cmd)
	return cmd
}

// surveyRun is one run of survey.
type surveyRun struct {
	*shelfRun
	options   parts.Options
	wantsPlan bool
	table     *survey.Table   // nil where none is asked for
	broken    error           // of writing it
	plan      []parts.PlanRow // of the one input
	works     []surveyedWork
}

func runSurvey(ctx context.Context, p *program, o *surveyOptions, paths []string) error {
	if o.csv && o.json {
		return errTwoForms
	}
	o.quiet = o.quiet || o.csv // the table is all that is printed
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, paths, "", files.NameStyle{})
	if err != nil {
		return err
	}
	if o.plan != "" && len(inputs) != 1 {
		return fmt.Errorf("a plan is for one score, and %d were found; name one score with --plan", len(inputs))
	}
	if err := shelf.speak(o.language); err != nil {
		return err
	}
	s := &surveyRun{shelfRun: shelf, options: o.Options, wantsPlan: o.plan != ""}
	s.summary.ReadOnly = true
	if o.csv {
		s.table = survey.NewTable(p.streams.Out)
	}
	o.onlyPrints = o.plan == ""
	s.rows("scores")
	failed := workThrough(ctx, shelf, inputs, problems, s.score, s.deliver)
	failed = cmp.Or(failed, s.broken)
	if failed == nil && s.plan != nil {
		if err := o.writePlan(p, inputs, s.plan); err != nil {
			return err
		}
	}
	return s.finish(failed, len(inputs)+len(problems), struct {
		Works []surveyedWork `json:"works"`
	}{report.List(s.works)})
}

// writePlan writes a plan whole, never over a score.
func (o *surveyOptions) writePlan(p *program, inputs []files.Input, rows []parts.PlanRow) error {
	var table bytes.Buffer
	if err := plan.Write(&table, rows); err != nil {
		return err
	}
	_, err := o.writeFile(o.plan, table.Bytes(), inputs...)
	if err == nil && !o.quiet && !o.json {
		fmt.Fprintf(p.streams.Out, "plan written to %s; change it in a spreadsheet and hand it to deskpart extract --plan\n", report.Visible(o.plan))
	}
	return err
}

// surveyed is what a survey tells of an input: of a score, or of the movements of a work
// and its players.
type surveyed struct {
	scores []survey.Score
	inputs []string // their files, as given
	work   *surveyedWork
	failed []files.Problem // movements that cannot be read
}

// surveyedWork is a row of the document, beside those of the movements.
type surveyedWork struct {
	Input string `json:"input"`
	survey.Work
}

// score surveys one input.
func (s *surveyRun) score(ctx context.Context, w *run.Worker, in files.Input) (surveyed, error) {
	if in.Movements != nil {
		return s.workOf(ctx, w, in)
	}
	score, err := s.alone(ctx, w, in)
	return surveyed{scores: []survey.Score{score}, inputs: []string{in.Path}}, err
}

// alone surveys one score by itself.
func (s *surveyRun) alone(ctx context.Context, w *run.Worker, in files.Input) (survey.Score, error) {
	data, err := s.load(w, in)
	if err != nil {
		return survey.Score{}, err
	}
	head := headOf(data)
	score, err := s.readData(w, in, data, true)
	if err != nil {
		return survey.Score{}, err
	}
	read, err := s.survey(ctx, w, score, s.options)
	if err != nil {
		return survey.Score{}, err
	}
	result, err := s.ofScore(ctx, w, read, survey.OfScore(read, score, in.Key, head))
	if err == nil {
		score.Release()
	}
	return result, err
}

// headOf keeps the beginning of a file, whose data are given back when they are read.
func headOf(data []byte) []byte { return slices.Clone(data[:min(len(data), survey.HeadBytes)]) }

// ofScore surveys the parts of a score: every part is made in memory, as an extraction
// would.
func (s *surveyRun) ofScore(ctx context.Context, w *run.Worker, read *parts.Surveyed, result survey.Score) (survey.Score, error) {
	job, err := read.Assign()
	if err != nil {
		return survey.Score{}, err
	}
	if s.wantsPlan {
		players, err := job.Propose()
		if err != nil {
			return survey.Score{}, err
		}
		result.Players = players
	}
	result.Parts = make([]survey.Part, len(job.Assignments()))
	errs := w.Each(ctx, len(job.Assignments()), func(_ context.Context, worker, i int) error {
		result.Parts[i] = survey.OfPart(job, i, &s.spaces[worker])
		return nil
	})
	if err := cmp.Or(errs...); err != nil {
		return result, err // it may be worded with pieces of the score's text
	}
	result.OwnStrings()
	return result, nil
}

// workOf surveys the movements of a work, and who plays them. Where one of them cannot
// be read the others are surveyed by themselves.
func (s *surveyRun) workOf(ctx context.Context, w *run.Worker, in files.Input) (all surveyed, err error) {
	data, err := s.loadMovements(w, in)
	if err != nil {
		return s.apart(ctx, w, in)
	}
	var heads [][]byte
	for i, m := range in.Movements {
		heads, all.inputs = append(heads, headOf(data[i])), append(all.inputs, m.Path)
	}
	work, err := s.readWork(ctx, w, in, data, s.options)
	switch {
	case err != nil && ctx.Err() != nil:
		return all, err
	case err != nil:
		return s.apart(ctx, w, in)
	}
	defer releaseAfter(work, &err)
	for m, read := range work.Surveyed {
		score, err := s.ofScore(ctx, w, read, survey.OfScore(read, work.Scores[m], in.Movements[m].Key, heads[m]))
		if err != nil {
			return all, err
		}
		all.scores = append(all.scores, score)
	}
	all.work = &surveyedWork{in.Path, survey.OfWork(work.Work, work.Title, work.Titles)}
	return all, nil
}

// apart surveys the movements of a work by themselves.
func (s *surveyRun) apart(ctx context.Context, w *run.Worker, in files.Input) (all surveyed, err error) {
	for _, m := range in.Movements {
		score, failed := s.alone(ctx, w, m)
		switch {
		case failed != nil && ctx.Err() != nil:
			return all, failed
		case failed != nil:
			all.failed, err = append(all.failed, files.Problem{Path: m.Path, Err: failed}), failed
		default:
			all.scores, all.inputs = append(all.scores, score), append(all.inputs, m.Path)
		}
	}
	if len(all.scores) > 0 {
		err = nil
	}
	return all, err
}

// deliver prints what was found of one input.
func (s *surveyRun) deliver(in files.Input, found surveyed) {
	s.summary.Files += len(found.scores) - 1
	for _, problem := range found.failed {
		s.reject(problem.Path, problem.Err)
	}
	for i := range found.scores {
		s.deliverScore(found.inputs[i], &found.scores[i])
	}
	if found.work != nil {
		s.works = append(s.works, *found.work)
		if !s.flags.json && !s.flags.quiet {
			found.work.WriteText(s.program.streams.Out, report.Visible)
		}
	}
	if s.wantsPlan {
		s.plan = survey.PlanRows(found.scores)
	}
}

// deliverScore prints one score.
func (s *surveyRun) deliverScore(path string, score *survey.Score) {
	s.summary.Parts += len(score.Parts)
	for _, p := range score.Parts {
		for _, w := range p.Warnings {
			s.summary.Warn(w.Code)
		}
	}
	for _, w := range score.Warnings {
		s.summary.Warn(w.Code)
	}
	switch {
	case s.flags.json:
		s.row(surveyedScore{path, *score})
	case s.table != nil:
		if err := s.table.Score(path, score); err != nil && s.broken == nil {
			s.broken = err
		}
	case s.flags.quiet:
	default:
		score.WriteText(s.program.streams.Out, path, s.said, report.Visible)
	}
}

// surveyedScore is a row of the document.
type surveyedScore struct {
	Input string `json:"input"`
	survey.Score
}
