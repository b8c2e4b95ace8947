package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/parts"
)

// collateOptions are the flags of collate.
type collateOptions struct {
	runFlags
	input parts.Input
	csv   bool
	some  bool
}

func newCollateCmd(p *program) *cobra.Command {
	o := collateOptions{input: parts.Auto}
	o.works = true
	cmd := &cobra.Command{
		Use:   "collate SCORE PART…",
		Short: "Hold existing parts against a score and list what differs",
		Long: `Do these parts still agree with this score? Each part finds its staff by its
manifest, its name and its notes, in whatever transposition, clef and spelling it is
written, and the two are compared: sounding pitch, rhythm, bars, repeats, keys, time
signatures, tempo and rehearsal marks, dynamics, articulations, slurs, words. One
fault is one line, with its bar and beat, what stands and what should stand.

SCORE may be a work of several movements (an opus, or a compressed file of several
scores): each part is held against its own movement.

PART is a file, or a folder, which is searched through; in a folder, a part of the
score that no file has is missed as well. Nothing is written to the files.`,
		Example: `  A folder of parts:
    deskpart extract examples/lanterns-on-the-quay.musicxml --out parts
    deskpart collate examples/lanterns-on-the-quay.musicxml parts/lanterns-on-the-quay/
  Two parts out of a box, the list as a table:
    deskpart collate examples/lanterns-on-the-quay.musicxml parts/lanterns-on-the-quay/*Clarinet*.musicxml --csv > errata.csv`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || len(args) == 1 && o.filesFrom == "" {
				return fmt.Errorf("no part was named; give the score first and then its parts, such as deskpart collate score.musicxml parts/")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCollate(cmd.Context(), p, &o, args[0], args[1:])
		},
	}
	flags := cmd.Flags()
	addFilesFrom(flags, &o.filesFrom, "parts")
	addInput(flags, &o.input)
	flags.BoolVar(&o.csv, "csv", false, "print a table in place of text")
	flags.BoolVar(&o.some, "some", false, "the parts given are not all: do not look for the others")
	o.addWorkFlags(cmd)
	return cmd
}

// collationRun is one run of collate.
type collationRun struct {
	*oneRun
	options *collateOptions
	files   *partFiles
	scores  []*collate.Score // one, or the movements of a work
	results []collate.Result
}

var errTwoForms = errors.New("--csv and --json are two forms of the same; give one of them")

func runCollate(ctx context.Context, p *program, o *collateOptions, score string, paths []string) error {
	if o.csv && o.json {
		return errTwoForms
	}
	one, err := newOneRun(ctx, p, &o.runFlags, score)
	if err != nil {
		return err
	}
	c := &collationRun{oneRun: one, options: o}
	c.summary.ReadOnly = true
	if c.files, err = findParts(ctx, p, o, one.input, paths); err != nil {
		return err
	}
	if len(c.files.inputs)+len(c.files.problems) == 0 {
		c.progress.Say(noPartFound)
		return c.refused()
	}
	if err := c.work(ctx); err != nil {
		return err
	}
	return c.report()
}

// noPartFound is said where there was nothing to hold against the score.
const noPartFound = "no part file was found there; parts end in .musicxml, .xml or .mxl"

// work reads the score, then the parts, and compares them.
func (c *collationRun) work(ctx context.Context) error {
	if err := c.oneRun.work(ctx, c.readScore); err != nil {
		return err
	}
	var given []*collate.Part
	c.progress = run.NewProgress(c.program.streams, "parts", len(c.files.inputs), c.flags.quiet || c.flags.json)
	err := run.All(ctx, c.pool, c.files.inputs, run.Work[files.Input, []*collate.Part]{Cost: c.flags.scoreCost, Do: c.readPart,
		Deliver: func(result run.Result[files.Input, []*collate.Part]) error {
			c.progress.Step(1)
			if stopsRun(ctx, result.Err) {
				return result.Err
			}
			if result.Err != nil {
				result.Value = []*collate.Part{collate.Unread(result.Item.Path, result.Err)}
			}
			given = append(given, result.Value...)
			return nil
		}})
	c.progress.Done()
	if err != nil {
		return err
	}
	for _, problem := range c.files.problems {
		given = append(given, collate.Unread(problem.Path, problem.Err))
	}
	c.summary.Files = len(given)
	for _, l := range given {
		if l.Err != nil {
			c.reject(l.File, l.Err)
			c.summary.Files--
		}
	}
	return c.alone(ctx, func(ctx context.Context, w *run.Worker) error { return c.hold(given, c.each(ctx, w)) })
}

// alone does one piece of work with all hands.
func (c *collationRun) alone(ctx context.Context, do func(context.Context, *run.Worker) error) error {
	work := run.Work[files.Input, struct{}]{Cost: c.flags.scoreCost,
		Do: func(ctx context.Context, w *run.Worker, _ files.Input) (struct{}, error) {
			return struct{}{}, do(ctx, w)
		},
		Deliver: func(r run.Result[files.Input, struct{}]) error { return r.Err }}
	return run.All(ctx, c.pool, []files.Input{c.input}, work)
}

// readScore reads the score, or all movements of a work.
func (c *collationRun) readScore(ctx context.Context, w *run.Worker, _ files.Input) error {
	c.scores = nil // it may have had to wait for memory, and begins again
	var kept int64
	for _, in := range c.files.scores {
		source, err := c.read(w, in.Input)
		if err != nil {
			return musicxml.Locate(err, musicxml.Error{File: in.Path})
		}
		catalogue, err := c.program.catalogue()
		if err != nil {
			return err
		}
		score, err := collate.ReadScore(source, catalogue, c.options.input, c.each(ctx, w))
		if err != nil {
			return musicxml.Locate(err, musicxml.Error{File: in.Path})
		}
		c.scores = append(c.scores, score)
		kept += c.flags.appetite().cost(source).Whole
	}
	w.Keep(kept) // they are held against the parts
	return nil
}

// hold holds the parts against the score, or each against its movement.
func (c *collationRun) hold(given []*collate.Part, each parts.Each) error {
	options := collate.Options{Complete: c.files.folder && !c.options.some}
	if len(c.scores) == 1 {
		var err error
		c.results, err = c.scores[0].Collate(given, options, each)
		return err
	}
	dealt := c.deal(given)
	for m, score := range c.scores {
		results, err := score.Collate(dealt[m], options, each)
		if err != nil {
			return err
		}
		for _, r := range results {
			if r.Stranger && r.Silent { // the sheet of a player who has nothing in the movement
				continue
			}
			r.Movement = m + 1
			c.results = append(c.results, r)
		}
	}
	return nil
}

// deal gives each part to its movement: as its manifest says, else to that whose music it
// has.
func (c *collationRun) deal(given []*collate.Part) [][]*collate.Part {
	dealt := make([][]*collate.Part, len(c.scores))
	for _, l := range given {
		at, known := c.files.held[l.File]
		for m, best := 0, -1.0; m < len(c.scores) && !known; m++ {
			if fit := c.scores[m].Likeness(l); fit > best {
				at, best = m, fit
			}
		}
		dealt[at] = append(dealt[at], l)
	}
	return dealt
}

// readPart reads a part file. One that cannot be read is a line of the list.
func (c *collationRun) readPart(_ context.Context, w *run.Worker, in files.Input) ([]*collate.Part, error) {
	source, err := c.read(w, in)
	if err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: in.Path})
	}
	defer c.flags.appetite().keep(w, source)
	catalogue, err := c.program.catalogue()
	if err != nil {
		return nil, err
	}
	return collate.ReadFile(in.Path, c.files.source[in.Path], source, catalogue, &c.spaces[w.Number()])
}

// collatedPart is one part of it.
type collatedPart struct {
	Input       string               `json:"input"` // "" where no file has the part
	File        string               `json:"file"`
	Part        string               `json:"part"`
	Movement    int                  `json:"movement,omitempty"` // of a work, from 1
	Agree       bool                 `json:"agree"`
	Differences []collate.Difference `json:"differences"`
	Remarks     []string             `json:"remarks,omitempty"`
}

// report prints the results and settles the exit status.
func (c *collationRun) report() error {
	agree := true
	for i := range c.results {
		agree = agree && c.results[i].Agree()
	}
	if err := c.print(agree); err != nil {
		return err
	}
	if !agree {
		return errNeedsPerson
	}
	return nil
}

func (c *collationRun) print(agree bool) error {
	switch {
	case c.flags.json:
		c.rows("parts")
		for i := range c.results {
			r := &c.results[i]
			c.row(collatedPart{r.File, r.File, r.Part, r.Movement, r.Agree(), report.List(r.Differences), r.Remarks})
		}
		return c.oneRun.print(struct {
			Input string `json:"input"` // the score
			Agree bool   `json:"agree"`
		}{c.input.Path, agree})
	case c.options.csv:
		return report.WriteCSV(c.program.streams.Out, c.results)
	case c.flags.quiet:
		return nil
	}
	for _, remark := range c.files.remarks {
		c.program.streams.Say(remark)
	}
	return report.WriteErrata(c.program.streams.Out, c.results)
}
