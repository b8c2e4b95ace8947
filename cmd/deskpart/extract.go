package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/deskpart/internal/batch"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

// extractOptions are the flags of extract.
type extractOptions struct {
	runFlags
	out        string
	asciiNames bool
	plan       string
	input      string
	spelling   string
	tacet      string
	format     string
	without    []string
	bundle     bool
	force      bool
	strict     bool
	parts.Options
}

func newExtractCmd(p *program) *cobra.Command {
	o := extractOptions{Options: parts.DefaultOptions()}
	cmd := &cobra.Command{
		Use:   "extract PATH…",
		Short: "Write every player's part of a score, in the pitch that the player reads",
		Long: `One file for each player's part, in the pitch, key, clef and octave that the
player reads, and a manifest.json that says what was done.

PATH is a score (.musicxml, .xml, .mxl), an opus document, or a folder, which is
searched through. The parts of a score go to DIR/<its path>/<its name>/.`,
		Example: `  The parts of one symphony movement:
    deskpart extract movement.mxl
  Only the clarinets and horns, the horns without key signature:
    deskpart extract movement.mxl --only "*clarinet*" --only "*horn*" --without-signature horn
  A whole shelf of scores into another folder, German labels:
    deskpart extract scores/ --out stimmen --language de`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 && o.filesFrom == "" {
				return fmt.Errorf("no score was named; give a file or a folder, such as deskpart extract score.musicxml")
			}
			return runExtract(cmd.Context(), p, &o, args)
		},
	}
	o.addFlags(cmd)
	return cmd
}

func (o *extractOptions) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&o.out, "out", "parts", "`DIR` that the parts go to")
	flags.BoolVar(&o.asciiNames, "ascii-names", false, "file names in plain ASCII without spaces")
	flags.StringVar(&o.plan, "plan", "", "a `FILE.csv` that says who plays what (part,instrument,octave,clef,label)")
	flags.StringArrayVar(&o.Only, "only", nil, "only parts whose name or id matches `PATTERN` (* is anything); may be given again")
	flags.StringVar(&o.input, "input", "auto", "how to read a score that says no transposition: auto, concert or written")
	flags.IntVar(&o.MaxSignature, "max-signature", 6, "most sharps or flats of a signature before its enharmonic twin is taken")
	flags.StringSliceVar(&o.without, "without-signature", nil, "instruments or families written without key signature, such as horn,trumpet,timpani")
	flags.BoolVar(&o.Players, "players", false, "one part for each player of a shared staff")
	flags.IntVar(&o.RestBars, "rest-bars", 2, "from how many empty bars on they become one multi-bar rest; 0 is never")
	flags.IntVar(&o.Cues, "cues", 0, "cue notes before an entry after this many bars of rest; 0 is none")
	flags.StringVar(&o.spelling, "spelling", "exact", "exact, or readable: fewer double accidentals")
	flags.StringVar(&o.tacet, "tacet", "write", "a part that is silent all through: write a sheet that says so, or skip it")
	flags.StringVar(&o.Language, "language", "en", "language of the labels: en, de, fr, it or es")
	flags.StringVar(&o.format, "format", "musicxml", "musicxml, or mxl for compressed files")
	flags.BoolVar(&o.bundle, "bundle", false, "one .mxl with the score and its parts, linked, in place of single files")
	flags.BoolVar(&o.force, "force", false, "write every file again")
	flags.BoolVar(&o.strict, "strict", false, "exit with status 1 where a part was not recognised")
	o.runFlags.addFlags(cmd)
}

// settle checks the flags that are words and reads the plan.
func (o *extractOptions) settle(p *program) error {
	for _, check := range []struct{ flag, value, allowed string }{
		{"input", o.input, "auto concert written"},
		{"spelling", o.spelling, "exact readable"},
		{"tacet", o.tacet, "write skip"},
		{"language", o.Language, "en de fr it es"},
		{"format", o.format, "musicxml mxl"},
	} {
		if err := oneOf(check.flag, check.value, strings.Fields(check.allowed)); err != nil {
			return err
		}
	}
	if o.MaxSignature < 0 || o.RestBars < 0 || o.Cues < 0 {
		return fmt.Errorf("--max-signature, --rest-bars and --cues take a number from 0")
	}
	o.Input, o.Tacet = parts.Input(o.input), parts.Tacet(o.tacet)
	if o.spelling == "readable" {
		o.Spelling = transpose.Readable
	}
	if err := o.settleWithout(p); err != nil {
		return err
	}
	return o.readPlan()
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
func (o *extractOptions) settleWithout(p *program) error {
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	for _, word := range o.without {
		word = strings.ToLower(strings.TrimSpace(word))
		if word == "" {
			continue
		}
		if !catalogue.Has(word) {
			return fmt.Errorf("--without-signature: no instrument or family is called %q; deskpart instruments lists them", word)
		}
		o.WithoutSignature = append(o.WithoutSignature, word)
	}
	return nil
}

func (o *extractOptions) readPlan() error {
	if o.plan == "" {
		return nil
	}
	file, err := os.Open(o.plan)
	if err != nil {
		return fmt.Errorf("cannot read the plan: %w", err)
	}
	defer file.Close()
	if o.Plan, err = parts.ReadPlan(file); err != nil {
		return fmt.Errorf("%s: %w", o.plan, err)
	}
	return nil
}

// style is how file names are written.
func (o *extractOptions) style() batch.NameStyle { return batch.NameStyle{ASCII: o.asciiNames} }

// settings are what decides about the bytes of the parts, as the manifest has it.
func (o *extractOptions) settings() (json.RawMessage, error) {
	return json.Marshal(struct {
		Input            string          `json:"input"`
		MaxSignature     int             `json:"max_signature"`
		RestBars         int             `json:"rest_bars"`
		Players          bool            `json:"players"`
		WithoutSignature []string        `json:"without_signature"`
		Cues             int             `json:"cues"`
		Spelling         string          `json:"spelling"`
		Tacet            string          `json:"tacet"`
		Language         string          `json:"language"`
		Format           string          `json:"format"`
		Bundle           bool            `json:"bundle"`
		ASCIINames       bool            `json:"ascii_names"`
		Only             []string        `json:"only"`
		Plan             []parts.PlanRow `json:"plan"`
	}{
		o.input, o.MaxSignature, o.RestBars, o.Players, list(o.WithoutSignature), o.Cues, o.spelling, o.tacet,
		o.Language, o.format, o.bundle, o.asciiNames, list(o.Only), list(o.Plan),
	})
}
