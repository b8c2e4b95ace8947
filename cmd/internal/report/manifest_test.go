package report

import (
	"encoding/json"
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
