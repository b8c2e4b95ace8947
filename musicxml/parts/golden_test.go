package parts_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/transpose/pitch"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden is a small invented score of testdata. Its first comment says what it
// shows ("Shows:"), where the expectation comes from ("From:"), which part files
// are compared ("Parts:", by their number, counted from 1) and with which settings
// ("Options:", such as "players cues=2 language=de"; none are the defaults).
// "Golden: whole" compares the whole file, else the music alone.
type golden struct {
	path    string
	shows   string
	parts   []int
	whole   bool
	options parts.Options
}

var goldenFields = regexp.MustCompile(`(?m)^(Shows|From|Parts|Options|Golden):((?:.*\n)(?: .*\n)*)`)

func readGolden(t *testing.T, path string) golden {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	_, comment, found := strings.Cut(string(data), "<!--")
	require.True(t, found, "the file has no comment")
	comment, _, _ = strings.Cut(comment, "-->")
	g := golden{path: path, options: parts.DefaultOptions()}
	from := ""
	for _, field := range goldenFields.FindAllStringSubmatch(comment, -1) {
		switch value := strings.TrimSpace(field[2]); field[1] {
		case "Shows":
			g.shows = value
		case "From":
			from = value
		case "Golden":
			g.whole = value == "whole"
		case "Options":
			for _, word := range strings.Fields(value) {
				setOption(t, &g.options, word)
			}
		case "Parts":
			for _, word := range strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ' ' }) {
				n, err := strconv.Atoi(word)
				require.NoError(t, err)
				g.parts = append(g.parts, n)
			}
		}
	}
	require.NotEmpty(t, g.shows, "the comment does not say what the score shows")
	require.NotEmpty(t, from, "the comment does not say where the expectation comes from")
	require.NotEmpty(t, g.parts, "the comment names no parts")
	return g
}

func setOption(t *testing.T, o *parts.Options, word string) {
	t.Helper()
	key, value, _ := strings.Cut(word, "=")
	number, _ := strconv.Atoi(value)
	switch key {
	case "players":
		o.Players = true
	case "cues":
		o.Cues = number
	case "percussionists":
		o.Percussionists = number
	case "rest-bars":
		o.RestBars = number
	case "language":
		o.Language = pitch.Language(value)
	case "input":
		o.Input = parts.Input(value)
	case "one-player": // of these parts, by their ids, also where there is no time to change
		for _, id := range strings.Split(value, ",") {
			o.Plan = append(o.Plan, parts.PlanRow{Part: id, Player: "one"})
		}
		o.Force = true
	case "give": // a part, by its id, to an instrument
		id, instrument, _ := strings.Cut(value, ":")
		o.Plan = append(o.Plan, parts.PlanRow{Part: id, Instrument: instrument})
	case "share": // one staff, by the parts' names
		o.Share = [][]string{strings.Split(strings.ReplaceAll(value, "_", " "), ",")}
	case "tacet":
		o.Tacet = parts.Tacet(value)
	default:
		require.Fail(t, "no such option", word)
	}
}

// TestGoldens makes the parts of the invented scores and compares them, line by
// line, with what was read and found right. -update writes them anew, and refuses
// what does not validate.
func TestGoldens(t *testing.T) {
	inputs, err := filepath.Glob("testdata/*.input.musicxml")
	require.NoError(t, err)
	require.NotEmpty(t, inputs)
	for _, path := range inputs {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".input.musicxml"), func(t *testing.T) {
			t.Parallel()
			g := readGolden(t, path)
			score := readScore(t, path)
			facts, err := partstest.Read(score)
			require.NoError(t, err)
			job := partstest.Job(t, score, g.options)
			assignments := job.Assignments()
			for _, n := range g.parts {
				require.LessOrEqual(t, n, len(assignments))
				a := assignments[n-1]
				sheet, err := job.Make(n - 1)
				require.NoError(t, err)
				if a.Desk == "" && g.options.Share == nil && g.options.Percussionists == 0 {
					acceptSheet(t, facts, a, sheet, g.options)
				}
				compareGolden(t, g, n, sheet.Document)
				validate(t, sheet)
			}
		})
	}
}

// compareGolden compares one document with its golden file, or writes it.
func compareGolden(t *testing.T, g golden, n int, doc *etree.Document) {
	t.Helper()
	path := strings.TrimSuffix(g.path, ".input.musicxml") + "." + strconv.Itoa(n) + ".golden.musicxml"
	var got []byte
	if g.whole {
		got = musicxml.Append(nil, doc, musicxml.WriteOptions{Indent: 2})
	} else {
		got = musicxml.AppendPart(nil, doc.Root().SelectElement("part"), musicxml.WriteOptions{Indent: 2})
	}
	got = append(bytes.TrimSpace(got), '\n')
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o666))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "part %d of %s\n%s", n, g.path, g.shows)
}

// validate checks the whole file against the schema where that is at hand.
func validate(t *testing.T, sheet *parts.Part) {
	t.Helper()
	if _, err := os.Stat(filepath.Join(filepath.Dir(musicxmltest.ProjectRoot(t)), "shared")); err != nil {
		return
	}
	file := filepath.Join(t.TempDir(), "part.musicxml")
	writeDocument(t, file, sheet.Document)
	out, err := musicxmltest.Validate(t, file)
	require.NoError(t, err, out)
}
