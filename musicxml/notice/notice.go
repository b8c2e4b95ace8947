package notice

import (
	_ "embed"
	"encoding/csv"
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

//go:embed notices.csv
var table string

var registry = sync.OnceValues(func() ([]Notice, map[Code]Notice) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		panic("notices.csv: " + err.Error()) // a test reads it
	}
	var all []Notice
	byCode := map[Code]Notice{}
	for _, row := range rows[1:] {
		n := Notice{Code(row[0]), Kind(row[1]), row[2], row[3]}
		all = append(all, n)
		byCode[n.Code] = n
	}
	return all, byCode
})

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
