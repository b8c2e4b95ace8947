package main

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/instruments"
	"deskpart/musicxml/parts/naming"
)

// neighbours are the part files of a run by the folders that they lie in, as one calls
// them. Words mean a part file as they mean a part of the score that it was made of: a
// flute is no piccolo where there are flutes.
type neighbours map[string][]neighbour

type neighbour struct {
	path string
	part naming.Part
}

// neighboursOf takes the names of part files from those of the players or the files.
func neighboursOf(inputs []files.Input, catalogue *instruments.Catalogue) neighbours {
	all := neighbours{}
	for _, in := range inputs {
		name := cmp.Or(in.Player, strings.TrimLeft(path.Base(in.Stem()), "0123456789 "))
		match := catalogue.Match(instruments.Query{Name: name})
		part := naming.Part{Names: []string{name}, Instrument: match.Instrument, Players: append([]int{}, match.Players...)}
		dir := path.Dir(in.Key)
		all[dir] = append(all[dir], neighbour{in.Path, part})
	}
	return all
}

// beside are the others in the folder of a file.
func (n neighbours) beside(in *files.Input) []naming.Part {
	var others []naming.Part
	for _, other := range n[path.Dir(in.Key)] {
		if other.path != in.Path {
			others = append(others, other.part)
		}
	}
	return others
}

// called finds what is to be printed by what one calls it; behind it in the list stand the
// other part files of the folder.
func (j *printJob) called() (*naming.Resolver, error) {
	called := make([]naming.Part, len(j.assignments))
	for i, a := range j.assignments {
		called[i] = naming.Part{IDs: []string{a.PlayerID(), a.ID}, Names: []string{a.Label, a.Name}, Instrument: a.Instrument}
		for _, w := range a.With {
			called[i].IDs, called[i].Names = append(called[i].IDs, w.PlayerID()), append(called[i].Names, w.Label, w.Name)
		}
	}
	if j.asIs {
		called = append(called, j.neighbours.beside(&j.input)...)
	}
	catalogue, err := j.program.catalogue()
	if err != nil {
		return nil, err
	}
	return naming.New(catalogue, called), nil
}

// leaveOut leaves out a part file that is not asked for.
func (j *printJob) leaveOut() error {
	if len(j.Only) == 0 || len(j.assignments) == 0 {
		return nil
	}
	names, err := j.called()
	if err != nil {
		return err
	}
	wanted := false
	for _, words := range names.Listed(j.Only) {
		if missing := names.Missing(words); missing != nil {
			j.lack("", missing)
		}
		wanted = wanted || slices.Contains(names.Find(words), 0)
	}
	if !wanted {
		j.assignments = nil
	}
	return nil
}
