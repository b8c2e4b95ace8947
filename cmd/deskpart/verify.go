package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
	"deskpart/transpose/verify"
)

// verifyOptions are the flags of verify.
type verifyOptions struct {
	runFlags
	parts.Options
	all   bool
	desks partFlags
}

func newVerifyCmd(p *program) *cobra.Command {
	o := verifyOptions{Options: parts.DefaultOptions(), desks: newPartFlags(), runFlags: runFlags{partsToo: true}}
	cmd := &cobra.Command{
		Use:   "verify PATH…",
		Short: "Prove that moving the parts of scores changes nothing, there and back",
		Long: `Every part goes to the transposition that its player reads and back, in memory.
A part is identical (every pitch, key, accidental, clef and chord symbol), respelled
(the same sound, another spelling) or different. Beside it, and by separate code,
the written part is read off the page (clef, key, printed accidentals) and its
sound compared with the source's. A part that would sound better with the others if it
were transposed otherwise is asked about.

With --plan, --players, --percussionists or --share the parts for those desks are made,
too, taken apart by the staves of the score and held against it: what all desks have
together is the score, no note lost and none added.`,
		Example: `  A folder of scores:
    deskpart verify examples/
  The same, to every transposition of the catalogue:
    deskpart verify examples/ --all`,
		Args: scoresNamed(&o.runFlags, "scores/"),
		RunE: func(cmd *cobra.Command, args []string) error { return runVerify(cmd.Context(), p, &o, args) },
	}
	flags := cmd.Flags()
	flags.BoolVar(&o.all, "all", false, "to every transposition of the catalogue and back")
	flags.StringVar(&o.desks.plan, "plan", "", "a `FILE.csv` that says who plays what, whose desks together are to be the score")
	flags.BoolVar(&o.desks.Players, "players", false, "the players of shared staves")
	flags.StringArrayVar(&o.desks.share, "share", nil, "two or three `PARTS` on one staff; may be given again")
	addBounded(flags, &o.desks.Percussionists, "percussionists", "so many players of the percussion", 0, parts.MostPercussionists)
	addInput(flags, &o.Input)
	addSpelling(flags, &o.Spelling)
	addMaxSignature(flags, &o.MaxSignature)
	o.runFlags.addFlags(cmd)
	return cmd
}

// verificationRun is one run of verify.
type verificationRun struct {
	*shelfRun
	options verify.Options
	parts   parts.Options
	desks   *partFlags // that ask for other desks than the score's staves; nil: none
	report  verifyReport
	memory  []verify.Memory // one a worker
	road    bool            // also the way that convert takes
}

// verifyReport is what verify prints with --json.
type verifyReport struct {
	Files     int `json:"files"`
	Parts     int `json:"parts"`
	Identical int `json:"identical"`
	Respelled int `json:"respelled"`
	Different int `json:"different"`
	Asked     int `json:"asked"` // parts that sound as if another transposition were meant
}

// verifyDetail is one difference.
type verifyDetail struct {
	Input string `json:"input"`
	File  string `json:"file"`
	Part  string `json:"part"`
	verify.Finding
}

// verifiedPart is what became of one part.
type verifiedPart struct {
	name, id string
	verdict  verify.Verdict
	found    []verify.Finding
}

func runVerify(ctx context.Context, p *program, o *verifyOptions, paths []string) error {
	if err := o.desks.settle(p); err != nil {
		return err
	}
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, paths, "", files.NameStyle{})
	if err != nil {
		return err
	}
	v := &verificationRun{shelfRun: shelf, parts: o.Options, memory: make([]verify.Memory, shelf.pool.Jobs()),
		options: verify.Options{MaxSignature: o.MaxSignature, Spelling: o.Spelling}}
	for i := range v.memory {
		v.memory[i].Way = &shelf.spaces[i]
	}
	if o.wantsDesks() {
		if err := o.desks.wholePlan(inputs, len(problems), false); err != nil {
			return err
		}
		v.desks = &o.desks
	}
	if o.all {
		catalogue, err := p.catalogue()
		if err != nil {
			return err
		}
		v.options.Also, v.road = allTranspositions(catalogue), true
	}
	v.summary.ReadOnly = true
	v.rows("details")
	failed := workThrough(ctx, shelf, inputs, problems, v.score, v.deliver)
	v.report.Files, v.report.Parts = v.summary.Files, v.summary.Parts
	v.sayVerdicts()
	err = v.finish(failed, len(inputs)+len(problems), v.report)
	if err == nil && v.report.Different+v.report.Asked > 0 {
		return errNeedsPerson
	}
	return err
}

// allTranspositions lists every transposition of the catalogue once.
func allTranspositions(catalogue *instruments.Catalogue) []transpose.Transposition {
	var all []transpose.Transposition
	for _, i := range catalogue.All() {
		if t := music.TranspositionBy(i.Interval()); !slices.Contains(all, t) {
			all = append(all, t)
		}
	}
	return all
}

// score verifies all parts of one score.
func (v *verificationRun) score(ctx context.Context, w *run.Worker, in files.Input) ([]verifiedPart, error) {
	score, err := v.read(w, in)
	if err != nil {
		return nil, err
	}
	surveyed, err := v.survey(ctx, w, score, v.parts)
	if err != nil {
		return nil, err
	}
	result := make([]verifiedPart, len(score.Parts))
	errs := w.Each(ctx, len(score.Parts), func(_ context.Context, worker, i int) error {
		name, id := surveyed.PartName(i)
		verdict, found, err := verify.Part(surveyed, i, v.options, &v.memory[worker])
		for k := range found { // it outlives the score's text
			found[k].Measure = strings.Clone(found[k].Measure)
		}
		result[i] = verifiedPart{name, id, verdict, found}
		return err
	})
	if err := cmp.Or(errs...); err != nil {
		return nil, err // it may be worded with pieces of the score's text
	}
	if err := v.throughConversion(ctx, w, surveyed, result); err != nil {
		return nil, err
	}
	if err := v.holdDesks(ctx, w, score, result); err != nil {
		return nil, err
	}
	score.Release()
	return result, nil
}

// throughConversion sends the score the way that convert takes, and adds what differs then.
func (v *verificationRun) throughConversion(ctx context.Context, w *run.Worker, surveyed *parts.Surveyed, result []verifiedPart) error {
	if !v.road {
		return nil
	}
	o := v.parts
	o.Input = parts.Auto // what was converted says its pitch
	found, err := verify.Conversion(surveyed, func(score *musicxml.Score) (*parts.Surveyed, error) { return v.survey(ctx, w, score, o) })
	if err != nil {
		return err
	}
	for i := range found {
		for _, f := range found[i] {
			f.Measure = strings.Clone(f.Measure)
			result[i].found = append(result[i].found, f)
		}
		result[i].verdict = verify.VerdictOf(result[i].found)
	}
	return nil
}

// deliver counts and says what was found.
func (v *verificationRun) deliver(in files.Input, verified []verifiedPart) {
	for _, p := range verified {
		v.summary.Parts++
		switch p.verdict {
		case verify.Identical:
			v.report.Identical++
		case verify.Respelled:
			v.report.Respelled++
		default:
			v.report.Different++
		}
		for _, f := range p.found {
			v.row(verifyDetail{in.Path, in.Path, p.name, f})
			code := notice.Different
			switch {
			case f.Asked:
				code = notice.SoundAtOdds
				v.report.Asked++
			case f.Respelled:
				code = notice.Respelled
			}
			v.warn(in.Path, p.name, p.id, musicxml.Warning{Code: code, Measure: f.Measure, Beat: f.Beat, Text: f.Text})
		}
	}
}

// sayVerdicts prints the count of verdicts, for people.
func (v *verificationRun) sayVerdicts() {
	if !v.flags.json && !v.flags.quiet {
		fmt.Fprintf(v.program.streams.Out, "%d identical, %d respelled, %d different\n",
			v.report.Identical, v.report.Respelled, v.report.Different)
	}
}
