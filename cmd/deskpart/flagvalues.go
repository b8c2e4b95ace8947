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

func addOctave(flags *pflag.FlagSet, to *octaves, usage string) {
	flags.Var(to, "octave", usage)
}

func (o octaves) Type() string   { return "WORD" }
func (o octaves) wanted() string { return "auto or " + o.number(nil).wanted() }

func (o octaves) number(to *int) *bounded {
	return &bounded{to: to, least: -mostOctaves, most: mostOctaves}
}

func (o *octaves) Set(text string) error {
	if text == "auto" {
		o.by = nil
		return nil
	}
	var n int
	if err := o.number(&n).Set(text); err != nil {
		return err
	}
	o.by = &n
	return nil
}

// spelling is a choice of how altered notes are spelled.
type spelling struct {
	choice[string]
	spelled *transpose.Spelling
}

func addSpelling(flags *pflag.FlagSet, to *transpose.Spelling) {
	exact, readable := report.SpellingWord(transpose.Exact), report.SpellingWord(transpose.Readable)
	word := report.SpellingWord(*to)
	flags.Var(&spelling{choice[string]{&word, []string{exact, readable}}, to}, "spelling", "exact, or readable: fewer double accidentals")
}

func (s *spelling) Set(text string) error {
	err := s.choice.Set(text)
	if *s.spelled = transpose.Exact; *s.to == report.SpellingWord(transpose.Readable) {
		*s.spelled = transpose.Readable
	}
	return err
}
