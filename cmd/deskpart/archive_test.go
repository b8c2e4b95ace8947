package main

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// TestNamesThatLeadOut: a compressed score with a name that would leave the folder it is
// unpacked to is refused by every command that reads one, and nothing is written for it.
func TestNamesThatLeadOut(t *testing.T) {
	t.Parallel()
	sound := filepath.Join(musicxmltest.ProjectRoot(t), "examples", "two-ferries.musicxml")
	text, err := os.ReadFile(sound)
	require.NoError(t, err)
	for _, name := range []string{"../evil.txt", "/evil.txt", `a\evil.txt`, "a/../../evil.txt", `C:\evil.txt`} {
		folder := t.TempDir()
		score, out := filepath.Join(folder, "score.mxl"), filepath.Join(folder, "out")
		var b bytes.Buffer
		archive := zip.NewWriter(&b)
		for _, file := range []struct{ name, text string }{{"score.musicxml", string(text)}, {name, "x"}} {
			w, err := archive.Create(file.name)
			require.NoError(t, err)
			_, err = w.Write([]byte(file.text))
			require.NoError(t, err)
		}
		require.NoError(t, archive.Close())
		require.NoError(t, os.WriteFile(score, b.Bytes(), 0o666))
		for _, args := range [][]string{
			{"extract", score, "--out", out}, {"print", score, "--out", out}, {"survey", score}, {"verify", score},
			{"convert", score, "--to", "concert", "--out", out}, {"fit", score, "--part", "Flute"},
			{"reassign", score, "--part", "Flute", "--to", "oboe", "--out", out}, {"proof", score, "--out", out},
			{"collate", sound, score}, {"explain", "horn in F", "--from-score", score, "--part", "Flute"},
			{"exercise", "--instrument", "horn in F", "--from-score", score, "--part", "Flute", "--out", out}, {"mark", score, score},
		} {
			_, errs, code := command(t, args...)
			assert.Equal(t, exitNeedsPerson, code, "%s %s: %s", args[0], name, errs)
			assert.Contains(t, errs, "leads out of it", "%s %s", args[0], name)
			assert.NoFileExists(t, out)
			assert.NoDirExists(t, out)
		}
	}
}
