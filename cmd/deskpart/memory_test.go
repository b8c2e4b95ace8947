package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// TestHeavyScoresAreRefused: a small file that unpacks to very many bars is one line that
// says how much memory it wants, whatever the command, and the rest is done.
func TestHeavyScoresAreRefused(t *testing.T) {
	shelf := t.TempDir()
	light, err := os.ReadFile(filepath.Join("..", "..", "examples", "lanterns-on-the-quay.musicxml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(shelf, "light.musicxml"), light, 0o666))
	heavy := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Horn in F</part-name></score-part></part-list><part id="P1">` +
		strings.Repeat(`<measure number="1"><note><rest/><duration>4</duration></note></measure>`, 100_000) + `</part></score-partwise>`
	var packed bytes.Buffer
	require.NoError(t, musicxml.WriteContainer(&packed, "heavy.musicxml", musicxml.File{Name: "heavy.musicxml", Data: []byte(heavy)}))
	require.Less(t, packed.Len(), 100_000)
	file := filepath.Join(shelf, "heavy.mxl")
	require.NoError(t, os.WriteFile(file, packed.Bytes(), 0o666))
	for args, done := range map[string]string{
		"extract SHELF --out OUT":                                  "light",
		"convert SHELF --to concert --out OUT":                     "light",
		"verify SHELF":                                             "17 identical",
		"survey SHELF":                                             "light",
		"print SHELF --out OUT --only nobody":                      "",
		"proof HEAVY --out OUT.html":                               "",
		"collate HEAVY SHELF/light.musicxml":                       "",
		"fit HEAVY --have flute":                                   "",
		"reassign HEAVY --part horn --to flute --out OUT.musicxml": "",
		"mark HEAVY SHELF/light.musicxml":                          "",
	} {
		t.Run(args, func(t *testing.T) {
			t.Parallel()
			args := strings.Fields(strings.NewReplacer("SHELF", shelf, "HEAVY", file, "OUT", filepath.Join(t.TempDir(), "out")).Replace(args))
			var out, said bytes.Buffer
			streams := &report.Streams{In: strings.NewReader(""), Out: &out, Err: &said}
			status := execute(t.Context(), append(args, "--memory", "64MiB"), streams)
			assert.Equal(t, exitNeedsPerson, status, said.String())
			var lines []string
			for line := range strings.Lines(said.String()) {
				if strings.Contains(line, "heavy.mxl") {
					lines = append(lines, line)
				}
			}
			require.Len(t, lines, 1, said.String())
			assert.Contains(t, lines[0], "heavy.mxl: the score has 400000 elements in 100000 bars and wants about ")
			assert.Contains(t, lines[0], "iB of memory, and the run may have 64MiB; ")
			assert.Contains(t, out.String(), done)
		})
	}
}

// TestCollateKeepsWithinMemory: parts that would each fit are weighed together, because
// what was read of them is kept until they are compared.
func TestCollateKeepsWithinMemory(t *testing.T) {
	dir := t.TempDir()
	part := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1">` +
		strings.Repeat(`<measure number="1"><note><rest/><duration>4</duration></note></measure>`, 4_500) + `</part></score-partwise>`
	args := []string{"collate", filepath.Join("..", "..", "examples", "two-ferries.musicxml")}
	for _, name := range []string{"a", "b", "c", "d", "e", "f"} {
		args = append(args, filepath.Join(dir, name+".musicxml"))
		require.NoError(t, os.WriteFile(args[len(args)-1], []byte(part), 0o666))
	}
	var out, said bytes.Buffer
	streams := &report.Streams{In: strings.NewReader(""), Out: &out, Err: &said}
	assert.Equal(t, exitNeedsPerson, execute(t.Context(), append(args, "--memory", "64MiB", "--some"), streams))
	assert.NotContains(t, said.String(), "a.musicxml", "the first fits")
	assert.Regexp(t, `f\.musicxml: the score has 18000 elements in 4500 bars and wants about \d+MiB of memory beside \d+MiB for what was read before, and the run may have 64MiB; `, said.String())
}

func TestTooLittleMemory(t *testing.T) {
	var said bytes.Buffer
	streams := &report.Streams{In: strings.NewReader(""), Out: &said, Err: &said}
	assert.Equal(t, exitCannotRun, execute(t.Context(), []string{"verify", ".", "--memory", "32MiB"}, streams))
	assert.Equal(t, "deskpart: --memory 32MiB is less than the program takes itself; give 64MiB or more\n", said.String())
}
