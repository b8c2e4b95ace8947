package pdf_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/pdf"
)

// every shape once, on a page with a title, a system and a page number.
func samplePage() display.Page {
	at := func(x, y display.Spaces) display.Point { return display.Point{X: x, Y: y} }
	system := &display.System{
		First: 1, Last: 1, Width: 60, Height: 12, Label: "Bars 1 to 1", Space: 2,
		Frame: display.List{{Shape: display.Line{Points: []display.Point{at(0, 4), at(0, 8)}, Thickness: .16}}},
		Staves: []display.Staff{{Y: 6, Lines: 5, Title: "Horn in F", Text: "Treble clef, C 5 quarter (two)", Items: display.List{
			{Shape: display.Group{Number: 1, Items: display.List{
				{Shape: display.Sign{Name: "clef-g", At: at(1, 1)}},
				{Shape: display.Sign{Name: "head-black", At: at(6, -.5)}},
				{Shape: display.Sign{Name: "head-black", At: at(9, -.5), Scale: .65}},
			}}},
			{Shape: display.Beam{Left: at(6, 3), Right: at(9, 2.5), Thickness: .5}},
			{Shape: display.Bow{From: at(6, -2), To: at(14, -2), Height: -1.5, Thickness: .2}},
			{Shape: display.Wave{From: at(15, 0), To: at(20, 0), Depth: .5, Thickness: .1}},
			{Shape: display.Curve{From: at(21, -1), Control: at(22, 0), To: at(21, 1), Thickness: .1}},
			{Shape: display.Line{Points: []display.Point{at(23, 2), at(30, 2)}, Thickness: .1, Dash: 1, Gap: .5}},
			{Shape: display.Text{Text: "3", At: at(31, 0), Face: fonts.Regular, Size: 2, Halo: .2}},
			{Shape: display.Text{Text: "Tempo I° in B♭ (größer)", At: at(35, -3), Face: fonts.BoldItalic, Size: 2}},
		}}},
		Over: display.List{{Shape: display.Box{Rect: display.Rect{Left: 50, Top: 4, Right: 50.4, Bottom: 8}}}},
	}
	return display.Page{Width: 210, Height: 297, Blocks: []display.Block{
		{Purpose: display.Title, Left: 105, Top: 20, Space: 2, Items: display.List{{Shape: display.Text{Text: "Œuvre Жанр Ωδή", Anchor: display.Middle, Face: fonts.Bold, Size: 4}}}},
		{Purpose: display.Music, Left: 20, Top: 30, Space: 2, System: system},
		{Purpose: display.Furniture, Left: 105, Top: 290, Space: 2, Items: display.List{{Shape: display.Text{Text: "1", Anchor: display.Middle, Face: fonts.Regular, Size: 2}}}},
	}}
}

func sample(t testing.TB) []byte {
	t.Helper()
	var out bytes.Buffer
	w := pdf.New(&out, pdf.Info{Title: "Œuvre (trial)", Language: "en"})
	page := samplePage()
	w.Section("Horn in F")
	w.Page(&page)
	w.Section("Horn in E♭")
	w.Page(&page)
	w.Page(&page)
	require.NoError(t, w.Close())
	return out.Bytes()
}

// A general library reads the document and finds nothing against ISO 32000-1.
func TestDocumentIsValid(t *testing.T) {
	t.Parallel()
	data := sample(t)
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = model.ValidationStrict
	require.NoError(t, api.Validate(bytes.NewReader(data), conf))
	pages, err := api.PageCount(bytes.NewReader(data), conf)
	require.NoError(t, err)
	assert.Equal(t, 3, pages)
	marks, err := api.Bookmarks(bytes.NewReader(data), conf)
	require.NoError(t, err)
	require.Len(t, marks, 2)
	assert.Equal(t, []any{"Horn in F", 1, "Horn in E♭", 2}, []any{marks[0].Title, marks[0].PageFrom, marks[1].Title, marks[1].PageFrom})
}

func TestSameBytes(t *testing.T) {
	t.Parallel()
	assert.Equal(t, sample(t), sample(t))
}

// Catalogue, tags and text alternatives stand in the file uncompressed (only
// streams are packed).
func TestTagged(t *testing.T) {
	t.Parallel()
	text := string(sample(t))
	for _, want := range []string{"/Marked true", "/Lang (en)", "/DisplayDocTitle true", "/S /Document", "/S /Sect", "/S /H1",
		"(Bars 1 to 1. Horn in F. Treble clef, C 5 quarter \\(two\\).)", "/StructParents 2", "/Tabs /S"} {
		assert.Contains(t, text, want)
	}
	assert.Equal(t, 3, strings.Count(text, "/S /Figure"))
	assert.Regexp(t, `/Alt \d+ 0 R/K 1/P \d+ 0 R/Pg \d+ 0 R/S /Figure`, text)
	assert.Equal(t, strings.Count(text, "/Subtype /Type0"), strings.Count(text, "/ToUnicode"), "every font says its Unicode")
}

// What is printed several times stands in the file once, and is a page each time.
func TestCopies(t *testing.T) {
	t.Parallel()
	page := samplePage()
	sheet, err := pdf.Compile(&page)
	require.NoError(t, err)
	size := func(copies int) int {
		var out bytes.Buffer
		w := pdf.New(&out, pdf.Info{Title: "copies"})
		for range copies {
			w.Sheet(sheet)
		}
		require.NoError(t, w.Close())
		conf := model.NewDefaultConfiguration()
		conf.ValidationMode = model.ValidationStrict
		require.NoError(t, api.Validate(bytes.NewReader(out.Bytes()), conf))
		pages, err := api.PageCount(bytes.NewReader(out.Bytes()), conf)
		require.NoError(t, err)
		assert.Equal(t, copies, pages)
		return out.Len()
	}
	assert.Less(t, size(9)-size(1), 8*700, "a copy is a page object and its tags")
}

// A general text tool reads letters and signs back at their places: the origin of
// the first head lies 6 spaces of 2 mm right of 20 mm, half a space above the
// staff's middle line (30 mm + 5.5 spaces from the top).
func TestReadBack(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("mutool"); err != nil {
		t.Skip("mutool (Debian: mupdf-tools) is not installed")
	}
	file := filepath.Join(t.TempDir(), "sample.pdf")
	require.NoError(t, os.WriteFile(file, sample(t), 0o600))
	trace, err := exec.Command("mutool", "trace", file, "1").Output()
	require.NoError(t, err)
	letters := lettersIn(t, trace)
	for _, want := range []string{"Œ", "Ж", "Ω", "𝄞", "𝅘", "♭", "ß"} {
		assert.NotEmpty(t, letters[want], want)
	}
	require.Len(t, letters["𝅘"], 2)
	at := letters["𝅘"][0]
	assert.InDelta(t, float64(display.Millimetres(20+12).Points()), at[0], 0.05)
	assert.InDelta(t, float64(display.Millimetres(30+11).Points()), at[1], 0.05)
}

// lettersIn reads where each letter's origin stands, in points from the page's
// upper left corner.
func lettersIn(t *testing.T, trace []byte) map[string][][2]float64 {
	t.Helper()
	var page struct {
		Texts []struct {
			Transform string `xml:"transform,attr"`
			Letters   []struct {
				Unicode string  `xml:"unicode,attr"`
				X       float64 `xml:"x,attr"`
				Y       float64 `xml:"y,attr"`
			} `xml:"span>g"`
		} `xml:"page>fill_text"`
	}
	require.NoError(t, xml.Unmarshal(trace, &page))
	letters := map[string][][2]float64{}
	for _, text := range page.Texts {
		var m [6]float64
		_, err := fmt.Sscan(text.Transform, &m[0], &m[1], &m[2], &m[3], &m[4], &m[5])
		require.NoError(t, err)
		for _, g := range text.Letters {
			letters[g.Unicode] = append(letters[g.Unicode], [2]float64{m[0]*g.X + m[2]*g.Y + m[4], m[1]*g.X + m[3]*g.Y + m[5]})
		}
	}
	return letters
}

type full struct{ after int }

var errFull = errors.New("no space left")

func (f *full) Write(p []byte) (int, error) {
	if f.after -= len(p); f.after < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestWritingFails(t *testing.T) {
	t.Parallel()
	page := samplePage()
	write := func(out io.Writer) error {
		w := pdf.New(out, pdf.Info{Title: "x"})
		w.Page(&page)
		return w.Close()
	}
	var whole bytes.Buffer
	require.NoError(t, write(&whole))
	for after := 0; after < whole.Len(); after += 1001 {
		assert.ErrorIs(t, write(&full{after}), errFull, "after %d bytes", after)
	}
}

// What no font has is left out and said.
func TestMissingCharacters(t *testing.T) {
	t.Parallel()
	sheet, err := pdf.Compile(&display.Page{Width: 100, Height: 100, Blocks: []display.Block{{Purpose: display.Paragraph, Space: 2,
		Items: display.List{{Shape: display.Text{Text: "見よ a", Face: fonts.Regular, Size: 2}}}}}})
	require.NoError(t, err)
	assert.Equal(t, []rune{'よ', '見'}, sheet.Missing())
}
