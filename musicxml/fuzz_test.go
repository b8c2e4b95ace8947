package musicxml

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"unicode/utf8"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// smallLimits keep a fuzzed input from taking long.
var smallLimits = Limits{InputBytes: 1 << 20, ExpandedBytes: 1 << 20, Entries: 100, Parts: 100, EntityBytes: 1 << 12}

// addSeeds gives a fuzz target all inputs of the tables and of testdata, and the
// test suite where it is at hand.
func addSeeds(f *testing.F) {
	f.Helper()
	for _, row := range wellFormed {
		f.Add([]byte(row.text))
	}
	for _, row := range malformed {
		f.Add([]byte(row.text))
	}
	own, err := filepath.Glob("testdata/*.*")
	require.NoError(f, err)
	require.NotEmpty(f, own)
	suite, err := filepath.Glob(filepath.Join(filepath.Dir(musicxmltest.ProjectRoot(f)), "shared/testsuite/xmlFiles/*"))
	require.NoError(f, err)
	for _, path := range append(own, suite...) {
		data, err := os.ReadFile(path)
		require.NoError(f, err)
		f.Add(data)
	}
}

// FuzzScan holds the scanner against etree: whatever it accepts, etree reads to
// the same tree.
func FuzzScan(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		if utf8.Valid(data) {
			compareWithEtree(t, string(data))
		}
	})
}

// FuzzRead reads anything as a score. What reads must be written and read to
// the same bytes again, from whatever form it came.
func FuzzRead(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		_, _ = ReadOpus(data, ReadOptions{Limits: smallLimits})
		first, err := readWrite(data, smallLimits)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		again, err := readWrite(first, smallLimits)
		require.NoError(t, err, "%q", first)
		require.Equal(t, string(first), string(again))
		checkTapes(t, data, smallLimits)
	})
}

// readWrite reads a score part by part and writes it whole.
func readWrite(data []byte, limits Limits) ([]byte, error) {
	s, err := Read(data, ReadOptions{Limits: limits})
	if err != nil {
		return nil, err
	}
	var parts []*etree.Element
	for i := range s.Parts {
		part, err := s.ReadPart(i, nil)
		if err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	return Append(nil, s.Assemble(parts), WriteOptions{Indent: 1}), nil
}

// TestReadWriteTwice is FuzzRead's property over all the shared scores.
func TestReadWriteTwice(t *testing.T) {
	t.Parallel()
	for _, path := range sharedScores(t) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		first, err := readWrite(data, Limits{})
		if refused(t, path, err) {
			continue
		}
		again, err := readWrite(first, Limits{})
		require.NoError(t, err)
		require.True(t, bytes.Equal(first, again), path)
	}
}

// FuzzTimeline lays the parts of anything that reads out in time. What it accepts
// is ordered: no note outside its bar, each bar beginning where the one before
// it ended.
func FuzzTimeline(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		score, err := Read(data, ReadOptions{Limits: smallLimits})
		if err != nil {
			return
		}
		var timeline Timeline // one for all parts: its memory is used again
		for i := range score.Parts {
			part, err := score.ReadPart(i, nil)
			if err != nil || timeline.LayOut(part) != nil {
				continue
			}
			var end Fraction
			for _, m := range timeline.Measures {
				require.Equal(t, end, m.Start)
				end = m.Start.Add(m.Length)
				for _, ev := range m.Events {
					require.True(t, ev.Onset.Valid() && ev.Duration.Valid())
					if ev.Kind == Note {
						require.GreaterOrEqual(t, ev.Onset.Sign(), 0)
						require.LessOrEqual(t, ev.Onset.Cmp(m.Length), 0)
					}
				}
			}
		}
	})
}
