package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// TestExtractedAgain extracts the parts of shared scores, and each part file once more:
// it is the same.
func TestExtractedAgain(t *testing.T) {
	few := []string{"scores/songs/[1-3]_*.mxl", "scores/leadsheets/*.mxl", "scores/written/Haydn_104_1.mxl", "scores/written/Brahms_Op.98_4.mxl",
		"testsuite/xmlFiles/[0-4]*.xml"}
	musicxmltest.EachFile(t, musicxmltest.SharedSample(t, few, every), func(t *testing.T, path string) {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			t.Skip(err)
		}
		for i, first := range partFiles(t, score) {
			part, err := musicxml.Read(first, musicxml.ReadOptions{})
			require.NoError(t, err)
			again := partFiles(t, part)
			require.Len(t, again, 1)
			if string(first) != string(again[0]) {
				t.Errorf("part %d: %s", i+1, firstLineThatDiffers(string(first), string(again[0])))
			}
		}
	})
}

// partFiles extracts a score.
func partFiles(t *testing.T, score *musicxml.Score) [][]byte {
	t.Helper()
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), parts.DefaultOptions())
	if err != nil {
		t.Skip(err)
	}
	job, err := surveyed.Assign()
	require.NoError(t, err)
	var all [][]byte
	for i := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		all = append(all, []byte(string(sheet.Bytes(musicxml.NoteALine))))
	}
	return all
}

func firstLineThatDiffers(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range x {
		if i >= len(y) || x[i] != y[i] {
			return fmt.Sprintf("line %d: %q was %q", i+1, strings.Join(y[min(i, len(y)):min(i+3, len(y))], "|"), strings.Join(x[i:min(i+3, len(x))], "|"))
		}
	}
	return fmt.Sprintf("%d lines more", len(y)-len(x))
}
