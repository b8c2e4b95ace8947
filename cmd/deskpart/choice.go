package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/report"
	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// choice is a flag that is one of a few words. What is none of them is refused when the
// line is read, and a shell completes them.
type choice[T ~string] struct {
	to    *T
	words []T
}

// addChoice defines such a flag. What *to holds is the default.
func addChoice[T ~string](flags *pflag.FlagSet, to *T, name, usage string, words ...T) {
	flags.Var(&choice[T]{to, words}, name, usage)
}

func (c *choice[T]) String() string { return string(*c.to) }
func (c *choice[T]) Type() string   { return "WORD" }

func (c *choice[T]) Set(text string) error {
	if !slices.Contains(c.words, T(text)) {
		return fmt.Errorf("none of %s", strings.Join(c.choices(), ", "))
	}
	*c.to = T(text)
	return nil
}

func (c *choice[T]) choices() (list []string) {
	for _, word := range c.words {
		list = append(list, string(word))
	}
	return list
}

func (c *choice[T]) wanted() string { return "one of " + strings.Join(c.choices(), ", ") }

// bounded is a flag that is a number within bounds.
type bounded struct {
	to            *int
	least, most   int
	withoutBounds bool // there is no most
}

func addBounded(flags *pflag.FlagSet, to *int, name, usage string, least, most int) {
	flags.Var(&bounded{to: to, least: least, most: most}, name, usage)
}

// addCounted defines a flag that is a number from least on.
func addCounted(flags *pflag.FlagSet, to *int, name, usage string, least int) {
	flags.Var(&bounded{to: to, least: least, withoutBounds: true}, name, usage)
}

func (b *bounded) String() string { return strconv.Itoa(*b.to) }
func (b *bounded) Type() string   { return "int" }

func (b *bounded) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < b.least || !b.withoutBounds && n > b.most {
		return fmt.Errorf("not %s", b.wanted())
	}
	*b.to = n
	return nil
}

func (b *bounded) wanted() string {
	if b.withoutBounds {
		return fmt.Sprintf("a whole number from %d", b.least)
	}
	return fmt.Sprintf("a whole number from %d to %d", b.least, b.most)
}

// The flags that several commands share are defined here.

func addInput(flags *pflag.FlagSet, to *parts.Input) {
	addChoice(flags, to, "input", "how to read a score that says no transposition: auto, concert or written", parts.Auto, parts.Concert, parts.Written)
}

func addLevel(flags *pflag.FlagSet, to *instruments.Level) {
	addChoice(flags, to, "level", "whose ranges count, for octaves and warnings: professional or school (young players)", instruments.Levels()...)
}

func addTacet(flags *pflag.FlagSet, to *parts.Tacet) {
	addChoice(flags, to, "tacet", "a part that is silent all through: write a sheet that says so, or skip it", parts.TacetWrite, parts.TacetSkip)
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

// addBand defines --band; usual says who plays where it is not given.
func addBand(flags *pflag.FlagSet, to *string, usual string) {
	flags.StringVar(to, "band", "", "the players for --topic concert-scale and band-key, such as \"flute, clarinet, alto saxophone\" (default: "+usual+")")
}

// octaves are whole octaves to move music by, up where positive; nil is auto, what suits
// the player.
type octaves struct{ by *int }

// String is the number, or auto.
func (o octaves) String() string {
	if o.by == nil {
		return "auto"
	}
	return strconv.Itoa(*o.by)
}

// mostOctaves bounds them either way.
const mostOctaves = 4

// octaveFlag is the flag that gives them.
type octaveFlag struct{ *octaves }

func addOctave(flags *pflag.FlagSet, to *octaves, usage string) {
	flags.Var(octaveFlag{to}, "octave", usage)
}

func (f octaveFlag) Type() string   { return "WORD" }
func (f octaveFlag) wanted() string { return "auto or " + f.number(nil).wanted() }

func (f octaveFlag) number(to *int) *bounded {
	return &bounded{to: to, least: -mostOctaves, most: mostOctaves}
}

func (f octaveFlag) Set(text string) error {
	if text == "auto" {
		f.by = nil
		return nil
	}
	var n int
	if err := f.number(&n).Set(text); err != nil {
		return err
	}
	f.by = &n
	return nil
}

// mostSigns is how many a signature may have.
const mostSigns = 7

func addMaxSignature(flags *pflag.FlagSet, to *int) {
	addBounded(flags, to, "max-signature", "most sharps or flats of a signature before its enharmonic twin is taken", 0, mostSigns)
}

// spellings are the ways to spell altered notes, by their words.
var spellings = map[string]transpose.Spelling{"exact": transpose.Exact, "readable": transpose.Readable}

// spelling is the flag that chooses one.
type spelling struct{ to *transpose.Spelling }

func addSpelling(flags *pflag.FlagSet, to *transpose.Spelling) {
	flags.Var(spelling{to}, "spelling", "exact, or readable: fewer double accidentals")
}

func (s spelling) String() string {
	if s.to == nil {
		return ""
	}
	return report.SpellingWord(*s.to)
}

func (s spelling) Type() string      { return "WORD" }
func (s spelling) choices() []string { return []string{"exact", "readable"} }
func (s spelling) wanted() string    { return "one of exact, readable" }

func (s spelling) Set(text string) error {
	of, known := spellings[text]
	if !known {
		return fmt.Errorf("none of exact, readable")
	}
	*s.to = of
	return nil
}

func addASCIINames(flags *pflag.FlagSet, to *bool) {
	flags.BoolVar(to, "ascii-names", false, "file names in plain ASCII without spaces")
}

func addStrict(flags *pflag.FlagSet, to *bool) {
	flags.BoolVar(to, "strict", false, "exit with status 1 where a part was not recognised")
}

func addCues(flags *pflag.FlagSet, to *int) {
	addCounted(flags, to, "cues", "cue notes before an entry after this many bars of rest; 0 is none", 0)
}

func addPlayer(flags *pflag.FlagSet, to *int) {
	addCounted(flags, to, "player", "which player of a shared staff, from 1 (default: the first)", 0)
}

// addFilesFrom defines --files-from; what is what the file lists.
func addFilesFrom(flags *pflag.FlagSet, to *string, what string) {
	flags.StringVar(to, "files-from", "", "a `FILE` with more "+what+", one a line or separated by NUL; - is standard input")
}

// addPart defines --part, whose words a shell completes with the parts of the scores that
// stand on the line, or of the one that a flag names.
func (p *program) addPart(cmd *cobra.Command, to *string, usage, scoreFlag string) {
	cmd.Flags().StringVar(to, "part", "", usage)
	p.completeParts(cmd, "part", scoreFlag)
}
