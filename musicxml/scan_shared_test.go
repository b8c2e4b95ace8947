package musicxml

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// brokenScores are the shared scores that are not XML (xmllint says so too).
var brokenScores = map[string]string{
	"32ad-Notations5.musicxml": "mismatched-tags", // its last measure is not ended
}

// refused reports whether an error is the one that a broken score must give.
func refused(t *testing.T, path string, err error) bool {
	t.Helper()
	code, broken := brokenScores[filepath.Base(path)]
	if !broken {
		require.NoError(t, err)
		return false
	}
	assert.EqualValues(t, code, ErrorCode(err))
	return true
}

// TestSharedScoresEqualEtree reads every score whole with the scanner and with
// etree, and writes every tree with the writer and with etree.
func TestSharedScoresEqualEtree(t *testing.T) {
	t.Parallel()
	for _, path := range sharedScores(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := scoreText(t, path)
			got, err := ParseDocument([]byte(text), ReadOptions{})
			if refused(t, path, err) {
				return
			}
			want, err := etreeRead(text, nil)
			require.NoError(t, err)
			sameTrees(t, &want.Element, &got.Element)
			bytesWanted, err := want.WriteToBytes()
			require.NoError(t, err)
			assert.True(t, plainReferences(bytesWanted) == plainReferences(Append(nil, got, WriteOptions{})), "written as etree writes it")
		})
	}
}

// TestSharedScoresInParts reads every score in parts, puts it together again and
// compares that with the whole.
func TestSharedScoresInParts(t *testing.T) {
	t.Parallel()
	var slabs Slabs
	for _, path := range sharedScores(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			s, err := ReadFile(path, ReadOptions{})
			require.NoError(t, err)
			for _, warning := range s.Warnings {
				t.Log(warning)
			}
			var parts []*etree.Element
			slabs.Reset()
			for i := range s.Parts {
				part, err := s.ReadPart(i, &slabs)
				if refused(t, path, err) {
					return
				}
				parts = append(parts, part)
			}
			whole, err := ParseDocument([]byte(scoreText(t, path)), ReadOptions{})
			require.NoError(t, err)
			if len(s.Warnings) > 0 {
				return // put right where the source is odd
			}
			declareUTF8(whole)
			got := s.Assemble(parts)
			sameTrees(t, &whole.Element, &got.Element)
			assert.True(t, bytes.Equal(Append(nil, whole, WriteOptions{Indent: 2}), Append(nil, got, WriteOptions{Indent: 2})))
		})
	}
}
