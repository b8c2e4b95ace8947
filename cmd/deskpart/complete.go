package main

import (
	"strings"

	"github.com/spf13/cobra"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/naming"
)

// completeParts lets a shell complete a flag with the names and ids of the parts of the
// scores that stand on the line: those given as arguments, or by a flag ("" for none).
func (p *program) completeParts(cmd *cobra.Command, flag, scoreFlag string) {
	err := cmd.RegisterFlagCompletionFunc(flag, func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if scoreFlag != "" {
			args = []string{cmd.Flag(scoreFlag).Value.String()}
		}
		return p.partNames(args, begun), cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil { // the command has no such flag: a slip of the program's
		panic(err)
	}
}

// partNames lists what the parts of scores may be called, as far as it goes on with what
// is typed. A score that cannot be read has none: a shell has no place for messages.
func (p *program) partNames(paths []string, begun string) []string {
	catalogue, err := p.catalogue()
	if err != nil {
		return nil
	}
	var names []string
	for _, path := range paths {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{SkipFiles: true})
		if err != nil {
			continue
		}
		names = append(names, completions(score, catalogue, begun)...)
		score.Release()
	}
	return names
}

// completions are the names of a score's parts, and their ids with the names beside.
func completions(score *musicxml.Score, catalogue *instruments.Catalogue, begun string) []string {
	var list []naming.Part
	for _, part := range score.ScoreParts() {
		list = append(list, naming.Part{IDs: []string{part.ID}, Names: []string{part.Name, part.NameDisplay},
			Instrument: catalogue.Match(instruments.Query{Name: part.Name}).Instrument})
	}
	var names, ids []string
	begun = strings.ToLower(begun)
	for i, name := range naming.New(catalogue, list).Names() {
		if strings.HasPrefix(strings.ToLower(name), begun) {
			names = append(names, strings.Clone(name))
		}
		if id := list[i].IDs[0]; id != name && strings.HasPrefix(strings.ToLower(id), begun) {
			ids = append(ids, id+"\t"+name)
		}
	}
	return append(names, ids...)
}
