package main

import (
	"context"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/musicxml/parts"
)

// shelfFlags are shared by the commands that make the parts of a shelf of scores: which
// scores, what their parts are like, on paper too, and the folder that they go to.
type shelfFlags struct {
	runFlags
	partFlags
	paperFlags
	out        string
	asciiNames bool
	strict     bool
}

func newShelfFlags() shelfFlags { return shelfFlags{partFlags: newPartFlags()} }

// addFlags adds them all; out is the usual folder.
func (f *shelfFlags) addFlags(p *program, cmd *cobra.Command, out, usage string) {
	flags := cmd.Flags()
	flags.StringVar(&f.out, "out", out, usage)
	addASCIINames(flags, &f.asciiNames)
	addCues(flags, &f.Cues)
	addChoice(flags, &f.Tacet, "tacet", "a part that is silent all through: write a sheet that says so, or skip it", parts.TacetWrite, parts.TacetSkip)
	flags.BoolVar(&f.strict, "strict", false, "exit with status 1 where a part was not recognised")
	f.paperFlags.addFlags(cmd)
	f.partFlags.addFlags(cmd)
	p.completeParts(cmd, "only", "")
	f.runFlags.addFlags(cmd)
	f.addWorkFlag(cmd)
}

// settle checks the flags that are words and reads the plan.
func (f *shelfFlags) settle(p *program) error {
	if err := f.paperFlags.settle(); err != nil {
		return err
	}
	return f.partFlags.settle(p)
}

// style is how file names are written.
func (f *shelfFlags) style() files.NameStyle { return files.NameStyle{ASCII: f.asciiNames} }

// newRun is newShelfRun for a run that makes parts as the flags say: it speaks their
// language, and its plan is for what was found. force writes anew what is there.
func (f *shelfFlags) newRun(ctx context.Context, p *program, paths []string, force bool) (*shelfRun, []files.Input, []files.Problem, error) {
	shelf, inputs, problems, err := newShelfRun(ctx, p, &f.runFlags, paths, f.out, f.style())
	if err == nil {
		err = shelf.speak(f.Language)
	}
	if err == nil {
		err = f.wholePlan(inputs, len(problems), force)
	}
	return shelf, inputs, problems, err
}
