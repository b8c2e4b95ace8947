package main

import (
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// oneRun is the run of a command that works on a single score.
type oneRun struct {
	*shelfRun
	input  files.Input
	beside int // links of an opus that are not followed, and were said
}

// newOneRun finds the one score that a path names, or the work of several.
func newOneRun(ctx context.Context, p *program, flags *runFlags, paths ...string) (*oneRun, error) {
	shelf, inputs, problems, err := newShelfRun(ctx, p, flags, paths, "", files.NameStyle{})
	if err != nil {
		return nil, err
	}
	r := &oneRun{shelfRun: shelf}
	switch n := len(inputs) + len(problems); {
	case n == 0:
		r.progress.Say(paths[0] + ": " + flags.noScoreFound())
		return nil, r.refused()
	case len(inputs) > 1 || len(inputs) == 1 && !onlyLinks(problems):
		return nil, fmt.Errorf("this is done for one score, and %s holds %d; name one of them", paths[0], n)
	}
	for _, problem := range problems {
		r.reject(problem.Path, problem.Err)
	}
	if len(inputs) == 0 {
		return nil, r.refused()
	}
	r.input, r.beside = inputs[0], len(problems)
	return r, nil
}

// onlyLinks reports whether nothing is wrong but links of an opus that lead back or twice
// to the same: what they lead to is no score more.
func onlyLinks(problems []files.Problem) bool {
	return !slices.ContainsFunc(problems, func(p files.Problem) bool {
		code := musicxml.ErrorCode(p.Err)
		return code != notice.OpusLoop && code != notice.OpusTwice
	})
}

// work does one piece of work on the score, with all workers and in the memory there
// is. A score that is refused ends the command: all has been said then.
func (r *oneRun) work(ctx context.Context, do func(context.Context, *run.Worker, files.Input) error) error {
	failed := workThrough(ctx, r.shelfRun, []files.Input{r.input}, nil,
		func(ctx context.Context, w *run.Worker, in files.Input) (struct{}, error) {
			return struct{}{}, do(ctx, w, in)
		}, func(files.Input, struct{}) {})
	r.summary.Files = 1
	if failed == nil && len(r.rejected) > r.beside {
		return r.refused()
	}
	return failed
}

// refused ends a command whose score was refused.
func (r *oneRun) refused() error {
	r.summary.Files = 0
	if r.flags.json {
		if err := r.print(nil); err != nil {
			return err
		}
	}
	if r.badPlan {
		return errBadPlan
	}
	return errNeedsPerson
}

// wrote counts the one file that the command writes.
func (r *oneRun) wrote(written bool, err error) error {
	switch {
	case err != nil:
		return err
	case written:
		r.summary.Written++
	default:
		r.summary.Unchanged++
	}
	return nil
}

// result prints what was found: fields as JSON, or text. Where a link was not followed a
// person has to look.
func (r *oneRun) result(fields any, text func(io.Writer) error) error {
	if err := r.say(fields, text); err != nil || r.beside == 0 {
		return err
	}
	return errNeedsPerson
}

func (r *oneRun) say(fields any, text func(io.Writer) error) error {
	switch {
	case r.flags.json:
		return r.print(fields)
	case r.flags.quiet:
		return nil
	}
	return text(r.program.streams.Out)
}

// scoreFlags are shared by the commands that work on the parts of a single score.
type scoreFlags struct {
	runFlags
	outFlags
	parts.Options
}

func (f *scoreFlags) addFlags(cmd *cobra.Command) {
	f.addWorkFlags(cmd)
	f.outFlags.addFlags(cmd)
	f.Options = parts.DefaultOptions()
	addInput(cmd.Flags(), &f.Input)
	addLevel(cmd.Flags(), &f.Level)
}

// oneScore is a score that has been read and surveyed.
type oneScore struct {
	*oneRun
	catalogue   *instruments.Catalogue
	job         *parts.Job
	assignments []parts.Assignment
}

// open reads a score and surveys its parts.
func (f *scoreFlags) open(ctx context.Context, p *program, path string) (*oneScore, error) {
	catalogue, err := p.catalogue()
	if err != nil {
		return nil, err
	}
	s := &oneScore{catalogue: catalogue}
	if s.oneRun, err = newOneRun(ctx, p, &f.runFlags, path); err != nil {
		return nil, err
	}
	return s, s.work(ctx, func(ctx context.Context, w *run.Worker, in files.Input) error {
		score, err := s.read(w, in)
		if err != nil {
			return err
		}
		if s.job, err = s.assign(ctx, w, score, f.Options); err != nil {
			return err
		}
		s.assignments = s.job.Assignments()
		s.summary.Parts = len(s.assignments)
		return nil
	})
}
