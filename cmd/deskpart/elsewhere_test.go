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
)

// TestFoldersDoNotSayWhereTheyLie: what a run makes is the same, record and bag included,
// wherever it is put; and a folder that was carried elsewhere is gone on from there.
func TestFoldersDoNotSayWhereTheyLie(t *testing.T) {
	score := filepath.Join("..", "..", "examples", "lanterns-on-the-quay.musicxml")
	for _, c := range []struct{ name, args string }{
		{"extract", "extract SCORE --out OUT"},
		{"convert", "convert SCORE --to concert --out OUT"},
		{"bag", "convert SCORE --to concert --bag --out OUT"},
		{"print", "print SCORE --only Flute --only Piccolo --job --out OUT"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			do := func(out string) string {
				var said bytes.Buffer
				streams := &report.Streams{In: strings.NewReader(""), Out: &said, Err: &said}
				args := strings.Fields(strings.NewReplacer("SCORE", score, "OUT", out).Replace(c.args))
				require.NotEqual(t, exitCannotRun, execute(t.Context(), append(args, "--json"), streams), said.String())
				return said.String()
			}
			here, there, moved := filepath.Join(t.TempDir(), "here"), filepath.Join(t.TempDir(), "there"), filepath.Join(t.TempDir(), "moved")
			first := do(here)
			do(there)
			want := contents(t, here)
			assert.NotEmpty(t, want)
			assert.Equal(t, want, contents(t, there))
			require.NoError(t, os.Rename(there, moved))
			again := do(moved)
			assert.Contains(t, again, `"written": 0`)
			assert.NotContains(t, again, there)
			assert.Equal(t, strings.Count(first, here), strings.Count(again, moved), "it says each file's place")
		})
	}
}
