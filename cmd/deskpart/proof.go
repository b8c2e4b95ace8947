package main

import (
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

Parts can be ticked off in it, on the screen or on paper, so that none is missing.`,
		Example: `  Look at all parts of a movement:
    deskpart proof movement.mxl --out proof.html
  At those of the horns, written without key signature:
    deskpart proof movement.mxl --only "*horn*" --without-signature horn --out horns.html`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return runProof(cmd.Context(), p, &o, args[0]) },
	}
	cmd.Flags().StringVar(&o.out, "out", "proof.html", "the page, a `FILE.html`")
	o.partFlags.addFlags(cmd)
	p.completeParts(cmd, "only", "")
	o.addWorkFlags(cmd)
	o.outFlags.addFlags(cmd)
	return cmd
}

// proofRun is one run of proof.
type proofRun struct {
	*proofOptions
	*shelfRun
	memory  []proof.Memory // one a worker
	proof   *proof.Proof
	page    []byte
	missing []parts.Missing
}

func runProof(ctx context.Context, p *program, o *proofOptions, path string) error {
	if err := o.partFlags.settle(p); err != nil {
		return err
	}
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, []string{path}, "", files.NameStyle{})
	if err != nil {
		return err
	}
	if n := len(inputs) + len(problems); n != 1 {
		return fmt.Errorf("a proof is made of one score, and %s holds %d; name one of them", path, n)
	}
	r := &proofRun{proofOptions: o, shelfRun: shelf, memory: make([]proof.Memory, shelf.pool.Jobs()), proof: &proof.Proof{Parts: []*proof.Part{}}}
	failed := workThrough(ctx, shelf, inputs, problems, r.score, r.deliver)
	if failed == nil && r.page != nil {
		failed = r.write(inputs)
	}
	err = r.finish(failed, 1, r.proof)
	if err == nil && (r.proof.NeedsPerson() || len(r.missing) > 0) {
		return errNeedsPerson
	}
	return err
}

// score looks at all parts of the score and writes the page.
func (r *proofRun) score(ctx context.Context, w *run.Worker, in files.Input) (*proof.Proof, error) {
	score, err := r.read(in, true)
	if err != nil {
		return nil, err
	}
	surveyed, err := r.survey(ctx, w, score, r.Options)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	if err != nil {
		return nil, err
	}
	r.missing = job.Missing()
	whole := &proof.Proof{Score: in.Key, Title: surveyed.Title(), Parts: make([]*proof.Part, len(job.Assignments()))}
	whole.Pitch, whole.Reason = surveyed.Pitch()
	if err := r.examine(ctx, w, job, whole.Parts); err != nil {
		return nil, err
	}
	r.page, err = whole.Page()
	return whole, err
}

func (r *proofRun) examine(ctx context.Context, w *run.Worker, job *parts.Job, examined []*proof.Part) error {
	examiner := proof.Examiner{Job: job, Level: string(r.Level),
		Verification: verify.Options{MaxSignature: r.MaxSignature, Spelling: r.Spelling}}
	return firstError(w.Each(ctx, len(examined), func(_ context.Context, worker, i int) (err error) {
		examined[i], err = examiner.Examine(i, &r.memory[worker])
		return err
	}))
}

func (r *proofRun) write(inputs []files.Input) error {
	wrote, err := r.writeFile(r.out, r.page, inputs...)
	switch {
	case err != nil:
		return err
	case wrote:
		r.summary.Written++
	default:
		r.summary.Unchanged++
	}
	if !r.flags.json && !r.flags.quiet {
		fmt.Fprintf(r.program.streams.Out, "%s (%s pitch) → %s\n", report.Visible(inputs[0].Path), r.proof.Pitch, report.Visible(r.out))
	}
	return nil
}

// deliver says what the page says in short.
func (r *proofRun) deliver(in files.Input, whole *proof.Proof) {
	r.proof = whole
	r.warn(in.Path, "", "", missingWarnings(r.missing)...)
	for _, part := range whole.Parts {
		r.summary.Parts++
		for _, w := range part.Warnings {
			r.summary.Warn(w.Code)
		}
		for _, f := range slices.Concat(part.Check.Found, part.Check.Misread) {
			r.warn(in.Path, part.Name, part.ID, musicxml.Warning{Code: notice.Check, Measure: f.Measure, Beat: f.Beat, Text: f.Text})
		}
		if part.Failure != "" {
			r.warn(in.Path, part.Name, part.ID, musicxml.Warning{Code: notice.Failed, Text: part.Failure})
		}
	}
}
