package partstest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Survey surveys a score with the catalogue of all instruments.
func Survey(t testing.TB, score *musicxml.Score, o parts.Options) *parts.Surveyed {
	t.Helper()
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
	require.NoError(t, err)
	return surveyed
}

// Job surveys a score and says which part files there will be.
func Job(t testing.TB, score *musicxml.Score, o parts.Options) *parts.Job {
	t.Helper()
	job, err := Survey(t, score, o).Assign()
	require.NoError(t, err)
	return job
}
