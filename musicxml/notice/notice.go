package notice

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

// Kind tells what was done about a notice.
type Kind string

// The kinds of notices.
const (
	Warning Kind = "warning" // the work was done; a person should look at it
	Refusal Kind = "refusal" // a file was not taken, or a result not made
)

// Notice is a row of the registry. Its texts are for musicians, in English.
type Notice struct {
	Code    Code   `json:"code"`
	Kind    Kind   `json:"kind"`
	Meaning string `json:"meaning"` // a sentence without its full stop
	Remedy  string `json:"remedy"`  // what to do about it, as an order
}

// Key is that of the notice's meaning in the table; RemedyKey that of what to do about
// it, PageKey that of what to do where there is a page and no command line. Of a notice
// that has no row of PageKey the remedy serves both.
func (n Notice) Key() string { return string(n.Kind) + "." + string(n.Code) }

// RemedyKey is the key of what to do about it.
func (n Notice) RemedyKey() string { return n.Key() + ".do" }

// PageKey is the key of what to do about it on a page.
func (n Notice) PageKey() string { return n.Key() + ".page" }

// TableName is the name of the registry's table in Files.
const TableName = "notices.csv"

// DetailsName is the name of the table of details in Files: the sentences in which the
// program says exactly what is wrong at a place, with placeholders for what changes. Their
// keys are detail.CODE, and detail.CODE.2 and so on where a code has several.
const DetailsName = "details.csv"

// Files holds the registry's table and that of the details, in five languages: a row for
// each text, with the columns key, en, de, fr, it, es, source.
//
//go:embed notices.csv details.csv
var Files embed.FS

var registry = sync.OnceValues(func() ([]Notice, map[Code]Notice) {
	all, err := read()
	if err != nil {
		panic(err) // a test reads it
	}
	byCode := map[Code]Notice{}
	for _, n := range all {
		byCode[n.Code] = n
	}
	return all, byCode
})

// read reads the English column.
func read() ([]Notice, error) {
	table, err := Files.ReadFile(TableName)
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(strings.NewReader(string(table))).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", TableName, err)
	}
	const key, english = 0, 1
	var all []Notice
	for _, row := range rows[1:] {
		kind, code, _ := strings.Cut(row[key], ".")
		code, text, _ := strings.Cut(code, ".")
		switch text {
		case "":
			all = append(all, Notice{Code: Code(code), Kind: Kind(kind), Meaning: row[english]})
		case "do":
			all[len(all)-1].Remedy = row[english]
		}
	}
	return all, nil
}

// All is the registry: the warnings, then the refusals, each by code.
func All() []Notice {
	all, _ := registry()
	return append([]Notice(nil), all...)
}

// Lookup returns the notice of a code.
func Lookup(code Code) (Notice, bool) {
	_, byCode := registry()
	n, known := byCode[code]
	return n, known
}

// Remedy is what to do about a code, "" where it is not known.
func (c Code) Remedy() string {
	n, _ := Lookup(c)
	return n.Remedy
}
