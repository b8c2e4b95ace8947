package main

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml/parts"
)

// surveyOptions are the flags of survey.
type surveyOptions struct {
	runFlags
	outFlags
	plan string
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
warning. Nothing is written but a plan, if one is asked for.

--plan writes a table that a spreadsheet opens: a row for each part, to be changed
and handed to deskpart extract --plan. Unchanged, it leads to the usual parts; where one
player could take up a second instrument of the family (flute 2 and piccolo), never both
at once and with time to change, the column player proposes that.

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
	flags.StringVar(&o.plan, "plan", "", "write a plan to start from to `FILE.csv` (one score only)")
	addInput(flags, &o.Input)
	o.runFlags.addFlags(cmd)
	o.outFlags.addFlags(cmd)
	return cmd
}

// surveyRun is one run of survey.
type surveyRun struct {
	*shelfRun
	options   parts.Options
	wantsPlan bool
	plan      []parts.PlanRow // of the one score
	players   []string        // proposed, beside its parts
}

func runSurvey(ctx context.Context, p *program, o *surveyOptions, paths []string) error {
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, paths, "", files.NameStyle{})
	if err != nil {
		return err
	}
	if o.plan != "" && len(inputs) != 1 {
		return fmt.Errorf("a plan is for one score, and %d were found; name one score with --plan", len(inputs))
	}
	s := &surveyRun{shelfRun: shelf, options: o.Options, wantsPlan: o.plan != ""}
	s.summary.ReadOnly = true
	o.onlyPrints = o.plan == ""
	s.rows("scores")
	failed := workThrough(ctx, shelf, inputs, problems, s.score, s.deliver)
	if failed == nil && s.plan != nil {
		if err := o.writePlan(p, inputs, s.plan); err != nil {
			return err
		}
	}
	return s.finish(failed, len(inputs)+len(problems), nil)
}

// writePlan writes a plan whole, never over a score.
func (o *surveyOptions) writePlan(p *program, inputs []files.Input, rows []parts.PlanRow) error {
	var table bytes.Buffer
	if err := parts.WritePlan(&table, rows); err != nil {
		return err
	}
	_, err := o.writeFile(o.plan, table.Bytes(), inputs...)
	if err == nil && !o.quiet && !o.json {
		fmt.Fprintf(p.streams.Out, "plan written to %s; change it in a spreadsheet and hand it to deskpart extract --plan\n", report.Visible(o.plan))
	}
	return err
}

// score surveys one score: every part is made in memory, as an extraction would.
func (s *surveyRun) score(ctx context.Context, w *run.Worker, in files.Input) (fit.Score, error) {
	data, err := s.load(w, in)
	if err != nil {
		return fit.Score{}, err
	}
	head := slices.Clone(data[:min(len(data), fit.HeadBytes)]) // packed data are given back when they are read
	score, err := s.readData(w, in, data, true)
	if err != nil {
		return fit.Score{}, err
	}
	surveyed, err := s.survey(ctx, w, score, s.options)
	if err != nil {
		return fit.Score{}, err
	}
	job, err := surveyed.Assign()
	if err != nil {
		return fit.Score{}, err
	}
	result := fit.SurveyScore(surveyed, score, in.Key, head)
	if s.wantsPlan {
		if s.players, err = job.Propose(); err != nil {
			return fit.Score{}, err
		}
	}
	result.Parts = make([]fit.Part, len(job.Assignments()))
	errs := w.Each(ctx, len(job.Assignments()), func(_ context.Context, worker, i int) error {
		result.Parts[i] = fit.SurveyPart(job, i, &s.spaces[worker])
		return nil
	})
	if err := firstError(errs); err != nil {
		return result, err // it may be worded with pieces of the score's text
	}
	result.OwnStrings()
	score.Release()
	return result, nil
}

// deliver prints one score.
func (s *surveyRun) deliver(in files.Input, score fit.Score) {
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
	case s.flags.json, s.flags.quiet:
	default:
		score.WriteText(s.program.streams.Out, in.Path, report.Visible)
	}
	if s.flags.json {
		s.row(surveyedScore{in.Path, score})
	}
	if s.wantsPlan {
		s.plan = score.PlanRows()
		for i, player := range s.players {
			s.plan[i].Player = player
		}
	}
}

// surveyedScore is a row of the document.
type surveyedScore struct {
	Input string `json:"input"`
	fit.Score
}
