package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/transpose/pitch"
)

// completer says what may stand somewhere on a line.
type completer = func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

// completeValues lets a shell complete what flags take, and the files and instruments
// that commands take.
func (p *program) completeValues(root *cobra.Command) {
	known := map[string]completer{
		"to": p.completeInstrument, "instrument": p.completeInstrument, "without-signature": p.completeInstruments,
		"have": p.completeInstruments, "band": p.completeInstruments,
		"paper": fixed("a4", "letter", "b4"), "clef": fixed("treble", "alto", "tenor", "bass"), "octave": fixed("auto", "-1", "0", "1"),
		"plan": endings("csv"), "ensemble": endings("csv"), "files-from": anyFile, "question": endings(scoreEndings...), "from-score": endings(scoreEndings...),
	}
	for _, cmd := range root.Commands() {
		cmd.Flags().VisitAll(func(flag *pflag.Flag) {
			complete, is := known[flag.Name]
			switch value := flag.Value.(type) {
			case interface{ choices() []string }:
				complete, is = fixed(value.choices()...), true
			case interface{ IsBoolFlag() bool }:
				is = false
			}
			takes, _ := usageOf(flag)
			switch {
			case is:
			case takes == "DIR":
				complete = anyFolder
			case strings.HasPrefix(takes, "FILE"):
				complete = anyFile
			default:
				complete = fixed()
			}
			if _, has := cmd.GetFlagCompletionFunc(flag.Name); !has {
				cmd.RegisterFlagCompletionFunc(flag.Name, complete) // it has no other, and the flag is there
			}
		})
		if cmd.ValidArgsFunction == nil {
			cmd.ValidArgsFunction = p.argumentsOf(cmd)
		}
	}
}

// argumentsOf completes the words of a command.
func (p *program) argumentsOf(cmd *cobra.Command) completer {
	switch cmd.Name() {
	case "explain", "instruments":
		return p.completeInstrument
	case "exercise":
		return fixed()
	case "mark": // whatever a class hands in
		return anyFile
	}
	return endings(scoreEndings...)
}

// scoreEndings are those of score files.
var scoreEndings = []string{"musicxml", "xml", "mxl"}

// fixed completes a few words, and no files.
func fixed(list ...string) completer {
	return func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		return startingWith(list, begun), cobra.ShellCompDirectiveNoFileComp
	}
}

// endings completes folders and the files with one of some endings.
func endings(list ...string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return list, cobra.ShellCompDirectiveFilterFileExt
	}
}

func anyFile(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveDefault
}

func anyFolder(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

// completeInstrument completes the name of an instrument, in any language, or its id.
func (p *program) completeInstrument(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	return startingWith(p.instrumentNames(), begun), cobra.ShellCompDirectiveNoFileComp
}

// completeInstruments completes the last of a list of instruments, with how many before it.
func (p *program) completeInstruments(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	before := begun[:strings.LastIndexByte(begun, ',')+1]
	last := begun[len(before):]
	begins := strings.TrimLeft(last, " 0123456789×")
	before += last[:len(last)-len(begins)]
	var list []string
	for _, name := range startingWith(p.instrumentNames(), begins) {
		list = append(list, before+name)
	}
	return list, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// instrumentNames are the names of all instruments in the five languages, and their ids.
func (p *program) instrumentNames() (names []string) {
	catalogue, err := p.catalogue()
	if err != nil {
		return nil
	}
	for _, i := range catalogue.All() {
		names = append(names, i.ID)
		for _, language := range pitch.Languages() {
			names = append(names, i.Title(language))
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// startingWith are the words of a list that go on with what is typed, capitals aside.
func startingWith(list []string, begun string) (found []string) {
	for _, word := range list {
		if len(word) >= len(begun) && strings.EqualFold(word[:len(begun)], begun) {
			found = append(found, word)
		}
	}
	return found
}
