package fonts

import (
	_ "embed"
	"encoding/csv"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// signData holds one sign a row: name, source, what a text tool reads, the box of
// its ink (left, top, right, bottom) and its outline as SVG path data, all in
// hundredths of a staff space with y downwards. signgen writes it.
//
//go:embed signs.csv
var signData string

// Sign is the outline of a music sign at full size. Lengths are hundredths of a
// staff space, y downwards; the origin is the sign's own place: a note head's and
// an accidental's y is the line or space it stands on, a clef's the line it names.
type Sign struct {
	Name string
	// Text is what a text tool reads: a character of the Musical Symbols block, or
	// the nearest there is.
	Text string
	// Left, Top, Right, Bottom bound the ink.
	Left, Top, Right, Bottom int
	// Path is SVG path data of the letters m, h, v, l, q and z, relative; it is
	// filled by the nonzero rule.
	Path string
}

// SignOf returns the sign of a name; false where there is none.
func SignOf(name string) (Sign, bool) {
	s, known := signs()[name]
	return s, known
}

// SignNames lists all signs, in order.
func SignNames() []string { return slices.Sorted(maps.Keys(signs())) }

// signs is the table of signs by name, read once.
var signs = sync.OnceValue(func() map[string]Sign {
	rows, err := csv.NewReader(strings.NewReader(signData)).ReadAll()
	table := map[string]Sign{}
	if err != nil {
		return table
	}
	for _, row := range rows[1:] {
		var box [4]int
		for i := range box {
			box[i], _ = strconv.Atoi(row[3+i])
		}
		table[row[0]] = Sign{row[0], row[2], box[0], box[1], box[2], box[3], row[7]}
	}
	return table
})
