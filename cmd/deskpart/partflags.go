package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

// partFlags decide how parts are made; extract writes such parts, proof shows them.
type partFlags struct {
	parts.Options
	plan     string
	input    string
	spelling string
	without  []string
	desksFlags
}

func newPartFlags() partFlags { return partFlags{Options: parts.DefaultOptions()} }

func (f *partFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.plan, "plan", "", "a `FILE.csv` that says who plays what (part,instrument,octave,clef,label,player,copies)")
	flags.StringArrayVar(&f.Only, "only", nil, "only the parts that `NAME` means: a name, an id, an instrument, or a pattern with *; may be given again")
	flags.StringVar(&f.input, "input", "auto", "how to read a score that says no transposition: auto, concert or written")
	flags.IntVar(&f.MaxSignature, "max-signature", 6, "most sharps or flats of a signature before its enharmonic twin is taken")
	flags.StringSliceVar(&f.without, "without-signature", nil, "instruments or families written without key signature, such as horn,trumpet,timpani")
	flags.BoolVar(&f.Players, "players", false, "one part for each player of a shared staff")
	f.desksFlags.addFlags(cmd)
	flags.IntVar(&f.RestBars, "rest-bars", 2, "from how many empty bars on they become one multi-bar rest; 0 is never")
	flags.StringVar(&f.spelling, "spelling", "exact", "exact, or readable: fewer double accidentals")
	flags.StringVar((*string)(&f.Level), "level", instruments.Professional, "whose ranges count, for octaves and warnings: professional or school (young players)")
	flags.StringVar((*string)(&f.Language), "language", "en", "language of the labels: en, de, fr, it or es")
}

// settle checks the flags that are words and reads the plan.
func (f *partFlags) settle(p *program) error {
	for _, check := range []struct{ flag, value, allowed string }{
		{"input", f.input, "auto concert written"},
		{"spelling", f.spelling, "exact readable"},
		{"language", string(f.Language), "en de fr it es"},
		{"level", string(f.Level), instruments.Professional + " " + instruments.School},
	} {
		if err := oneOf(check.flag, check.value, strings.Fields(check.allowed)); err != nil {
			return err
		}
	}
	if f.RestBars < 0 || f.Cues < 0 {
		return fmt.Errorf("--rest-bars and --cues take a number from 0")
	}
	if err := checkSignature(f.MaxSignature); err != nil {
		return err
	}
	f.Input = parts.Input(f.input)
	if f.spelling == "readable" {
		f.Spelling = transpose.Readable
	}
	if err := f.settleWithout(p); err != nil {
		return err
	}
	if err := f.desksFlags.settle(p, &f.Options); err != nil {
		return err
	}
	return f.readPlan(p)
}

// checkSignature checks --max-signature: a signature has no more than seven signs.
func checkSignature(most int) error {
	if most < 0 || most > 7 {
		return fmt.Errorf("--max-signature takes a number from 0 to 7")
	}
	return nil
}

func oneOf(flag, value string, allowed []string) error {
	for _, word := range allowed {
		if value == word {
			return nil
		}
	}
	return fmt.Errorf("--%s %q is not one of %s", flag, value, strings.Join(allowed, ", "))
}

// settleWithout checks that the instruments without signature exist.
func (f *partFlags) settleWithout(p *program) error {
	if len(f.without) == 0 {
		return nil
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	for _, word := range f.without {
		word = strings.ToLower(strings.TrimSpace(word))
		if word == "" {
			continue
		}
		if !catalogue.Has(word) {
			return fmt.Errorf("--without-signature: no instrument or family is called %q; deskpart instruments lists them", word)
		}
		f.WithoutSignature = append(f.WithoutSignature, word)
	}
	return nil
}

// readPlan reads the plan and checks it: what is wrong with it concerns every score.
func (f *partFlags) readPlan(p *program) error {
	if f.plan == "" {
		return nil
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	if f.Plan, err = readTable(f.plan, parts.ReadPlan); err != nil {
		return err
	}
	var wrong *parts.PlanError
	if errors.As(parts.CheckPlan(f.Plan, catalogue), &wrong) {
		return &planError{f.plan, wrong}
	}
	return nil
}

// planError is what is wrong with a plan whatever the score, a line for each row.
type planError struct {
	file string
	*parts.PlanError
}

func (e *planError) Error() string { return e.file + ": " + e.PlanError.Error() }

// wholePlan asks that every row of the plan names a part, where it is for one score; force
// takes parts that are more than one player can do.
func (f *partFlags) wholePlan(scores int, force bool) {
	f.WholePlan, f.Force = f.plan != "" && scores == 1, force
}
