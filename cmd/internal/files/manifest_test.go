package files

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
)

func TestUpToDate(t *testing.T) {
	t.Parallel()
	made := report.Manifest{Tool: "deskpart", Version: "1", Source: report.Source{Path: "a.mxl", SHA256: "s", Title: "T"},
		Settings: json.RawMessage(`{"input":"auto","rest_bars":2}`),
		Parts:    []report.PartRow{{File: "01 Flute.musicxml", SHA256: report.Sum([]byte("flute")), Status: "written"}, {Status: "failed"}},
		Files:    map[string]string{"a.mxl": report.Sum([]byte("bundle"))}}
	for _, c := range []struct {
		name, why string
		change    func(dir string, want *report.Manifest) error
		done      bool
	}{
		{"nothing changed", "nothing to do", func(string, *report.Manifest) error { return nil }, true},
		{"settings in other words", "white space is no setting", func(_ string, m *report.Manifest) error {
			m.Settings = json.RawMessage("{\n \"input\": \"auto\",\n \"rest_bars\": 2}")
			return nil
		}, true},
		{"another source", "other bytes", func(_ string, m *report.Manifest) error { m.Source.SHA256 = "t"; return nil }, false},
		{"another path", "another score by that name", func(_ string, m *report.Manifest) error { m.Source.Path = "A.mxl"; return nil }, false},
		{"other settings", "other parts", func(_ string, m *report.Manifest) error {
			m.Settings = json.RawMessage(`{"input":"concert"}`)
			return nil
		}, false},
		{"another version", "may write other bytes", func(_ string, m *report.Manifest) error { m.Version = "2"; return nil }, false},
		{"part missing", "is written again", func(dir string, _ *report.Manifest) error { return os.Remove(filepath.Join(dir, "01 Flute.musicxml")) }, false},
		{"part changed", "is written again", func(dir string, _ *report.Manifest) error {
			return os.WriteFile(filepath.Join(dir, "01 Flute.musicxml"), []byte("Flute"), 0o666)
		}, false},
		{"bundle changed", "is written again", func(dir string, _ *report.Manifest) error {
			return os.WriteFile(filepath.Join(dir, "a.mxl"), nil, 0o666)
		}, false},
		{"no manifest", "nothing is known", func(dir string, _ *report.Manifest) error { return os.Remove(filepath.Join(dir, "manifest.json")) }, false},
		{"manifest cut short", "nothing is known", func(dir string, _ *report.Manifest) error {
			return os.Truncate(filepath.Join(dir, "manifest.json"), 30)
		}, false},
	} {
		for name, quick := range map[string]*report.QuickSums{c.name: nil, c.name + ", by quick sums": {Source: "q", Files: map[string]string{
			"01 Flute.musicxml": report.QuickSum([]byte("flute")), "a.mxl": report.QuickSum([]byte("bundle"))}}} {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				dir, made := t.TempDir(), made
				made.Quick = quick
				data, err := report.JSON(made)
				require.NoError(t, err)
				lay(t, dir, map[string]string{"manifest.json": string(data), "01 Flute.musicxml": "flute", "a.mxl": "bundle"})
				want := made
				want.Parts, want.Files = nil, nil
				require.NoError(t, c.change(dir, &want))
				have, _ := ReadManifest(dir)
				assert.Equal(t, c.done, NewOutput(trial).UpToDate(dir, have, want), c.why)
			})
		}
	}
}

// A manifest from elsewhere must not make us read what is elsewhere.
func TestManifestStaysInItsFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	m := report.Manifest{Files: map[string]string{"../x": report.Sum(nil)}}
	data, err := report.JSON(m)
	require.NoError(t, err)
	lay(t, dir, map[string]string{"f/manifest.json": string(data), "x": ""})
	assert.False(t, NewOutput(trial).UpToDate(filepath.Join(dir, "f"), &m, m))
}
