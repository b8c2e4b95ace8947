package spreadsheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Row is a line of a table.
type Row struct {
	Line  int // in the file, from 1
	Cells []string
}

// Cell is a cell of the line, "" where it has no such cell.
func (r Row) Cell(i int) string {
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return r.Cells[i]
}

// Read reads a table of at most limit bytes as spreadsheets save it: commas, semicolons
// or tabs between the cells, told by the first line (or by a line such as "sep=;" before it);
// UTF-8 or UTF-16, or the code page of Western Windows where it can be neither; any kind
// of line end. A line that begins with comment is passed over; 0 is none. Guards are
// taken off; lines without a cell that says something are left out.
func Read(r io.Reader, limit int64, comment rune) ([]Row, error) {
	data, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("the table has more than %d bytes, which is the most that is read", limit)
	}
	text, err := decode(data)
	if err != nil {
		return nil, err
	}
	return rows(text, comment)
}

// decode brings a table to UTF-8, with "\n" at the ends of its lines.
func decode(data []byte) (string, error) {
	var form encoding.Encoding = unicode.UTF8BOM
	switch first, second := byteAt(data, 0), byteAt(data, 1); {
	case first == 0xFE && second == 0xFF, first == 0xFF && second == 0xFE:
		form = unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM)
	case first == 0 && second > 0:
		form = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	case first > 0 && second == 0:
		form = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case !utf8.Valid(data):
		form = charmap.Windows1252
	}
	text, err := form.NewDecoder().Bytes(data)
	if err != nil || bytes.IndexByte(text, 0) >= 0 {
		return "", errors.New("this is no table in text; save it as CSV")
	}
	lines := strings.ReplaceAll(string(text), "\r\n", "\n")
	if !strings.Contains(lines, "\n") {
		lines = strings.ReplaceAll(lines, "\r", "\n")
	}
	return lines, nil
}

// byteAt is a byte, or 1 behind the end, which is a sign of nothing.
func byteAt(data []byte, i int) byte {
	if i < len(data) {
		return data[i]
	}
	return 1
}

func rows(text string, comment rune) ([]Row, error) {
	before, separator := 0, rune(0)
	if first, rest, _ := strings.Cut(text, "\n"); len(first) == len("sep=;") && strings.HasPrefix(first, "sep=") {
		text, before, separator = rest, 1, rune(first[len("sep=")])
	} else {
		separator = separatorOf(text, comment)
	}
	if !strings.ContainsRune(",;\t|:", separator) {
		return nil, fmt.Errorf("%q cannot separate cells; a comma, a semicolon or a tab can", separator)
	}
	reader := csv.NewReader(strings.NewReader(text))
	reader.FieldsPerRecord, reader.Comment, reader.Comma = -1, comment, separator
	reader.TrimLeadingSpace = separator != '\t' // which would go with it
	var all []Row
	for {
		cells, err := reader.Read()
		switch {
		case err == io.EOF:
			return all, nil
		case err != nil:
			return nil, problem(err, before)
		}
		line, _ := reader.FieldPos(0)
		if row, says := plainRow(line+before, cells); says {
			all = append(all, row)
		}
	}
}

// plainRow takes guards and spaces off the cells and reports whether one says something.
func plainRow(line int, cells []string) (row Row, says bool) {
	row = Row{Line: line, Cells: make([]string, len(cells))}
	for i, cell := range cells {
		row.Cells[i] = strings.TrimSpace(Plain(cell))
		says = says || row.Cells[i] != ""
	}
	return row, says
}

// separatorOf tells what stands between the cells of the first line that says something.
func separatorOf(text string, comment rune) rune {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(line) == "" || comment != 0 && strings.HasPrefix(line, string(comment)) {
			continue
		}
		bare := withoutQuoted(line)
		separator, most := ',', strings.Count(bare, ",")
		for _, other := range ";\t" {
			if n := strings.Count(bare, string(other)); n > 0 && n >= most {
				separator, most = other, n
			}
		}
		return separator
	}
	return ','
}

// withoutQuoted is a line without what stands between quotation marks.
func withoutQuoted(line string) string {
	var bare strings.Builder
	for i, piece := range strings.Split(line, `"`) {
		if i%2 == 0 {
			bare.WriteString(piece)
		}
	}
	return bare.String()
}

// problem says what is wrong with a table, in whose file before lines stood ahead.
func problem(err error, before int) error {
	var wrong *csv.ParseError
	if !errors.As(err, &wrong) {
		return err
	}
	return fmt.Errorf("line %d has a quotation mark that is not in order; one within a cell is written twice, and the cell stands between two", wrong.StartLine+before)
}
