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

// TestErrorsQuoteTheirScore: what is said of a score after its memory was given back says
// what its text said, by itself and within a work. Under the race detector such memory is
// spoilt at once.
func TestErrorsQuoteTheirScore(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	good, err := os.ReadFile(filepath.Join("..", "..", "examples", "two-ferries.musicxml"))
	require.NoError(t, err)
	bad := []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Clarinet in Bb</part-name></score-part></part-list>` +
		`<part id="P1"><measure number="21st"><attributes><divisions>2</divisions></attributes><note><pitch><step>C</step><octave>5</octave></pitch><duration>-3</duration></note></measure></part></score-partwise>`)
	opus := musicxml.Append(nil, musicxml.NewOpus("Suite", musicxml.OpusScore{Href: "bad.musicxml"}, musicxml.OpusScore{Href: "good.musicxml"}), musicxml.NoteALine)
	var packed bytes.Buffer
	require.NoError(t, musicxml.WriteContainer(&packed, "suite.xml", musicxml.File{Name: "suite.xml", Data: opus},
		musicxml.File{Name: "bad.musicxml", Data: bad}, musicxml.File{Name: "good.musicxml", Data: good}))
	for name, data := range map[string][]byte{"alone/bad.musicxml": bad, "alone/good.musicxml": good, "packed/suite.mxl": packed.Bytes(),
		"opus/suite.xml": opus, "opus/bad.musicxml": bad, "opus/good.musicxml": good} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, data, 0o666))
	}
	for _, command := range []string{"extract %s --out OUT", "convert %s --to concert --out OUT", "verify %s", "survey %s", "print %s --out OUT",
		"proof %s --out OUT.html", "collate %s alone/good.musicxml", "mark %s alone/good.musicxml"} {
		for _, given := range []string{"alone/bad.musicxml", "alone", "packed/suite.mxl", "opus/suite.xml"} {
			name, _, _ := strings.Cut(command, " ")
			if given == "alone" && (name == "proof" || name == "collate") || given != "alone/bad.musicxml" && name == "mark" {
				continue // they take one score
			}
			t.Run(name+" "+given, func(t *testing.T) {
				t.Parallel()
				line := strings.NewReplacer("%s", filepath.Join(dir, filepath.FromSlash(given)), "alone/good", filepath.Join(dir, "alone", "good"), "OUT", filepath.Join(t.TempDir(), "out")).Replace(command)
				var out, said bytes.Buffer
				execute(t.Context(), strings.Fields(line), &report.Streams{In: strings.NewReader(""), Out: &out, Err: &said})
				assert.Contains(t, said.String(), `measure 21st, beat 1: a note has no usable <duration>`, out.String())
			})
		}
	}
}
