package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/report"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// desksFlags ask for parts beside those of the score's own players.
type desksFlags struct {
	editions    string
	substitutes string
	choir       parts.Choir

	substitutesSum string // of the table, for the manifest
}

func (f *desksFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.editions, "editions", "", "every part for each of these `READERS`, such as \"C treble, Bb treble, Eb treble, F treble, C bass, C alto\"")
	flags.StringVar(&f.substitutes, "substitutes", "", "parts also for the instruments that commonly stand in; `=FILE.csv` takes your own table (instrument,substitute)")
	flags.Lookup("substitutes").NoOptDefVal = report.CatalogueTable
	addChoice(flags, &f.choir, "choir", "singers' parts with words below and dynamics above: score, one for all with a staff for each voice, or parts", parts.ChoirScore, parts.ChoirParts)
}

// settle looks up what was asked for.
func (f *desksFlags) settle(p *program, o *parts.Options) error {
	o.Choir = f.choir
	if f.editions != "" {
		if err := f.readEditions(p, o); err != nil {
			return err
		}
	}
	if f.substitutes == "" {
		return nil
	}
	return f.readSubstitutes(p, o)
}

// readEditions finds the readers, and says all that are not known in one line.
func (f *desksFlags) readEditions(p *program, o *parts.Options) error {
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	var wrong []string
	for words := range strings.SplitSeq(f.editions, ",") {
		reader, err := catalogue.FindReader(words)
		switch {
		case err != nil:
			wrong = append(wrong, err.Error())
		case slices.ContainsFunc(o.Editions, func(r *instruments.Reader) bool { return r.Name == reader.Name }):
			wrong = append(wrong, fmt.Sprintf("%s is asked for twice", reader.Name))
		default:
			o.Editions = append(o.Editions, reader)
		}
	}
	if len(wrong) > 0 {
		return fmt.Errorf("--editions: %s", strings.Join(wrong, "; "))
	}
	return nil
}

func (f *desksFlags) readSubstitutes(p *program, o *parts.Options) error {
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	f.substitutesSum = report.CatalogueTable
	if f.substitutes == report.CatalogueTable {
		o.Substitutes, err = catalogue.Substitutes()
		return err
	}
	data, err := os.ReadFile(f.substitutes)
	if err != nil {
		return musicxml.Locate(report.ReadingError(err), musicxml.Error{File: f.substitutes})
	}
	f.substitutesSum = report.Sum(data)
	if o.Substitutes, err = catalogue.ReadSubstitutes(bytes.NewReader(data)); err != nil {
		return fmt.Errorf("%s: %w", f.substitutes, err)
	}
	return nil
}
