package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// lessonFlags are shared by explain and exercise: the music, whose language, and where to.
type lessonFlags struct {
	runFlags
	outFlags
	pdfFlags
	language pitch.Language
	from     string // which pitch is given
	band     string
	score    excerptFlags
	out      string
}

// addFlags adds those that are alike in both; of says what is said in the language.
func (f *lessonFlags) addFlags(p *program, cmd *cobra.Command, of string) {
	f.score.addFlags(cmd)
	addLanguage(cmd.Flags(), &f.language, of)
	p.completeParts(cmd, "part", "from-score")
	f.addWorkFlags(cmd)
	f.outFlags.addFlags(cmd)
}

// excerptFlags choose music from a score.
type excerptFlags struct {
	path     string
	part     string
	measures string
	octave   octaves
}

func (f *excerptFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.path, "from-score", "", "take the music from this score")
	flags.StringVar(&f.part, "part", "", "the part of that score: its name, id or instrument")
	flags.StringVar(&f.measures, "measures", "", "the measures of that part, such as 5-12")
	addOctave(flags, &f.octave, "octaves to move the music by: auto brings what is taken from a score into the player's range, 0 leaves it")
}

// inputs are the score, which is not to be written over.
func (f *excerptFlags) inputs() []files.Input {
	if f.path == "" {
		return nil
	}
	return []files.Input{{Path: f.path}}
}

// read cuts the measures out of the score.
func (f *excerptFlags) read(ctx context.Context, p *program, flags *runFlags, t explain.Task) (explain.Passage, error) {
	catalogue, err := p.catalogue()
	if err != nil {
		return explain.Passage{}, err
	}
	excerpt := explain.Excerpt{Part: f.part, Octave: f.octave.by}
	if f.measures != "" {
		if excerpt.First, excerpt.Last, err = explain.ParseMeasures(f.measures); err != nil {
			return explain.Passage{}, fmt.Errorf("--measures: %w", err)
		}
	}
	r, err := newOneRun(ctx, p, flags, f.path)
	if err != nil {
		return explain.Passage{}, err
	}
	var score *musicxml.Score
	err = r.work(ctx, func(_ context.Context, w *run.Worker, in files.Input) (err error) {
		score, err = r.read(w, in)
		return err
	})
	if err != nil {
		return explain.Passage{}, err
	}
	passage, err := excerpt.Read(score, catalogue, t)
	if musicxml.ErrorCode(err) != "" { // the score's fault, not that of the flags
		r.reject(f.path, err)
		return explain.Passage{}, r.refused()
	}
	return passage, err
}
