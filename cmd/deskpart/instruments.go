package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/report"
	"deskpart/instruments"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// instrumentsOptions are the flags of instruments.
type instrumentsOptions struct {
	reportFlags
	language pitch.Language
}

func newInstrumentsCmd(p *program) *cobra.Command {
	var o instrumentsOptions
	cmd := &cobra.Command{
		Use:   "instruments [NAME…]",
		Short: "The catalogue of instruments: what each one sounds, reads and is called",
		Long: `Without a name, the whole catalogue as a table. With a name, that instrument: what
a written C sounds, the interval and its direction, clefs, ranges, and its names
in five languages.

Ranges are a guide; for young players their teacher decides.`,
		Example: `  The whole catalogue:
    deskpart instruments
  One instrument, by its name in any of the languages:
    deskpart instruments "Klarinette in A"
  How the names of a score's parts are understood:
    deskpart instruments match "2. Horn in Es" "Clarinetti 1 e 2 in Sib"`,
		RunE: func(_ *cobra.Command, args []string) error { return runInstruments(p, &o, args) },
	}
	o.addFlags(cmd)
	addLanguage(cmd.Flags(), &o.language, "the names in the table")
	cmd.AddCommand(newMatchCmd(p))
	return cmd
}

func runInstruments(p *program, o *instrumentsOptions, args []string) error {
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	shown := catalogue.All()
	if len(args) > 0 {
		if shown, err = fit.FindInstruments(catalogue, strings.Join(args, " ")); err != nil {
			return err
		}
	}
	if o.json {
		rows := make([]instrumentRow, len(shown))
		for n, i := range shown {
			rows[n] = newInstrumentRow(i)
		}
		return printJSON(p, rows)
	}
	if len(args) > 0 {
		return describeInstruments(p.streams.Out, shown)
	}
	return printCatalogue(p.streams.Out, shown, o.language)
}

// instrumentRow is an instrument in JSON.
type instrumentRow struct {
	ID           string                  `json:"instrument"`
	Family       string                  `json:"family"`
	Group        instruments.Group       `json:"group"`
	Key          string                  `json:"key"`
	Transpose    transpose.Transposition `json:"transpose"`
	WrittenC4    string                  `json:"written_c4_sounds"`
	Text         string                  `json:"text"`
	Clefs        []string                `json:"clefs"`
	Names        map[string]string       `json:"names"`
	Abbreviation string                  `json:"abbreviation"`
	Sound        string                  `json:"sound"`
	MIDIProgram  int                     `json:"midi_program"`
	Ranges       []instrumentRange       `json:"ranges"`
	Note         string                  `json:"note,omitempty"`
	Source       string                  `json:"source"`
	Confidence   string                  `json:"confidence"`
}

// instrumentRange is a range in JSON, as read and as it sounds.
type instrumentRange struct {
	Level           instruments.Level `json:"level"`
	Grade           string            `json:"grade,omitempty"`
	LowestWritten   string            `json:"lowest_written"`
	HighestWritten  string            `json:"highest_written"`
	LowestSounding  string            `json:"lowest_sounding"`
	HighestSounding string            `json:"highest_sounding"`
	Source          string            `json:"source"`
	Confidence      string            `json:"confidence"`
}

func newInstrumentRow(i *instruments.Instrument) instrumentRow {
	row := instrumentRow{
		ID: i.ID, Family: i.Family, Group: i.Group, Key: i.Key,
		Transpose: music.TranspositionBy(i.Interval()),
		WrittenC4: i.WrittenC().String(), Text: i.Describe("en"), Clefs: clefNames(i), Names: map[string]string{},
		Abbreviation: i.Abbreviation("en"), Sound: i.Sound(), MIDIProgram: i.MIDIProgram, Ranges: []instrumentRange{},
		Note: i.Note, Source: i.Source, Confidence: i.Confidence,
	}
	for _, language := range pitch.Languages() {
		row.Names[string(language)] = i.Title(language)
	}
	for _, r := range i.Ranges() {
		row.Ranges = append(row.Ranges, instrumentRange{r.Level, r.Grade, r.Written.Low.String(), r.Written.High.String(),
			r.Sounding.Low.String(), r.Sounding.High.String(), r.Source, r.Confidence})
	}
	return row
}

func clefNames(i *instruments.Instrument) []string {
	names := make([]string, len(i.Clefs))
	for n, clef := range i.Clefs {
		names[n] = clef.Name()
	}
	return names
}

func printCatalogue(out io.Writer, all []*instruments.Instrument, language pitch.Language) error {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "instrument\tname\twritten C4 sounds\tclefs\tid")
	for _, i := range all {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", i.Group, i.Title(language), i.WrittenC(), strings.Join(clefNames(i), ", "), i.ID)
	}
	return table.Flush()
}

func describeInstruments(out io.Writer, found []*instruments.Instrument) error {
	for n, i := range found {
		if n > 0 {
			fmt.Fprintln(out)
		}
		fmt.Fprintf(out, "%s (%s)\n", i.Title("en"), i.ID)
		fmt.Fprintf(out, "  %s\n", i.Describe("en"))
		fmt.Fprintf(out, "  clefs    %s\n", strings.Join(clefNames(i), ", "))
		for _, r := range i.Ranges() {
			level := string(r.Level)
			if r.Grade != "" {
				level += ", grade " + r.Grade
			}
			fmt.Fprintf(out, "  range    written %s to %s, sounding %s to %s (%s)\n", r.Written.Low, r.Written.High, r.Sounding.Low, r.Sounding.High, level)
		}
		for _, language := range pitch.Languages() {
			fmt.Fprintf(out, "  %s       %s\n", language, i.Title(language))
		}
		if i.Note != "" {
			fmt.Fprintf(out, "  note     %s\n", i.Note)
		}
		fmt.Fprintf(out, "  source   %s (%s)\n", i.Source, i.Confidence)
	}
	return nil
}

func newMatchCmd(p *program) *cobra.Command {
	var o reportFlags
	var sound string
	cmd := &cobra.Command{
		Use:   "match NAME…",
		Short: "How the names of parts are understood",
		Example: `  Three names in three languages:
    deskpart instruments match "Klarinette in B 2" "Cor anglais" "1st Cornet"`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("no name was given; give the names of parts, such as deskpart instruments match \"Klarinette in B 2\"")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			catalogue, err := p.catalogue()
			if err != nil {
				return err
			}
			rows := make([]matchRow, len(args))
			for n, name := range args {
				rows[n] = newMatchRow(name, catalogue.Match(instruments.Query{Name: name, Sound: sound}))
			}
			if o.json {
				return printJSON(p, rows)
			}
			return printMatches(p.streams.Out, rows)
		},
	}
	o.addFlags(cmd)
	cmd.Flags().StringVar(&sound, "sound", "", "the part's standard sound id, such as wind.reed.clarinet.a")
	return cmd
}

// matchRow is what was made of a name, in JSON.
type matchRow struct {
	Name         string                   `json:"name"`
	Instrument   string                   `json:"instrument"`
	Number       string                   `json:"number"`
	RecognisedBy string                   `json:"recognised_by"`
	Assumed      bool                     `json:"assumed"`
	Transpose    *transpose.Transposition `json:"transpose"`
	Doubles      []string                 `json:"doubles,omitempty"`
	Why          string                   `json:"why"`
}

func newMatchRow(name string, m instruments.Match) matchRow {
	row := matchRow{Name: name, Number: m.Number, RecognisedBy: m.By, Assumed: m.Assumed, Why: m.Why}
	if i := m.Instrument; i != nil {
		by := music.TranspositionBy(i.Interval())
		row.Instrument, row.Transpose = i.ID, &by
	}
	for _, i := range m.Doubles {
		row.Doubles = append(row.Doubles, i.ID)
	}
	return row
}

func printMatches(out io.Writer, rows []matchRow) error {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		instrument := cmp.Or(r.Instrument, "not known")
		if r.Assumed {
			instrument += " (assumed)"
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", report.Visible(r.Name), instrument, r.Number, r.Why)
	}
	return table.Flush()
}
