package parts_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/allowed"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// mayGo are the elements that need not come back in a part, and why.
var mayGo = map[string]string{
	"frame":          "a fretboard diagram shows a chord at its old pitch (said: fret-frame)",
	"measure-style":  "bars of rest are counted afresh",
	"beam":           "a player's own notes are beamed afresh",
	"arpeggiate":     "one player has one note of it",
	"non-arpeggiate": "the same",
	"notations":      "a rest that becomes a bar's rest keeps those that say something",
}

// ofABar are elements for programs that say something of a bar of one staff, where a player of
// several has another.
var ofABar = []string{"bookmark", "grouping", "link", "listening", "print", "sound"}

// Whatever the schema of the standard allows, put into the files of the test suite at random:
// every part that comes of it is valid, and what was put in is in a part (MusicXML 4.0,
// musicxml.xsd; the ids tell).
func TestWhateverTheSchemaAllows(t *testing.T) {
	t.Parallel()
	schema, err := allowed.Read(filepath.Join(musicxmltest.SharedDir(t), "musicxml-4.0", "musicxml.xsd"))
	require.NoError(t, err)
	files := musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml")
	names := []string{"Clarinet in B♭", "Horn in F", "Flutes 1. 2.", "2 Clarinets in A", "Trumpet in E♭", "Viola", "Double Bass", "Piccolo", "Bass Clarinet in B♭", "Alto Saxophone", "Timpani", "Percussion", "Side Drum", "Cymbals", "Triangle", "Bassoon 1.2"}
	plain, players, section := parts.DefaultOptions(), parts.DefaultOptions(), parts.DefaultOptions()
	plain.Input, players.Input, section.Input = parts.Concert, parts.Written, parts.Concert
	players.Players, players.Cues, section.Percussionists = true, 2, 1
	dir := t.TempDir()
	inputs := map[string]*etree.Document{}
	for k := range musicxmltest.Sweep(60, 600) {
		random := rand.New(rand.NewPCG(uint64(k), 1))
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromFile(files[random.IntN(len(files))]))
		if doc.Root().Tag != "score-partwise" {
			continue
		}
		for _, name := range doc.FindElements("//score-part/part-name") {
			name.SetText(names[random.IntN(len(names))])
		}
		schema.NewMaker(uint64(k)).Into(doc.Root(), []int{20, 5, 2}[k%3])
		file := filepath.Join(dir, fmt.Sprintf("%04d.musicxml", k))
		require.NoError(t, doc.WriteToFile(file))
		inputs[file] = doc
	}
	valid := validOf(t, dir)
	require.Greater(t, len(valid)*10, len(inputs)*8, "made content is valid, but for references")

	out := t.TempDir()
	for _, file := range valid {
		for i, o := range []parts.Options{plain, players, section} {
			came, refused := extractAll(t, inputs[file], o, filepath.Join(out, fmt.Sprintf("%s-%d", filepath.Base(file), i)))
			if refused {
				continue
			}
			for _, e := range inputs[file].FindElements("//*[@id]") {
				if id := e.SelectAttrValue("id", ""); strings.HasPrefix(id, allowed.IDs) && !came[id] && mayGo[e.Tag] == "" && !(i == 2 && slices.Contains(ofABar, e.Tag)) {
					assert.Fail(t, "lost", "%s, %d: %s %s", filepath.Base(file), i, e.GetPath(), id)
				}
			}
		}
	}
	assert.Len(t, validOf(t, out), len(globbed(t, out)), "every part is valid")
}

// extractAll writes the parts of a score and reports which ids are in them, and whether it was
// said that a part could not be made, or that nobody is free for a passage.
func extractAll(t *testing.T, score *etree.Document, o parts.Options, to string) (ids map[string]bool, refused bool) {
	t.Helper()
	text, err := score.WriteToBytes()
	require.NoError(t, err)
	read, err := musicxml.Read(text, musicxml.ReadOptions{})
	require.NoError(t, err)
	ids = map[string]bool{}
	n := 0
	for made, err := range parts.Extract(read, instrumentstest.Load(t), o) {
		if err != nil || made.Part == nil || made.Part.Document == nil {
			refused = true
			continue
		}
		refused = refused || slices.ContainsFunc(made.Part.Report.Warnings, func(w musicxml.Warning) bool { return w.Code == notice.MusicLost })
		for _, e := range made.Part.Document.FindElements("//*[@id]") {
			ids[e.SelectAttrValue("id", "")] = true
		}
		require.NoError(t, os.WriteFile(fmt.Sprintf("%s-%02d.musicxml", to, n), made.Part.Bytes(musicxml.WriteOptions{}), 0o600))
		n++
	}
	return ids, refused
}

func globbed(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.musicxml"))
	require.NoError(t, err)
	return files
}

// validOf are the files of a folder that the schema takes.
func validOf(t *testing.T, dir string) (valid []string) {
	t.Helper()
	files := globbed(t, dir)
	for len(files) > 0 {
		some := files[:min(200, len(files))]
		said, _ := musicxmltest.Validate(t, some...)
		for _, file := range some {
			if strings.Contains(said, file+" validates") {
				valid = append(valid, file)
			}
		}
		files = files[len(some):]
	}
	return valid
}
