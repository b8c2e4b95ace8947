package main

import (
	"cmp"
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/survey"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// reassignOptions are the flags of reassign.
type reassignOptions struct {
	scoreFlags
	player        int
	part, to, out string
	octave        octaves
	clef          string
}

func newReassignCmd(p *program) *cobra.Command {
	var o reassignOptions
	cmd := &cobra.Command{
		Use:   "reassign SCORE --part X --to INSTRUMENT --out FILE",
		Short: "Rewrite one part for another instrument",
		Long: `One part of a score, written for another instrument: its transposition, key, clef,
name and sound. --octave auto (the default) finds the octave that suits the
instrument, phrase by phrase: it changes only at a rest, a breath mark or the end
of a slur, never inside a slur, a tie or a beam. An instrument of one line gets the
upper line of chords and of several voices. What was left out, what is out of range
and what cannot be played as written is said bar by bar.

Ranges are a guide; for young players their teacher decides. Music in copyright may
be arranged only with the holder's permission.`,
		Example: `  The bassoon's part for a euphonium player who reads treble clef:
    deskpart reassign examples/two-ferries.musicxml --part Bassoon --to "Euphonium t.c." --out euphonium.musicxml
  The same an octave lower, in a young player's range:
    deskpart reassign examples/two-ferries.musicxml --part Bassoon --to tuba --octave -1 --level school --out tuba.musicxml`,
		Args: oneScoreNamed(" --part Bassoon --to tuba --out tuba.musicxml"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := required(cmd, "part", "to", "out"); err != nil {
				return err
			}
			return runReassign(cmd.Context(), p, &o, args[0])
		},
	}
	o.addFlags(cmd)
	flags := cmd.Flags()
	p.addPart(cmd, &o.part, "the part's name, id or instrument")
	addPlayer(flags, &o.player)
	flags.StringVar(&o.to, "to", "", "the `INSTRUMENT` that is to play it, by name or id")
	flags.StringVar(&o.out, "out", "", "the `FILE` to write, .musicxml or .mxl")
	addOctave(flags, &o.octave, "whole octaves to add to the sound, such as -1, or auto")
	flags.StringVar(&o.clef, "clef", "", "a clef that the player reads, such as bass (default: the instrument's)")
	addMaxSignature(flags, &o.MaxSignature)
	addLanguage(flags, &o.Language, "the label and the warnings")
	return cmd
}

func runReassign(ctx context.Context, p *program, o *reassignOptions, path string) error {
	o.Players = true // one player's music off a shared staff
	score, err := o.open(ctx, p, path)
	if err != nil {
		return err
	}
	if err := score.speak(o.Language); err != nil {
		return err
	}
	to, err := fit.FindInstrument(score.catalogue, o.to)
	if err != nil {
		return fmt.Errorf("--to: %w", err)
	}
	i, err := score.job.Choose(o.part, o.player)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	r, err := fit.Reassign(score.job, i, to, o.octave.String(), o.clef, o.Level, nil)
	if err != nil {
		return err
	}
	r.File = o.out
	data, err := packedFor(o.out, musicxml.Append(nil, r.Document, layout))
	if err != nil {
		return err
	}
	if err := score.wrote(o.writeFile(o.out, data, score.input)); err != nil {
		return err
	}
	err = score.result(struct {
		Input string `json:"input"`
		*fit.Reassignment
	}{path, r}, func(out io.Writer) error { return describeReassignment(out, score.said, r) })
	if err == nil && musicLost(r.Warnings) {
		return errNeedsPerson
	}
	return err
}

// mostSaid is how many places of one kind are printed; --json has them all.
const mostSaid = 12

func sayMore(out io.Writer, n int) {
	if n > mostSaid {
		fmt.Fprintf(out, "    and %d more; --json has them all\n", n-mostSaid)
	}
}

// describeReassignment prints what was done for people.
func describeReassignment(out io.Writer, said *texts.Texts, r *fit.Reassignment) error {
	from := cmp.Or(r.From, "an instrument that is not known")
	player := ""
	if r.Player > 0 {
		player = fmt.Sprintf(", player %d", r.Player)
	}
	fmt.Fprintf(out, "%s (%s%s), for %s, now for %s → %s\n", report.Visible(r.Part), r.PartID, player, from, r.To, report.Visible(r.File))
	fmt.Fprintf(out, "  reads %s in %s clef\n", pitch.SignatureWords(r.Key), r.Clef)
	for _, line := range r.Text {
		fmt.Fprintf(out, "  %s\n", line)
	}
	for _, n := range r.Outside[:min(len(r.Outside), mostSaid)] {
		fmt.Fprintf(out, "  ! measure %s, beat %s: written %s is out of range\n", report.Visible(n.Measure), n.Beat, n.Pitch)
	}
	sayMore(out, len(r.Outside))
	for _, u := range r.Unplayable[:min(len(r.Unplayable), mostSaid)] {
		fmt.Fprintf(out, "  ! measure %s, beat %s: %s\n", report.Visible(u.Measure), u.Beat, report.Visible(u.Text))
	}
	sayMore(out, len(r.Unplayable))
	for _, w := range r.Warnings {
		fmt.Fprintf(out, "  ! %s\n", report.Visible(survey.WarningWords(said, w)))
	}
	_, err := fmt.Fprintln(out, "  ranges are a guide; for young players their teacher decides")
	return err
}
