package musicxml

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tinyScore is the shortest score; title tells one from another.
func tinyScore(title string) string {
	return "<score-partwise><movement-title>" + title + `</movement-title><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1"><measure number="1"/></part></score-partwise>`
}

// listing is a META-INF/container.xml with these paths.
func listing(paths ...string) string {
	var b strings.Builder
	for _, path := range paths {
		fmt.Fprintf(&b, `<rootfile full-path=%q/>`, path)
	}
	return `<?xml version="1.0"?><container><rootfiles>` + b.String() + `</rootfiles></container>`
}

// pack makes an archive of names and texts by the standard library.
func pack(t testing.TB, namesAndTexts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(namesAndTexts); i += 2 {
		f, err := w.Create(namesAndTexts[i])
		require.NoError(t, err)
		_, err = io.WriteString(f, namesAndTexts[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestContainerRoot(t *testing.T) {
	t.Parallel()
	const list = containerList
	right, wrong := tinyScore("right"), tinyScore("wrong")
	for _, row := range []struct {
		name, why string
		files     []string
	}{
		{"plain", "the list names it", []string{list, listing("b.xml"), "a.xml", wrong, "b.xml", right}},
		{"in a folder", "a path has folders", []string{list, listing("music/b.xml"), "b.xml", wrong, "music/b.xml", right}},
		{"first of several", "the first rootfile is the score (container)", []string{list, listing("b.xml", "a.xml"), "a.xml", wrong, "b.xml", right}},
		{"no list", "META-INF is missing: what looks like a score is taken", []string{"mimetype", containerType, "notes.txt", "hello", "b.musicxml", right}},
		{"list elsewhere in case", "file systems without case", []string{"meta-inf/Container.xml", listing("b.xml"), "a.xml", wrong, "b.xml", right}},
		{"wrong case", "file systems without case", []string{list, listing("Score.XML"), "a.xml", wrong, "score.xml", right}},
		{"percent-encoded", "a path taken for a link", []string{list, listing("Ein%20St%C3%BCck.xml"), "a.xml", wrong, "Ein Stück.xml", right}},
		{"percent sign", "a name with a plain %", []string{list, listing("100%.xml"), "a.xml", wrong, "100%.xml", right}},
		{"percent-encoded in the archive", "the other way round", []string{list, listing("Ein Stück.xml"), "a.xml", wrong, "Ein%20St%C3%BCck.xml", right}},
		{"backslashes", "a path of one system alone", []string{list, listing(`music\b.xml`), "a.xml", wrong, "music/b.xml", right}},
		{"leading slash", "a path taken for absolute", []string{list, listing("/b.xml"), "a.xml", wrong, "b.xml", right}},
		{"dot", "a path not cleaned", []string{list, listing("./b.xml"), "a.xml", wrong, "b.xml", right}},
		{"accent apart", "one system writes é as e and an accent", []string{list, listing("caf\u00E9.xml"), "a.xml", wrong, "cafe\u0301.xml", right}},
		{"folder lost", "only the last name is right", []string{list, listing("out/b.xml"), "a.xml", wrong, "in/b.xml", right}},
		{"apostrophe in apostrophes", "as found in the wild: the list is not XML", []string{list, `<container><rootfiles><rootfile full-path='She's Here.xml'/></rootfiles></container>`, "a.xml", wrong, "She's Here.xml", right}},
		{"name with &", "the list is not XML", []string{list, `<container><rootfiles><rootfile full-path="Q & A.xml" media-type="x/xml"/></rootfiles></container>`, "a.xml", wrong, "Q & A.xml", right}},
		{"list names nothing there", "what looks like a score is taken", []string{list, listing("c.xml"), "picture.png", "\x89PNG", "b.xml", right}},
		{"list names no score", "it is an error to list another kind first (container)", []string{list, listing("page.pdf"), "page.pdf", "%PDF-1.4", "b.xml", right}},
		{"list empty", "what looks like a score is taken", []string{list, "", "b.xml", right}},
		{"list in UTF-16", "an XML file may be", []string{list, string(utf16Bytes(binary.BigEndian, "\uFEFF"+listing("b.xml"))), "a.xml", wrong, "b.xml", right}},
		{"hidden files", "what one system leaves behind is no score", []string{"__MACOSX/._b.xml", "\x00\x05\x16\x07", "b.xml", right}},
		{"not named .xml", "content tells", []string{"readme", "hello", "b", right}},
		{"path outside", "only what is in the archive can be the score", []string{list, listing("../../etc/passwd"), "b.xml", right}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read(pack(t, row.files...), ReadOptions{})
			require.NoError(t, err, row.why)
			assert.True(t, s.Compressed)
			assert.Equal(t, "right", ChildText(s.Header.Root(), "movement-title"), row.why)
		})
	}
}

func TestContainerFiles(t *testing.T) {
	t.Parallel()
	const list = `<container><rootfiles><rootfile full-path="a.xml"/><rootfile full-path="a.pdf" media-type="application/pdf"/></rootfiles></container>`
	data := pack(t, typeFile, containerType, "META-INF/", "", containerList, list, "a.xml", tinyScore("a"), "a.pdf", "%PDF", "./parts//1.xml", "<x/>", "in 3:4.txt", "x")
	s, err := Read(data, ReadOptions{})
	require.NoError(t, err)
	assert.Equal(t, "a.xml", s.RootName)
	assert.Equal(t, []File{{"a.pdf", "application/pdf", []byte("%PDF")}, {"parts/1.xml", "", []byte("<x/>")}, {"in 3_4.txt", "", []byte("x")}}, s.Files, "names as they may be written again")
	assert.Empty(t, s.Warnings)
	s, err = Read(data, ReadOptions{SkipFiles: true})
	require.NoError(t, err)
	assert.Empty(t, s.Files)
}

func TestContainerRefuses(t *testing.T) {
	t.Parallel()
	score := tinyScore("x")
	sound := pack(t, "a.xml", score)
	encrypted := bytes.Clone(sound)
	encrypted[6] |= 1
	encrypted[bytes.Index(encrypted, []byte("PK\x01\x02"))+8] |= 1
	method := bytes.Clone(sound)
	method[8] = 12
	method[bytes.Index(method, []byte("PK\x01\x02"))+10] = 12
	broken := bytes.Clone(sound)
	broken[len("PK\x03\x04")+60] ^= 0xFF
	zeros := strings.Repeat(" ", 4<<20)
	for _, row := range []struct {
		name, why string
		data      []byte
		limits    Limits
		code      string
	}{
		{"no score", "another kind of archive", pack(t, "word/document.xml", "<document/>", "picture.png", "x"), Limits{}, "no-score-in-archive"},
		{"empty", "nothing in it", pack(t), Limits{}, "no-score-in-archive"},
		{"name above", "unpacked, it would leave the folder", pack(t, "a.xml", score, "../evil", "x"), Limits{}, "unsafe-archive"},
		{"name above in the midst", "the same", pack(t, "a.xml", score, "a/../../evil", "x"), Limits{}, "unsafe-archive"},
		{"name from the root", "the same", pack(t, "/a.xml", score), Limits{}, "unsafe-archive"},
		{"name from a drive", "the same, on one system", pack(t, "a.xml", score, "c:evil", "x"), Limits{}, "unsafe-archive"},
		{"name with a backslash", "the same, on one system", pack(t, "a.xml", score, `b\evil`, "x"), Limits{}, "unsafe-archive"},
		{"folder above", "the same", pack(t, "a.xml", score, "../", ""), Limits{}, "unsafe-archive"},
		{"scores packed in packs", "a shelf, not a score", pack(t, "a.mxl", string(sound)), Limits{}, "no-score-in-archive"},
		{"cut off", "the end of the archive is missing", sound[:len(sound)-30], Limits{}, "damaged-archive"},
		{"one byte wrong", "the checksum says so", broken, Limits{}, "damaged-archive"},
		{"encrypted", "cannot be unpacked", encrypted, Limits{}, "encrypted"},
		{"unknown method", "cannot be unpacked", method, Limits{}, "damaged-archive"},
		{"too many files", "one more than allowed", pack(t, "a.xml", score, "b", "", "c", ""), Limits{Entries: 2}, "too-large"},
		{"too large", "expands to more than allowed", sound, Limits{ExpandedBytes: 10}, "too-large"},
		{"too large together", "each file may be, all may not", pack(t, "a.xml", score, "b", zeros, "c", zeros), Limits{ExpandedBytes: 7 << 20, Ratio: 5000}, "too-large"},
		{"bomb", "packed a thousand times", pack(t, "a.xml", score+zeros), Limits{}, "too-large"},
		{"bomb beside", "packed a thousand times", pack(t, "a.xml", score, "b", zeros), Limits{}, "too-large"},
		{"score not well-formed", "the score itself is broken", pack(t, "a.xml", "<score-partwise>"), Limits{}, "truncated"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := Read(row.data, ReadOptions{Name: "x.mxl", Limits: row.limits})
			require.Error(t, err, row.why)
			t.Log(err)
			assert.EqualValues(t, row.code, ErrorCode(err), row.why)
			assert.True(t, strings.HasPrefix(err.Error(), "x.mxl: "))
		})
	}
}

// TestContainerLies checks an archive whose directory says less than is there.
func TestContainerLies(t *testing.T) {
	t.Parallel()
	data := pack(t, "a.xml", tinyScore(strings.Repeat("x", 5<<20)))
	at := bytes.Index(data, []byte("PK\x01\x02")) + 24 // the uncompressed size (zip, 4.3.12)
	copy(data[at:], []byte{100, 0, 0, 0})
	_, err := Read(data, ReadOptions{})
	require.Error(t, err)
	assert.Contains(t, []string{"damaged-archive", "too-large", "truncated"}, string(ErrorCode(err)))
}

func TestWriteContainer(t *testing.T) {
	t.Parallel()
	files := []File{{"Größe & Co.musicxml", "", []byte(tinyScore("a"))}, {"a.pdf", "application/pdf", []byte("%PDF")}, {"img/1.png", "", nil}}
	var first, second bytes.Buffer
	require.NoError(t, WriteContainer(&first, files[0].Name, files...))
	require.NoError(t, WriteContainer(&second, files[0].Name, files...))
	assert.True(t, bytes.Equal(first.Bytes(), second.Bytes()), "no clock, no chance")

	// MusicXML 4.0, container: mimetype first, not compressed, no extra field, so
	// that its content stands at byte 38 (30 and the name).
	assert.Equal(t, "mimetype"+containerType, first.String()[30:38+len(containerType)])
	archive, err := zip.NewReader(bytes.NewReader(first.Bytes()), int64(first.Len()))
	require.NoError(t, err)
	var names []string
	for _, f := range archive.File {
		names = append(names, f.Name)
		assert.Empty(t, f.Extra)
		assert.False(t, f.NonUTF8)
		assert.Zero(t, f.Flags&8, "sizes stand before the data")
		r, err := f.Open()
		require.NoError(t, err)
		_, err = io.ReadAll(r)
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"mimetype", "META-INF/container.xml", "Größe & Co.musicxml", "a.pdf", "img/1.png"}, names)

	s, err := Read(first.Bytes(), ReadOptions{})
	require.NoError(t, err)
	assert.Equal(t, files[0].Name, s.RootName)
	assert.Equal(t, []File{files[1], {"img/1.png", "", []byte{}}}, s.Files)
}

func TestWriteContainerRefuses(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, root string
		files           []string
	}{
		{"no root", "the list would name nothing", "a.xml", []string{"b.xml"}},
		{"twice", "two files of one name", "a.xml", []string{"a.xml", "a.xml"}},
		{"out", "a path that leads out", "a.xml", []string{"a.xml", "../b"}},
		{"absolute", "a path that leads out", "/a.xml", []string{"/a.xml"}},
		{"backslash", "a path that leads out on some systems", "a.xml", []string{"a.xml", `..\b`}},
		{"mimetype", "is written already", "mimetype", []string{"mimetype"}},
		{"list", "is written already", "a.xml", []string{"a.xml", containerList}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var files []File
			for _, name := range row.files {
				files = append(files, File{Name: name})
			}
			assert.Error(t, WriteContainer(io.Discard, row.root, files...), row.why)
		})
	}
}
