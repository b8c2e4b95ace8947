package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/exercise"
	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// The flags that several commands share are defined here.

func addInput(flags *pflag.FlagSet, to *parts.Input) {
	addChoice(flags, to, "input", "how to read a score that says no transposition: auto, concert or written", parts.Auto, parts.Concert, parts.Written)
}

func addLevel(flags *pflag.FlagSet, to *instruments.Level) {
	addChoice(flags, to, "level", "whose ranges count, for octaves and warnings: professional or school (young players)", instruments.Levels()...)
}

// addLanguage defines --language; of says what is said in it.
func addLanguage(flags *pflag.FlagSet, to *pitch.Language, of string) {
	*to = pitch.English
	addChoice(flags, to, "language", "language of "+of+": en, de, fr, it or es", pitch.Languages()...)
}

// addTopic defines --topic; does says what the command does with it.
func addTopic(flags *pflag.FlagSet, to *exercise.Topic, does string) {
	addChoice(flags, to, "topic", does+": transposition (why instruments transpose), clef, interval, signature, concert-scale, band-key, score-reading or sight", exercise.Topics()...)
}

// unheard says which flags were given although nothing comes of them in what was asked for;
// nil where there are none.
func unheard(flags *pflag.FlagSet, what string, names ...string) error {
	var given []string
	for _, name := range names {
		if flags.Changed(name) {
			given = append(given, "--"+name)
		}
	}
	switch len(given) {
	case 0:
		return nil
	case 1:
		return fmt.Errorf("%s changes nothing %s; leave it out", given[0], what)
	}
	return fmt.Errorf("%s change nothing %s; leave them out", strings.Join(given, " and "), what)
}

// addBand defines --band; usual says who plays where it is not given.
func addBand(flags *pflag.FlagSet, to *string, usual string) {
	flags.StringVar(to, "band", "", "the players for --topic concert-scale and band-key, such as \"flute, clarinet, alto saxophone\" (default: "+usual+")")
}

func addMaxSignature(flags *pflag.FlagSet, to *int) {
	addBounded(flags, to, "max-signature", "most sharps or flats of a signature before its enharmonic twin is taken", 0, pitch.MostSigns)
}

func addASCIINames(flags *pflag.FlagSet, to *bool) {
	flags.BoolVar(to, "ascii-names", false, "file names in plain ASCII without spaces")
}

func addCues(flags *pflag.FlagSet, to *int) {
	addCounted(flags, to, "cues", "cue notes before an entry after this many bars of rest; 0 is none")
}

func addPlayer(flags *pflag.FlagSet, to *int) {
	addCounted(flags, to, "player", "which player of a shared staff, from 1 (default: the first)")
}

// addFilesFrom defines --files-from; what is what the file lists.
func addFilesFrom(flags *pflag.FlagSet, to *string, what string) {
	flags.StringVar(to, "files-from", "", "a `FILE` with more "+what+", one a line or separated by NUL; - is standard input")
}

// addPart defines --part, whose words a shell completes with the parts of the scores that
// stand on the line.
func (p *program) addPart(cmd *cobra.Command, to *string, usage string) {
	cmd.Flags().StringVar(to, "part", "", usage)
	p.completeParts(cmd, "part", "")
}
