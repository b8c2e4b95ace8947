package instruments

import (
	"io/fs"
	"slices"
	"strings"
)

// An ensemble is a roster of instruments that gives words a meaning of its own: in a
// brass band the horn is the one in E flat.
type ensemble struct {
	name  string
	has   [][]string // of each list one: instruments, kinds, families or groups
	lacks []string
	reads []*Instrument // what a name without key and clef means there
}

var ensembleColumns = []string{"ensemble", "has", "lacks", "reads", "note", "source"}

func (c *Catalogue) readEnsembles(files fs.FS) error {
	return readRows(files, "ensembles.csv", ensembleColumns, func(r row) error {
		e, err := c.readEnsemble(r)
		c.ensembles = append(c.ensembles, e)
		return err
	})
}

func (c *Catalogue) readEnsemble(r row) (*ensemble, error) {
	e := &ensemble{name: r.text("ensemble"), lacks: r.list("lacks")}
	for _, wanted := range r.list("has") {
		var either []string
		for word := range strings.SplitSeq(wanted, "/") {
			either = append(either, strings.TrimSpace(word))
		}
		e.has = append(e.has, either)
	}
	for column, words := range map[string][]string{"has": slices.Concat(e.has...), "lacks": e.lacks} {
		for _, word := range words {
			if !c.Has(word) {
				return nil, r.errorf(column, "%q is no instrument, kind, family or group", word)
			}
		}
	}
	for _, id := range r.list("reads") {
		i := c.byID[id]
		if i == nil {
			return nil, r.errorf("reads", "%q is no instrument", id)
		}
		e.reads = append(e.reads, i)
	}
	return e, nil
}

// in reports whether the instruments of a score, by their kinds' usual members, make
// the ensemble.
func (e *ensemble) in(score []*Instrument) bool {
	any := func(words []string) bool {
		return slices.ContainsFunc(score, func(i *Instrument) bool {
			return slices.ContainsFunc(words, i.Is)
		})
	}
	for _, either := range e.has {
		if !any(either) {
			return false
		}
	}
	return !any(e.lacks)
}

// read returns what a name of the kind without key and clef means in the ensemble,
// nil where that is what it means anywhere.
func (e *ensemble) read(kind string) *Instrument {
	if e == nil {
		return nil
	}
	for _, i := range e.reads {
		if i.Kind == kind {
			return i
		}
	}
	return nil
}

// title is the ensemble's name in words.
func (e *ensemble) title() string { return strings.ReplaceAll(e.name, "-", " ") }
