package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/pages/proof"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose/verify"
)

// proofOptions are the flags of proof.
type proofOptions struct {
	runFlags
	outFlags
	partFlags
	out string
}

func newProofCmd(p *program) *cobra.Command {
	o := proofOptions{partFlags: newPartFlags()}
	cmd := &cobra.Command{
		Use:   "proof SCORE",
		Short: "A page to look at before the parts are printed",
		Long: `One page with all parts of a score, as extract would write them: for each part its
opening in sounding and in written pitch, one above the other; the whole part, drawn
when it is opened; its notes against the instrument's range; its keys bar by bar;
warnings that lead to the bar they mean; and what the check of the part came to. The
page is one file, needs no network, opens in any browser and prints on A4 and Letter.

A work of several movements (an opus, a compressed file of several scores, files with
--work) is one page: a list of its players and a section for each movement.

Parts can be ticked off in it, on the screen or on paper, so that none is missing.`,
		Example: `  Look at all parts of a movement:
    deskpart proof examples/lanterns-on-the-quay.musicxml --out proof.html
  At those of the horns, written without key signature:
    deskpart proof examples/lanterns-on-the-quay.musicxml --only "*horn*" --without-signature horn --out horns.html`,
		Args: func(cmd *cobra.Command, args []string) error {
			if o.work != "" && len(args) > 0 {
				return nil
			}
			return oneScoreNamed("")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runProof(cmd.Context(), p, &o, args) },
	}
	cmd.Flags().StringVar(&o.out, "out", "proof.html", "the page, a `FILE.html`")
	addCues(cmd.Flags(), &o.Cues)
	o.partFlags.addFlags(cmd)
	p.completeParts(cmd, "only", "")
	o.addWorkFlags(cmd)
	o.addWorkFlag(cmd)
	o.outFlags.addFlags(cmd)
	return cmd
}

// proofRun is one run of proof.
type proofRun struct {
	*proofOptions
	*oneRun
	memory  []proof.Memory // one a worker
	proof   *proof.Proof
	page    []byte
	missing []plan.Missing
}

func runProof(ctx context.Context, p *program, o *proofOptions, paths []string) error {
	if err := o.partFlags.settle(p); err != nil {
		return err
	}
	one, err := newOneRun(ctx, p, &o.runFlags, paths...)
	if err != nil {
		return err
	}
	if err := o.wholePlan([]files.Input{one.input}, 0, o.force); err != nil {
		return err
	}
	r := &proofRun{proofOptions: o, oneRun: one, memory: make([]proof.Memory, one.pool.Jobs())}
	if err := r.work(ctx, r.score); err != nil {
		return err
	}
	if err := r.wrote(r.writeFile(r.out, r.page, r.input)); err != nil {
		return err
	}
	r.say()
	err = r.finish(nil, 1, struct {
		Input string `json:"input"`
		File  string `json:"file"`
		*proof.Proof
	}{r.input.Path, r.out, r.proof})
	if err == nil && (r.proof.NeedsPerson() || len(r.missing) > 0) {
		return errNeedsPerson
	}
	return err
}

// score looks at all parts of the score and writes the page.
func (r *proofRun) score(ctx context.Context, w *run.Worker, in files.Input) error {
	if in.Movements != nil {
		return r.workOf(ctx, w, in)
	}
	score, err := r.read(w, in)
	if err != nil {
		return err
	}
	job, err := r.assign(ctx, w, score, r.Options)
	if err != nil {
		return err
	}
	r.missing = job.Missing()
	whole := &proof.Proof{Score: in.Key, Title: job.Surveyed().Title(), Parts: make([]*proof.Part, len(job.Assignments()))}
	whole.Pitch, whole.Reason = job.Surveyed().Pitch()
	if err := r.examine(ctx, w, job, whole.Parts); err != nil {
		return err
	}
	r.proof = whole
	r.page, err = whole.Page()
	return err
}

// workOf looks at all parts of a work and writes the page.
func (r *proofRun) workOf(ctx context.Context, w *run.Worker, in files.Input) error {
	data, err := r.loadMovements(w, in)
	if err != nil {
		return err
	}
	work, err := r.readWork(ctx, w, in, data, r.Options)
	if err != nil {
		return err
	}
	r.missing = work.Missing()
	whole := &proof.Proof{Score: in.Key, Title: work.Title, Parts: []*proof.Part{}}
	for _, p := range work.Players {
		whole.Players = append(whole.Players, proof.Player{Label: p.Label, Parts: make([]int, len(work.Jobs))})
	}
	for m, job := range work.Jobs {
		examined := make([]*proof.Part, len(job.Assignments()))
		if err := r.examine(ctx, w, job, examined); err != nil {
			return musicxml.Locate(err, musicxml.Error{File: in.Movements[m].Place()})
		}
		movement := proof.Movement{Score: in.Movements[m].Key, Title: work.Heading(m)}
		movement.Pitch, movement.Reason = work.Surveyed[m].Pitch()
		if m == 0 {
			whole.Pitch = movement.Pitch
		} else if whole.Pitch != movement.Pitch {
			whole.Pitch = "mixed"
		}
		whole.Movements = append(whole.Movements, movement)
		for p, player := range work.Players {
			if file := player.Files[m]; file >= 0 {
				part := examined[file]
				part.Movement, part.Number = m+1, p+1
				whole.Parts = append(whole.Parts, part)
				whole.Players[p].Parts[m] = len(whole.Parts)
			}
		}
	}
	r.proof = whole
	r.page, err = whole.Page()
	return err
}

func (r *proofRun) examine(ctx context.Context, w *run.Worker, job *parts.Job, examined []*proof.Part) error {
	examiner := proof.Examiner{Job: job, Level: r.Level,
		Verification: verify.Options{MaxSignature: r.MaxSignature, Spelling: r.Spelling}}
	return cmp.Or(w.Each(ctx, len(examined), func(_ context.Context, worker, i int) (err error) {
		examined[i], err = examiner.Examine(i, &r.memory[worker])
		return err
	})...)
}

// say says what the page says in short.
func (r *proofRun) say() {
	in := r.input
	r.warn(in.Path, "", "", report.MissingWarnings(r.missing)...)
	for _, part := range r.proof.Parts {
		in := in
		if part.Movement > 0 {
			in = in.Movements[part.Movement-1]
		}
		r.summary.Parts++
		for _, w := range part.Warnings {
			r.summary.Warn(w.Code)
		}
		for _, f := range slices.Concat(part.Check.Found, part.Check.Misread) {
			r.warn(in.Place(), part.Name, part.ID, musicxml.Warning{Code: notice.Check, Measure: f.Measure, Beat: f.Beat, Text: f.Text})
		}
		if part.Failure != "" {
			r.warn(in.Place(), part.Name, part.ID, musicxml.Warning{Code: notice.Failed, Text: part.Failure})
		}
	}
	if !r.flags.json && !r.flags.quiet {
		fmt.Fprintf(r.program.streams.Out, "%s (%s pitch) → %s\n", report.Visible(in.Called()), r.proof.Pitch, report.Visible(r.out))
	}
}
