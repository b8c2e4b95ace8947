package instruments

import (
	"embed"
	"fmt"
	"io/fs"
)

//go:embed data/*.csv
var embedded embed.FS

var (
	instrumentColumns = []string{"id", "kind", "variant", "family", "group", "key", "register",
		"diatonic", "chromatic", "octave_change", "written_c4_sounds", "clefs", "sounds",
		"midi_program", "one_line", "flags", "tube_keys", "note", "source", "confidence"}
	nameColumns  = []string{"kind", "language", "name", "plural", "abbreviation", "source"}
	rangeColumns = []string{"id", "level", "grade", "pitch", "low", "high",
		"comfortable_low", "comfortable_high", "note", "source", "confidence"}
	aliasColumns = []string{"alias", "kind", "when", "language", "note", "source"}
)

// Load reads the catalogue that is built into the program. Each call gives an
// independent catalogue.
func Load() (*Catalogue, error) {
	data, err := fs.Sub(embedded, "data")
	if err != nil {
		return nil, fmt.Errorf("catalogue: %w", err)
	}
	return LoadFrom(data)
}

// LoadFrom reads a catalogue from a folder that holds the tables which data/README.md
// describes. An error names file, line and column.
func LoadFrom(files fs.FS) (*Catalogue, error) {
	c := &Catalogue{files: files, byID: map[string]*Instrument{}, byKind: map[string][]*Instrument{}}
	for _, read := range []func(fs.FS) error{
		c.readInstruments, c.readNames, c.readRanges, c.readTunings, c.readWords, c.readEnsembles, c.readPrograms, c.readAliases,
	} {
		if err := read(files); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *Catalogue) readInstruments(files fs.FS) error {
	t, err := readTable(files, "instruments.csv", instrumentColumns...)
	if err != nil {
		return err
	}
	for _, r := range t.rows {
		i, err := readInstrument(r)
		if err != nil {
			return err
		}
		if c.byID[i.ID] != nil {
			return r.errorf("id", "%q stands twice", i.ID)
		}
		c.all = append(c.all, i)
		c.byID[i.ID] = i
		c.byKind[i.Kind] = append(c.byKind[i.Kind], i)
	}
	return c.checkUsual(t)
}

// checkUsual makes sure that a name without key has one answer.
func (c *Catalogue) checkUsual(t *table) error {
	for _, r := range t.rows {
		kind := r.text("kind")
		count := len(filter(c.byKind[kind], func(i *Instrument) bool { return i.Flags.Usual }))
		if count != 1 {
			return r.errorf("flags", "kind %q has %d usual instruments; it must have one", kind, count)
		}
	}
	return nil
}

// readNames gives all members of a kind its name in each language.
func (c *Catalogue) readNames(files fs.FS) error {
	if err := readRows(files, "names.csv", nameColumns, c.readName); err != nil {
		return err
	}
	return c.checkNames()
}

// checkNames makes sure that every kind has a name in every language.
func (c *Catalogue) checkNames() error {
	for _, i := range c.all {
		for _, l := range languages {
			if _, ok := i.names[l]; !ok {
				return fmt.Errorf("catalogue: names.csv: no row %s,%s for the instrument %q of instruments.csv", i.Kind, l, i.ID)
			}
		}
	}
	return nil
}

func (c *Catalogue) readName(r row) error {
	language, err := word(r, "language", languages...)
	if err != nil {
		return err
	}
	name := Name{Singular: r.text("name"), Plural: r.text("plural"), Abbreviation: r.text("abbreviation")}
	if name.Singular == "" || name.Plural == "" || name.Abbreviation == "" {
		return r.errorf("name", "name, plural or abbreviation is empty")
	}
	members := c.byKind[r.text("kind")]
	if len(members) == 0 {
		return r.errorf("kind", "%q is no kind of instrument", r.text("kind"))
	}
	if _, twice := members[0].names[language]; twice {
		return r.errorf("language", "%q has two rows for %s", r.text("kind"), language)
	}
	for _, i := range members {
		i.names[language] = name
	}
	return nil
}
