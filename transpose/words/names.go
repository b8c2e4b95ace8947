package words

import (
	"embed"
	"fmt"
	"sync"

	"deskpart/transpose/pitch"
)

//go:embed data
var data embed.FS

// Names is what things are called in one language. It does not change; several
// goroutines may use it.
type Names struct {
	Language pitch.Language
	notes    *Table
	terms    *Table
	spoken   map[string]pitch.Pitch // the notes by their names in all languages
}

// tables are the names in all languages, read when first asked for.
var tables = sync.OnceValues(func() (*Names, error) {
	n := &Names{}
	var err error
	for _, file := range []struct {
		name  string
		table **Table
	}{{"data/notes.csv", &n.notes}, {"data/terms.csv", &n.terms}} {
		if *file.table, err = ReadTable(data, file.name); err != nil {
			return nil, err
		}
	}
	n.spoken = spokenNames(n.notes)
	return n, nil
})

// In returns the names in a language. The error is that of a table which is not
// whole: it names file, row and column.
func In(l pitch.Language) (*Names, error) {
	if column(l) < 0 {
		return nil, fmt.Errorf("%q is none of the languages en, de, fr, it, es", l)
	}
	all, err := tables()
	if err != nil {
		return nil, err
	}
	n := *all
	n.Language = l
	return &n, nil
}

// term fills one of the terms.
func (n *Names) term(key string, fill Fill) string { return n.terms.In(n.Language, key, fill) }

// Drawn fills a text that describes printed music.
func (n *Names) Drawn(key string, fill Fill) string { return n.term("drawn."+key, fill) }

// Either joins two texts by or.
func (n *Names) Either(a, b string) string { return n.term("either", Fill{"a": a, "b": b}) }

// And joins two texts by and.
func (n *Names) And(a, b string) string { return n.term("and", Fill{"a": a, "b": b}) }
