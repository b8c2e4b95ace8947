package spreadsheet_test

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/spreadsheet"
)

// What begins a formula is listed on OWASP's page "CSV Injection" (from memory); that
// spaces and full-width signs count too is caution.
var cells = []struct{ text, cell string }{
	{"", ""},
	{"Flute", "Flute"},
	{"Clarinet - Bb", "Clarinet - Bb"},
	{`=HYPERLINK("http://x","y")`, `'=HYPERLINK("http://x","y")`},
	{"+1+1", "'+1+1"},
	{"-1+1", "'-1+1"},
	{"@SUM(1)", "'@SUM(1)"},
	{"＝1", "'＝1"},
	{" =1", "' =1"},
	{"\t1", "'\t1"},
	{"\r=1", "'\r'=1"},
	{"\n=1", "'\n'=1"},
	{"-1", "-1"},
	{"+2", "+2"},
	{"-1,5", "-1,5"},
	{"-", "'-"},
	{"'=1", "''=1"},
	{"' =1", "'' =1"},
	{"'Tis", "'Tis"},
	{"Flute;=1", "Flute;'=1"},
	{"Flute\t=1;@1", "Flute\t'=1;'@1"},
	{"Flute;'=1", "Flute;''=1"},
}

func TestGuard(t *testing.T) {
	t.Parallel()
	for _, c := range cells {
		assert.Equal(t, c.cell, spreadsheet.Guard(c.text), "%q", c.text)
		assert.Equal(t, c.text, spreadsheet.Plain(c.cell), "%q", c.cell)
	}
}

func FuzzGuard(f *testing.F) {
	for _, c := range cells {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cell := spreadsheet.Guard(text)
		assert.Equal(t, text, spreadsheet.Plain(cell))
		for _, piece := range strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == '\t' || r == '\n' || r == '\r' }) {
			piece = strings.TrimLeft(piece, " \u00a0")
			number := strings.Trim(piece, "0123456789.,+-") == "" && piece == cell
			assert.False(t, strings.IndexAny(piece, "=+-@＝＋－＠") == 0 && !number, "%q begins a formula", piece)
		}
	})
}

const table = "part,octave\n\"Flute, \"\"solo\"\"\",-1\nFlöte,\n"

func utf16Of(order binary.AppendByteOrder, text string) string {
	var b []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		b = order.AppendUint16(b, unit)
	}
	return string(b)
}

func TestRead(t *testing.T) {
	t.Parallel()
	want := []spreadsheet.Row{{1, []string{"part", "octave"}}, {2, []string{`Flute, "solo"`, "-1"}}, {3, []string{"Flöte", ""}}}
	tabs := strings.NewReplacer("part,octave", "part\toctave", `",-1`, "\"\t-1", "Flöte,", "Flöte\t").Replace(table)
	semicolons := strings.ReplaceAll(tabs, "\t", ";")
	for name, text := range map[string]string{
		"as it was written":            table,
		"with a mark of its encoding":  "\ufeff" + table,
		"with semicolons":              semicolons,
		"Unicode text":                 utf16Of(binary.LittleEndian, "\ufeff"+strings.ReplaceAll(tabs, "\n", "\r\n")),
		"UTF-16, high byte first":      utf16Of(binary.BigEndian, "\ufeff"+tabs),
		"UTF-16 without a mark":        utf16Of(binary.LittleEndian, table),
		"UTF-16 without a mark, other": utf16Of(binary.BigEndian, table),
		"the code page of Windows":     strings.ReplaceAll(semicolons, "ö", "\xf6"),
		"lines ended by CR":            strings.ReplaceAll(table, "\n", "\r"),
	} {
		rows, err := spreadsheet.Read(strings.NewReader(text), 1<<20, 0)
		require.NoError(t, err, name)
		assert.Equal(t, want, rows, name)
	}
	rows, err := spreadsheet.Read(strings.NewReader("sep=|\na|b\n\n|\n'=1|\"c;'@d\"\n"), 1<<20, 0)
	require.NoError(t, err)
	assert.Equal(t, []spreadsheet.Row{{2, []string{"a", "b"}}, {5, []string{"=1", "c;@d"}}}, rows, "a separator said; empty lines; guards")
	rows, err = spreadsheet.Read(strings.NewReader("a\tb\tc\n\t\t1\n"), 1<<20, 0)
	require.NoError(t, err)
	assert.Equal(t, []string{"", "", "1"}, rows[1].Cells, "empty cells between tabs")
	rows, err = spreadsheet.Read(strings.NewReader("a, \"b\"\n"), 1<<20, 0)
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b"}, rows[0].Cells, "typed by hand")
	rows, err = spreadsheet.Read(strings.NewReader("# ours; 2026\nflute;2\n"), 1<<20, '#')
	require.NoError(t, err)
	assert.Equal(t, []spreadsheet.Row{{2, []string{"flute", "2"}}}, rows)
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"part\n\"Flute\n":      "line 2 has a quotation mark",
		"sep=;\npart\nBb\"\n":  "line 3 has a quotation mark",
		"PK\x03\x04\x00\x00":   "no table in text; save it as CSV",
		"sep=0\n;":             "cannot separate cells",
		"sep=\"\na":            "cannot separate cells",
		strings.Repeat("a", 9): "more than 8 bytes",
	} {
		limit := int64(100)
		if strings.HasPrefix(text, "aaa") {
			limit = 8
		}
		_, err := spreadsheet.Read(strings.NewReader(text), limit, 0)
		assert.ErrorContains(t, err, want, "%q", text)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(table))
	f.Add([]byte("sep=;\na;b"))
	f.Add([]byte("\xff\xfea\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := spreadsheet.Read(bytes.NewReader(data), 1<<16, '#')
		if err != nil {
			return
		}
		var b bytes.Buffer
		w := spreadsheet.NewWriter(&b)
		w.Row("part", "octave")
		for _, row := range rows {
			w.Row(row.Cells...)
		}
		require.NoError(t, w.Flush())
		again, err := spreadsheet.Read(&b, 1<<20, 0)
		require.NoError(t, err)
		require.Len(t, again, len(rows)+1)
	})
}
