package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/survey"
	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
)

// fitOptions are the flags of fit.
type fitOptions struct {
	scoreFlags
	player int
	part   string
	// have or ensemble names the players; plan is written.
	have, ensemble, plan string
}

func newFitCmd(p *program) *cobra.Command {
	var o fitOptions
	cmd := &cobra.Command{
		Use:   "fit SCORE [--part X] [--have LIST | --ensemble FILE] [--plan FILE.csv]",
		Short: "Which instruments could take a part, or who plays what of the whole score",
		Long: `With --part, the instruments that could take that part, best first: how much of it
they have, in which octave, and what they would read. --have or --ensemble limit
them to those that the ensemble has.

Without --part, the whole score is given to the players there are, as an arranger
seats a band. Players keep their own chairs, the first before the second, at the
score's octave. What the ear would miss is covered first: melody, bass, then harmony.
A part goes to the nearest voice and the nearest octave; octaves change by phrase.
What an instrument has is law (but for one note in a hundred of a tune that nobody has
whole, and this is said), the range of young players a preference. Players left
over double what is thin. A player takes a further part in turn where the two never sound
at once and there is time to change: "flute+piccolo" names what a player doubles, and else
the usual doublings of a family are thought of. What is left out is said, with the lines in
which its notes sound and the bars in which they are missing; a tune is not left out for
a part that doubles.
--plan writes it as a plan that deskpart extract --plan takes, "none" for what is left out.

The ensemble file is a table: the instrument and, after a comma, how many. Who reads in
an unusual clef or key is said with the instrument: "euphonium B flat treble clef",
"horn in E flat".

Ranges are a guide; for young players (--level school) their teacher decides. Music
in copyright may be arranged only with the holder's permission.`,
		Example: `  Who could take the bassoon part?
    deskpart fit examples/two-ferries.musicxml --part Bassoon
  Which of ours could, in a young player's range?
    deskpart fit examples/two-ferries.musicxml --part Bassoon --have "2 clarinet, euphonium t.c." --level school
  The whole score for the school band:
    deskpart fit examples/two-ferries.musicxml --ensemble examples/band.csv --plan plan.csv
    deskpart extract examples/two-ferries.musicxml --plan plan.csv --players --out band`,
		Args: oneScoreNamed(" --part Flute"),
		RunE: func(cmd *cobra.Command, args []string) error { return runFit(cmd.Context(), p, &o, args[0]) },
	}
	flags := cmd.Flags()
	p.addPart(cmd, &o.part, "the part's name, id or instrument (default: the whole score)")
	addPlayer(flags, &o.player)
	flags.StringVar(&o.have, "have", "", "the players there are, such as \"2 flute, flute+piccolo, euphonium t.c.\"")
	flags.StringVar(&o.ensemble, "ensemble", "", "a `FILE` that lists them, an instrument and a number a line")
	flags.StringVar(&o.plan, "plan", "", "write who plays what to `FILE.csv`, for extract --plan")
	o.addFlags(cmd)
	return cmd
}

func (o *fitOptions) check() error {
	switch {
	case o.have != "" && o.ensemble != "":
		return fmt.Errorf("--have and --ensemble both name the players; give one of them")
	case o.part == "" && o.have == "" && o.ensemble == "":
		return fmt.Errorf("name a part with --part, or the players there are with --have or --ensemble")
	case o.part != "" && o.plan != "":
		return fmt.Errorf("--plan is for the whole score; leave --part out")
	}
	return o.checkHave()
}

// checkHave tells a table from players in words.
func (o *fitOptions) checkHave() error {
	info, err := os.Stat(o.have)
	if isFile := err == nil && info.Mode().IsRegular(); isFile || strings.EqualFold(filepath.Ext(o.have), ".csv") {
		return fmt.Errorf("--have names the players in words, and %s is a file; give it as --ensemble %s", o.have, o.have)
	}
	return nil
}

func runFit(ctx context.Context, p *program, o *fitOptions, path string) error {
	if err := o.check(); err != nil {
		return err
	}
	o.Players, o.RestBars, o.Undivided = true, 0, true
	score, err := o.open(ctx, p, path)
	if err != nil {
		return err
	}
	band, err := o.band(score)
	if err != nil {
		return err
	}
	if o.part != "" {
		return o.fitPart(path, score, band)
	}
	return o.fitScore(ctx, score, band)
}

// band reads who the players are, nobody where no flag says.
func (o *fitOptions) band(score *oneScore) (fit.Band, error) {
	if o.have != "" {
		band, err := fit.ParseBand(score.catalogue, o.have)
		if err != nil {
			return nil, fmt.Errorf("--have: %w", err)
		}
		return band, nil
	}
	if o.ensemble == "" {
		return nil, nil
	}
	return readTable(o.ensemble, func(table io.Reader) (fit.Band, error) { return fit.ReadBand(score.catalogue, table) })
}

// fitPart ranks the instruments for one part.
func (o *fitOptions) fitPart(path string, score *oneScore, band fit.Band) error {
	i, err := score.job.Choose(o.part, o.player)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	assignment := score.assignments[i]
	music, err := fit.ReadMusic(score.job, i, nil)
	if err != nil {
		return err
	}
	candidates := fit.Fit(music, score.catalogue, band.Instruments(), o.Level)
	return score.result(struct {
		Input      string            `json:"input"`
		Part       string            `json:"part"`
		PartID     string            `json:"part_id"`
		Level      instruments.Level `json:"level"`
		Candidates []fit.Candidate   `json:"candidates"`
	}{path, assignment.Name, assignment.ID, o.Level, report.List(candidates)},
		func(out io.Writer) error { return printCandidates(out, assignment, music, candidates) })
}

// mostShown is how many candidates the table shows; --json has them all.
const mostShown = 20

func printCandidates(out io.Writer, a parts.Assignment, music *fit.Music, candidates []fit.Candidate) error {
	fmt.Fprintf(out, "%s (%s) sounds %s\n\n", report.Visible(a.Name), a.ID, music.Line.Tessitura().Words())
	if len(candidates) == 0 {
		_, err := fmt.Fprintln(out, "no instrument of the catalogue has most of these notes")
		return err
	}
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "instrument\tin range\tcomfortable\toctave\tkey\tclef\twhy")
	for _, c := range candidates[:min(len(candidates), mostShown)] {
		fmt.Fprintf(table, "%s\t%s\t%s\t%+d\t%s\t%s\t%s\n", c.Instrument, fit.Percent(c.InRange), fit.Percent(c.Comfortable),
			c.Octave, survey.SignatureSign(c.Key), c.Clef, c.Text)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	if more := len(candidates) - mostShown; more > 0 {
		fmt.Fprintf(out, "and %d more; --json lists them all\n", more)
	}
	_, err := fmt.Fprintln(out, "\nranges are a guide; for young players their teacher decides")
	return err
}

// fitScore gives the whole score to the players.
func (o *fitOptions) fitScore(ctx context.Context, score *oneScore, band fit.Band) error {
	music, err := score.readMusic(ctx)
	if err != nil {
		return err
	}
	turns := score.job.Turns()
	var failed error
	casting, err := fit.Cast(music, band, o.Level, func(lines ...int) bool {
		can, err := turns(lines...)
		failed = cmp.Or(failed, err)
		return can
	})
	if failed != nil {
		return failed
	}
	if err != nil {
		return err
	}
	if o.plan != "" {
		casting.File = o.plan
		var table bytes.Buffer
		if err := plan.Write(&table, casting.PlanRows()); err != nil {
			return err
		}
		if err := score.wrote(o.writeFile(o.plan, table.Bytes(), score.input)); err != nil {
			return err
		}
	}
	return score.result(struct {
		Input string `json:"input"`
		*fit.Casting
	}{score.input.Path, casting}, func(out io.Writer) error { return printCasting(out, casting, score.input.Path) })
}

// readMusic reads what every player has.
func (s *oneScore) readMusic(ctx context.Context) ([]*fit.Music, error) {
	var all []*fit.Music
	for i := range s.assignments {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		music, err := fit.ReadMusic(s.job, i, nil)
		if err != nil {
			return nil, err
		}
		all = append(all, music)
	}
	return all, nil
}

func printCasting(out io.Writer, c *fit.Casting, path string) error {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "part\tplayer\tin range\toctave\twhy")
	for _, r := range c.Roles {
		who := r.Label
		switch {
		case r.Player != "" && r.Player != r.Label:
			who = r.Player + ", in turn: " + r.Label
		case r.Copy:
			who += " (doubles, same sheet)"
		case r.Doubling:
			who += " (doubles)"
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%+d\t%s\n", report.Visible(r.PlanName), who, fit.Percent(r.InRange), r.Octave, r.Text)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for _, u := range c.Uncovered {
		fmt.Fprintf(out, "! nobody plays %s: %s\n", report.Visible(u.PlanName), u.Text)
	}
	for i, n := 0, 0; i < len(c.Idle); i += n {
		for n = 1; i+n < len(c.Idle) && c.Idle[i+n] == c.Idle[i]; n++ {
		}
		who := c.Idle[i]
		if n > 1 {
			who = fmt.Sprintf("%d players of %s", n, who)
		}
		fmt.Fprintf(out, "! nothing was found for %s\n", who)
	}
	if c.File != "" {
		flags := ""
		if c.Shared {
			flags = " --players"
		}
		if c.Level != instruments.Professional {
			flags += " --level " + string(c.Level)
		}
		fmt.Fprintf(out, "\nplan written to %s; look it over, then: deskpart extract %s --plan %s%s\n",
			report.Visible(c.File), report.Visible(path), report.Visible(c.File), flags)
	}
	_, err := fmt.Fprintln(out, "ranges are a guide; for young players their teacher decides")
	return err
}
