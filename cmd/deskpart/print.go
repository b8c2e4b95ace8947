package main

import (
	"encoding/json"
	"errors"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
)

// printOptions are the flags of print.
type printOptions struct {
	shelfFlags
	outFlags
	format    string
	job       bool
	copyTexts []string
	copies    []copiesOf
}

// The formats of pages.
const (
	formatPDF = "pdf"
	formatSVG = "svg"
)

func newPrintCmd(p *program) *cobra.Command {
	o := printOptions{shelfFlags: newShelfFlags(), format: formatPDF}
	o.partsToo, o.books, o.frugal = true, true, true
	cmd := &cobra.Command{
		Use:   "print PATH…",
		Short: "The paper for the desks: every part as pages to print",
		Long: `A PDF for every player, engraved from a score (its parts are made as extract makes
them, with the same flags) or from part files, which are printed as they are: a file
with one part is one, unless a plan or --input says what to make of it. The conductor's
score is not printed; singers may have theirs with --choir score.

Pages are planned so that they can be turned: a right-hand page ends where the player
has three seconds of rest. Where that cannot be had, V.S. stands at its foot and a
warning says so. Parts of up to three pages lie side by side and are not turned.

Without --paper a part goes on the paper that printers hold where its language is
spoken: A4, and for English A4 or Letter, whichever the score was set for. Orchestras
use larger paper, such as --paper b4 (257 by 364 mm). Staves are 7.5 mm high for winds,
8 mm for others, 6 mm in a choir's score, 10 mm in tablature.`,
		Example: `  Every part of a movement:
    deskpart print examples/lanterns-on-the-quay.musicxml
  The strings, on the paper of orchestras:
    deskpart print examples/lanterns-on-the-quay.musicxml --only viola --only "double bass" --paper b4
  Everything to print in one document, four violas and two double basses:
    deskpart print examples/lanterns-on-the-quay.musicxml --job --copies "viola=4, double bass=2"
  For a player who sees less well:
    deskpart print examples/lanterns-on-the-quay.musicxml --only "horn in F" --large`,
		Args: scoresNamed(&o.runFlags, "score.musicxml"),
		RunE: func(cmd *cobra.Command, args []string) error { return runPrint(cmd.Context(), p, &o, args) },
	}
	flags := cmd.Flags()
	o.shelfFlags.addFlags(p, cmd, "prints", "`DIR` that the pages go to")
	addChoice(flags, &o.format, "format", "pdf, or svg: a drawing for each page", formatPDF, formatSVG)
	flags.BoolVar(&o.job, "job", false, "one more PDF with everything to print, in score order, every part on a right-hand page")
	flags.StringSliceVar(&o.copyTexts, "copies", nil, "how many of a part the job has, such as \"violin 1=6, violin 2=5\"; asks for the job")
	o.outFlags.addFlags(cmd)
	cmd.Annotations = map[string]string{argumentsAreInputs: "yes"}
	return cmd
}

func (o *printOptions) settle(p *program) error {
	var err error
	if o.copies, err = parseCopies(o.copyTexts); err != nil {
		return err
	}
	o.job = o.job || len(o.copies) > 0
	if o.job && o.format == formatSVG {
		return errors.New("--job is a PDF; leave out --format svg")
	}
	return o.shelfFlags.settle(p)
}

// making says who makes the files. The plan counts by what is in it, not by its name.
func (o *printOptions) making() (files.Making, error) {
	m, err := o.outFlags.making(o.out)
	if err != nil {
		return m, err
	}
	settings := settingsOf(o.cmd)
	settings["plan"] = report.List(o.Plan)
	if o.substitutesSum != "" {
		settings["substitutes"] = o.substitutesSum
	}
	m.Settings, err = json.Marshal(settings)
	return m, err
}
