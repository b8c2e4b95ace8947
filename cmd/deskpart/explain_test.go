package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/musicxmltest"
)

// explained is the contract's JSON of explain.
type explained struct {
	Instrument string
	From       string
	Interval   string
	Direction  string
	Key        *int
	AnswerKey  *int `json:"answer_key"`
	Notes      []string
	Answer     []string
	Steps      []struct{ About, Text string }
}

// explainJSON runs the command as a user does.
func explainJSON(t *testing.T, args ...string) explained {
	t.Helper()
	var out, errs bytes.Buffer
	code := execute(context.Background(), append([]string{"explain", "--json"}, args...), &report.Streams{Out: &out, Err: &errs})
	require.Equal(t, exitDone, code, errs.String())
	var e explained
	require.NoError(t, json.Unmarshal(out.Bytes(), &e))
	return e
}

func readCSV(t *testing.T, path string) [][]string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	return rows[1:]
}

// TestExplainWorkedExamples holds explain against every melody and key that is
// published in both notations (../shared/trade/worked-examples.csv, each with its
// source there).
func TestExplainWorkedExamples(t *testing.T) {
	t.Parallel()
	rows := readCSV(t, filepath.Join(musicxmltest.SharedDir(t), "trade", "worked-examples.csv"))
	ids := map[string]string{}
	for _, row := range readCSV(t, filepath.Join(musicxmltest.ProjectRoot(t), "instruments", "testdata", "transpositions.csv")) {
		ids[row[0]] = row[1]
	}
	for _, row := range rows {
		id, from, instrument, key, melody, wantKey, wantMelody := row[0], row[1], row[2], row[3], row[4], row[5], row[6]
		t.Run(id, func(t *testing.T) {
			t.Parallel()
			words, plain := strings.CutPrefix(instrument, "(no instrument: plain transposition) ")
			if !plain {
				require.Contains(t, ids, instrument, "the catalogue has no such row")
				words = ids[instrument]
			}
			args := []string{words, "--from", from}
			if key != "" {
				args = append(args, "--key", key)
			}
			if melody != "" {
				args = append(args, "--notes", melody)
			}
			got := explainJSON(t, args...)
			assert.Equal(t, strings.Fields(melody), append([]string{}, got.Notes...))
			assert.Equal(t, strings.Fields(wantMelody), append([]string{}, got.Answer...))
			if wantKey == "" {
				assert.Nil(t, got.AnswerKey)
				return
			}
			want, err := strconv.Atoi(wantKey)
			require.NoError(t, err)
			require.NotNil(t, got.AnswerKey)
			assert.Equal(t, want, *got.AnswerKey)
		})
	}
}

// TestExplainNames finds the instruments of the worked examples by the words that
// a teacher types.
func TestExplainNames(t *testing.T) {
	t.Parallel()
	for id, words := range map[string][]string{
		"horn-f":               {"horn in F", "Horn"},
		"clarinet-bflat":       {"clarinet in Bb"},
		"clarinet-a":           {"Klarinette in A"}, // another language
		"alto-saxophone-eflat": {"alto saxophone"},  // its key goes without saying
		"trumpet-bflat":        {"trumpet-bflat"},
		"double-bass":          {"double bass"},
	} {
		for _, words := range words {
			assert.Equal(t, id, explainJSON(t, words, "--notes", "C4").Instrument, words)
		}
	}
}
