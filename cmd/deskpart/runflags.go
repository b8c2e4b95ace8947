package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
)

// reportFlags are how a command says what it did.
type reportFlags struct {
	json  bool // one JSON document on standard output. Default: text
	quiet bool // errors only. Default: false
}

func (f *reportFlags) addFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.json, "json", false, "print one JSON document in place of text")
	cmd.Flags().BoolVarP(&f.quiet, "quiet", "q", false, "print errors only")
}

// runFlags are shared by the commands that work through many files.
type runFlags struct {
	reportFlags
	filesFrom string
	jobs      int
	memory    string
	command   string // whose flags they are
	shard     string
	limits    musicxml.Limits
	against   int64 // measures that each score is held against, once they are known
	// onlyPrints: the command is done when nobody reads what it prints. Default false.
	onlyPrints bool
	// works keeps the movements of an opus together as one work. Default false: each is a
	// score by itself.
	works   bool
	lacking bool   // takes the movements of a work that lacks one by themselves
	work    string // of --work: the title, or untitled
	// partsToo takes the parts that extract made where nothing else is found, books those of
	// one player together. made is set where they were found and not taken.
	partsToo, books, made bool
	frugal                bool // reckons long over little memory: see [run.TuneCollector]
}

func (f *runFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	addFilesFrom(flags, &f.filesFrom, "paths")
	flags.StringVar(&f.shard, "shard", "", "take slice `K/N` of the list of files, so that N machines share the work")
	f.addWorkFlags(cmd)
}

// addWorkFlags adds the flags of a command that works on one score alone.
func (f *runFlags) addWorkFlags(cmd *cobra.Command) {
	f.command = cmd.Name()
	f.reportFlags.addFlags(cmd)
	flags := cmd.Flags()
	addCounted(flags, &f.jobs, "jobs", "workers at once (default: the processors there are)")
	flags.StringVar(&f.memory, "memory", "", "memory for the whole process, a `SIZE` such as 512MiB (default: half of what is there)")
	f.addLimits(cmd)
}

// addLimits adds the flags that raise what reading one file may cost. They stand in
// "help limits" alone.
func (f *runFlags) addLimits(cmd *cobra.Command) {
	limits := pflag.NewFlagSet("", pflag.ContinueOnError)
	f.defineLimits(limits)
	limits.VisitAll(func(flag *pflag.Flag) {
		flag.Hidden = true
		cmd.Flags().AddFlag(flag)
	})
}

func (f *runFlags) defineLimits(flags *pflag.FlagSet) {
	f.limits = musicxml.DefaultLimits()
	flags.Int64Var(&f.limits.InputBytes, "max-input", f.limits.InputBytes, "largest file to read, in `BYTES`")
	flags.Int64Var(&f.limits.ExpandedBytes, "max-expanded", f.limits.ExpandedBytes, "most that a compressed score may unpack to, in `BYTES`")
	flags.IntVar(&f.limits.Ratio, "max-ratio", f.limits.Ratio, "most that a file in a compressed score may grow, as a ratio")
	flags.IntVar(&f.limits.Entries, "max-entries", f.limits.Entries, "most files in a compressed score")
	flags.IntVar(&f.limits.Depth, "max-depth", f.limits.Depth, "deepest nesting of elements")
	flags.IntVar(&f.limits.Attributes, "max-attributes", f.limits.Attributes, "most attributes of one element")
	flags.IntVar(&f.limits.Parts, "max-parts", f.limits.Parts, "most parts of a score")
	flags.IntVar(&f.limits.TextBytes, "max-text", f.limits.TextBytes, "longest text, attribute or comment, in `BYTES`")
	flags.IntVar(&f.limits.Header, "max-header", f.limits.Header, "most elements beside the parts")
}

// untitled stands for a work that --work gives no title.
const untitled = " "

// addWorkFlag adds --work to a command that understands works of several movements.
func (f *runFlags) addWorkFlag(cmd *cobra.Command) {
	f.works = true
	cmd.Flags().StringVar(&f.work, "work", "", "the files, in order, are the movements of one work; `=TITLE` names it")
	cmd.Flags().Lookup("work").NoOptDefVal = untitled
}

// pool gathers the workers that the flags allow.
func (f *runFlags) pool() (*run.Pool, error) {
	memory, err := f.allMemory()
	if err != nil {
		return nil, err
	}
	return run.NewPool(f.jobs, run.ForWork(memory)), nil
}

// leastMemory is what no run can do with less than, in bytes.
const leastMemory = 64 << 20

// allMemory is what the whole process may have, in bytes.
func (f *runFlags) allMemory() (int64, error) {
	if f.memory == "" {
		return max(run.DefaultMemory(), leastMemory), nil
	}
	memory, err := run.ParseSize(f.memory)
	if err == nil && memory < leastMemory {
		err = fmt.Errorf("--memory %s is less than the program takes itself; give %s or more", f.memory, run.InWords(leastMemory))
	}
	return max(min(memory, run.MemoryLimit()), leastMemory), err // no promise goes beyond the machine's own
}

// inputs finds the files to work on and says which could not be taken.
func (f *runFlags) inputs(ctx context.Context, p *program, paths []string, output string, style files.NameStyle) ([]files.Input, []files.Problem, error) {
	shard, err := files.ParseShard(f.shard)
	if err != nil {
		return nil, nil, err
	}
	if err := files.CanHold(output); err != nil {
		return nil, nil, err
	}
	search := files.Search{Paths: paths, FilesFrom: f.filesFrom, In: p.streams.In, Output: output,
		Style: style, Shard: shard, Expand: f.expandOpus, Works: f.works, Lacking: f.lacking, Whole: f.work != "", Title: strings.TrimSpace(f.work)}
	inputs, problems, err := search.Find(ctx)
	if err == nil && len(inputs)+len(problems) == 0 && f.nothing(ctx, search) {
		search.MadeParts = true
		var made []files.Input
		if made, problems, err = search.Find(ctx); f.partsToo {
			inputs = made
		}
		f.made = len(inputs) < len(made)
	}
	if f.books {
		inputs = gatherBooks(inputs, style)
	}
	return inputs, problems, err
}

// nothing reports whether none of the slices has anything.
func (f *runFlags) nothing(ctx context.Context, search files.Search) bool {
	if f.shard == "" {
		return true
	}
	search.Shard = files.Shard{}
	inputs, problems, err := search.Find(ctx)
	return err == nil && len(inputs)+len(problems) == 0
}

// readInput reads a score's file, into buffer if it fits.
func (f *runFlags) readInput(w *run.Worker, in files.Input, buffer []byte) ([]byte, error) {
	data, err := files.ReadInput(in.Path, f.limits.InputBytes, buffer)
	if err != nil || in.Inside == "" {
		return data, err
	}
	if err := f.reserve(w, run.Cost{Whole: musicxml.UnpackedBytes(data)}, nil); err != nil {
		return nil, err
	}
	return musicxml.ReadContained(data, in.Inside, musicxml.ReadOptions{Name: in.Place(), Limits: f.limits})
}
