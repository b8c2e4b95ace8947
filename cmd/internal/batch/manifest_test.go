package batch

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

func TestJSON(t *testing.T) {
	t.Parallel()
	data, err := JSON(map[string]any{"b": "B♭ <&>", "a": []int{1}})
	require.NoError(t, err)
	assert.Equal(t, "{\n  \"a\": [\n    1\n  ],\n  \"b\": \"B♭ <&>\"\n}\n", string(data), "sorted, letters as they are, one line end")
	_, err = JSON(func() {})
	assert.Error(t, err)
}

// The keys are the contract's.
func TestManifestKeys(t *testing.T) {
	t.Parallel()
	data, err := JSON(Manifest{Tool: "deskpart", Settings: json.RawMessage(`{"input":"auto"}`),
		Parts: []PartRow{{Warnings: []musicxml.Warning{{Code: "above-range", Measure: "12", Beat: "1", Text: "too high"}}}}})
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(data, &got))
	assert.ElementsMatch(t, []string{"tool", "version", "source", "settings", "parts"}, keys(got))
	assert.ElementsMatch(t, []string{"path", "sha256", "title", "pitch"}, keys(got["source"]))
	row := got["parts"].([]any)[0]
	assert.ElementsMatch(t, []string{"source_part", "source_name", "label", "instrument", "recognised_by", "transpose", "moved",
		"file", "sha256", "measures", "notes", "respelled", "status", "warnings"}, keys(row))
	assert.ElementsMatch(t, []string{"diatonic", "chromatic", "octave_change"}, keys(row.(map[string]any)["transpose"]))
	assert.ElementsMatch(t, []string{"diatonic", "chromatic"}, keys(row.(map[string]any)["moved"]))
	assert.ElementsMatch(t, []string{"code", "measure", "beat", "text"}, keys(row.(map[string]any)["warnings"].([]any)[0]))
}

func keys(value any) []string {
	var all []string
	for key := range value.(map[string]any) {
		all = append(all, key)
	}
	return all
}

func TestUpToDate(t *testing.T) {
	t.Parallel()
	made := Manifest{Tool: "deskpart", Version: "1", Source: Source{Path: "a.mxl", SHA256: "s", Title: "T"},
		Settings: json.RawMessage(`{"input":"auto","rest_bars":2}`),
		Parts:    []PartRow{{File: "01 Flute.musicxml", SHA256: Sum([]byte("flute")), Status: "written"}, {Status: "failed"}},
		Files:    map[string]string{"a.mxl": Sum([]byte("bundle"))}}
	for _, c := range []struct {
		name, why string
		change    func(dir string, want *Manifest) error
		done      bool
	}{
		{"nothing changed", "nothing to do", func(string, *Manifest) error { return nil }, true},
		{"settings in other words", "white space is no setting", func(_ string, m *Manifest) error {
			m.Settings = json.RawMessage("{\n \"input\": \"auto\",\n \"rest_bars\": 2}")
			return nil
		}, true},
		{"another source", "other bytes", func(_ string, m *Manifest) error { m.Source.SHA256 = "t"; return nil }, false},
		{"another path", "another score by that name", func(_ string, m *Manifest) error { m.Source.Path = "A.mxl"; return nil }, false},
		{"other settings", "other parts", func(_ string, m *Manifest) error {
			m.Settings = json.RawMessage(`{"input":"concert"}`)
			return nil
		}, false},
		{"another version", "may write other bytes", func(_ string, m *Manifest) error { m.Version = "2"; return nil }, false},
		{"part missing", "is written again", func(dir string, _ *Manifest) error { return os.Remove(filepath.Join(dir, "01 Flute.musicxml")) }, false},
		{"part changed", "is written again", func(dir string, _ *Manifest) error {
			return os.WriteFile(filepath.Join(dir, "01 Flute.musicxml"), []byte("Flute"), 0o666)
		}, false},
		{"bundle changed", "is written again", func(dir string, _ *Manifest) error {
			return os.WriteFile(filepath.Join(dir, "a.mxl"), nil, 0o666)
		}, false},
		{"no manifest", "nothing is known", func(dir string, _ *Manifest) error { return os.Remove(filepath.Join(dir, "manifest.json")) }, false},
		{"manifest cut short", "nothing is known", func(dir string, _ *Manifest) error {
			return os.Truncate(filepath.Join(dir, "manifest.json"), 30)
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			data, err := JSON(made)
			require.NoError(t, err)
			lay(t, dir, map[string]string{"manifest.json": string(data), "01 Flute.musicxml": "flute", "a.mxl": "bundle"})
			want := made
			want.Parts, want.Files = nil, nil
			require.NoError(t, c.change(dir, &want))
			have, done := UpToDate(dir, want)
			assert.Equal(t, c.done, done, c.why)
			if c.done {
				assert.Equal(t, made.Parts, have.Parts, "with the rows, to say again what needs a person")
			}
		})
	}
}

// A manifest from elsewhere must not make us read what is elsewhere.
func TestManifestStaysInItsFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	m := Manifest{Files: map[string]string{"../x": Sum(nil)}}
	data, err := JSON(m)
	require.NoError(t, err)
	lay(t, dir, map[string]string{"f/manifest.json": string(data), "x": ""})
	_, done := UpToDate(filepath.Join(dir, "f"), m)
	assert.False(t, done)
}
