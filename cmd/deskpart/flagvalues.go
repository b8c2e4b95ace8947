package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"deskpart/cmd/internal/report"
	"deskpart/transpose"
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

// addCounted defines a flag that is a number from 0 on.
func addCounted(flags *pflag.FlagSet, to *int, name, usage string) {
	flags.Var(&bounded{to: to, withoutBounds: true}, name, usage)
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
