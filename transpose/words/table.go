package words

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"

	"deskpart/transpose/pitch"
)

// Table is the texts of one file, or of several, in all languages.
type Table struct {
	texts map[string][]text // by key, a text for each language
	keys  []string          // in the order of the files
}

// keyColumn and sourceColumn stand before and after the languages' columns.
const keyColumn, sourceColumn = "key", "source"

// column is a language's place among the texts of a row, -1 where it has none.
func column(l pitch.Language) int { return slices.Index(pitch.Languages(), l) }

// ReadTable reads CSV files of the columns key, en, de, fr, it, es, source. The
// error names file, line and column.
func ReadTable(files fs.FS, names ...string) (*Table, error) {
	t := &Table{texts: map[string][]text{}}
	for _, name := range names {
		if err := t.read(files, name); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// Keys lists the keys in the order of the files.
func (t *Table) Keys() []string { return t.keys }

// Placeholders lists what a text is filled with, sorted; nil for an unknown key.
func (t *Table) Placeholders(key string) []string {
	if row, ok := t.texts[key]; ok {
		return row[0].placeholders()
	}
	return nil
}

func (t *Table) read(files fs.FS, name string) error {
	data, err := fs.ReadFile(files, name)
	if err != nil {
		return fmt.Errorf("texts: %w", err)
	}
	// Spreadsheets like to put a byte order mark in front.
	reader := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	records, err := reader.ReadAll()
	if err != nil {
		return fmt.Errorf("texts: %s: %w", name, err)
	}
	columns := []string{keyColumn}
	for _, l := range pitch.Languages() {
		columns = append(columns, string(l))
	}
	columns = append(columns, sourceColumn)
	if len(records) == 0 || !slices.Equal(records[0], columns) {
		return fmt.Errorf("texts: %s, line 1: the columns must be %s", name, strings.Join(columns, ","))
	}
	for i, record := range records[1:] {
		if err := t.add(record); err != nil {
			return fmt.Errorf("texts: %s, row %d: %w", name, i+2, err)
		}
	}
	return nil
}

var errTwice = errors.New("the key stands in the tables twice")

// frenchSpaces keeps a French mark on the line of the word that it belongs to.
var frenchSpaces = strings.NewReplacer(" :", "\u00a0:", " ;", "\u00a0;", " !", "\u00a0!", " ?", "\u00a0?", " »", "\u00a0»", "« ", "«\u00a0")

// add takes over a row.
func (t *Table) add(record []string) error {
	key := record[0]
	if _, known := t.texts[key]; known {
		return fmt.Errorf("%q: %w", key, errTwice)
	}
	var row []text
	for i, l := range pitch.Languages() {
		said := record[1+i]
		if l == pitch.French {
			said = frenchSpaces.Replace(said)
		}
		parsed, err := parseText(said)
		if err != nil {
			return fmt.Errorf("%q, column %s: %w", key, l, err)
		}
		if i > 0 && !slices.Equal(parsed.placeholders(), row[0].placeholders()) {
			return fmt.Errorf("%q, column %s: the placeholders are {%s}; in English they are {%s}", key, l,
				strings.Join(parsed.placeholders(), "} {"), strings.Join(row[0].placeholders(), "} {"))
		}
		row = append(row, parsed)
	}
	t.texts[key] = row
	t.keys = append(t.keys, key)
	return nil
}

// Has reports whether there is a text of that key.
func (t *Table) Has(key string) bool { return t.texts[key] != nil }

// Raw is a text of one language with its placeholders, for whoever fills them elsewhere;
// "" for an unknown key.
func (t *Table) Raw(l pitch.Language, key string) string {
	row, ok := t.texts[key]
	if !ok {
		return ""
	}
	return row[column(l)].raw()
}

// In fills a text of one language; an unknown key is said as it is, in brackets.
func (t *Table) In(l pitch.Language, key string, fill Fill) string {
	row, ok := t.texts[key]
	if !ok {
		return "[" + key + "]"
	}
	return row[column(l)].fill(fill)
}

// Fields cuts a text where a line of it may end.
func Fields(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' })
}
