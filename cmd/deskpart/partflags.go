package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
)

// partFlags decide how parts are made; extract writes such parts, proof shows them.
type partFlags struct {
	parts.Options
	share   []string // groups of parts on one staff
	plan    string
	without []string
	wrong   *planError // what is wrong with the plan, nil for nothing
	desksFlags
}

func newPartFlags() partFlags { return partFlags{Options: parts.DefaultOptions()} }

func (f *partFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.plan, "plan", "", "a `FILE.csv` that says who plays what (part,instrument,octave,clef,label,player,copies)")
	flags.StringArrayVar(&f.Only, "only", nil, "only the parts that `NAME` means: a name, an id, an instrument, or a pattern with *; several with commas between them")
	addInput(flags, &f.Input)
	addMaxSignature(flags, &f.MaxSignature)
	flags.StringSliceVar(&f.without, "without-signature", nil, "instruments or families written without key signature, such as horn,trumpet,timpani")
	flags.BoolVar(&f.Players, "players", false, "one part for each player of a shared staff")
	f.desksFlags.addFlags(cmd)
	flags.StringArrayVar(&f.share, "share", nil, "put two or three `PARTS` on one staff, such as \"Flute 1, Flute 2\"; may be given again")
	addBounded(flags, &f.Percussionists, "percussionists", "give the percussion to so many players, each with as few instruments as can be; 0 makes a part of each staff", 0, parts.MostPercussionists)
	addCounted(flags, &f.RestBars, "rest-bars", "from how many empty bars on they become one multi-bar rest; 0 is never")
	addSpelling(flags, &f.Spelling)
	addLevel(flags, &f.Level)
	addLanguage(flags, &f.Language, "the labels, the warnings and the summary (lists of parts stay English)")
}

// settle looks up what the flags name and reads the plan.
func (f *partFlags) settle(p *program) error {
	f.Share = nil
	for _, group := range f.share {
		var words []string
		for _, w := range strings.Split(group, ",") {
			if w = strings.TrimSpace(w); w != "" {
				words = append(words, w)
			}
		}
		f.Share = append(f.Share, words)
	}
	if err := f.settleWithout(p); err != nil {
		return err
	}
	if err := f.desksFlags.settle(p, &f.Options); err != nil {
		return err
	}
	return f.readPlan(p)
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

// readPlan reads the plan and checks it: what is wrong with it concerns every score, and is
// said with what is wrong for the one score, if there is one (wholePlan).
func (f *partFlags) readPlan(p *program) error {
	if f.plan == "" {
		return nil
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	if f.Plan, err = readTable(f.plan, plan.Read); err != nil {
		return err
	}
	if wrong, ok := errors.AsType[*parts.PlanError](parts.CheckPlan(f.Plan, catalogue)); ok {
		f.wrong = &planError{f.plan, wrong}
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
// takes parts that are more than one player can do. A plan that is wrong whatever the score
// is refused here where there are several, or movements of a work.
func (f *partFlags) wholePlan(inputs []files.Input, problems int, force bool) error {
	one := len(inputs) == 1 && problems == 0 && inputs[0].Movements == nil
	if f.wrong != nil && !one {
		return f.wrong
	}
	f.WholePlan, f.Force = f.plan != "" && one, force
	return nil
}
