package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
)

// TestPages opens the program's pages in a real browser, one for all: no page may
// ask the network for anything or complain, and what it draws is read back.
func TestPages(t *testing.T) {
	browser := browsertest.Start(t)
	for _, group := range []struct {
		name string
		test func(*testing.T, *browsertest.Browser)
	}{
		{"proof of the examples", testProofOfExamples},
		{"proof of the test suite", testProofOfSuite},
		{"proof of real movements", testProofOfMovements},
		{"proof in use", testProofInUse},
		{"proof on every screen and paper", testProofEverywhere},
		{"lesson", testLessonPage},
		{"exercises", testExercisePages},
		{"sheets of topics", testTopicPages},
		{"lectures", testLecturePages},
		{"marked answers", testMarkedPages},
	} {
		t.Run(group.name, func(t *testing.T) { group.test(t, browser) })
	}
}

// written runs a command that writes a page and returns the page's path.
func written(t *testing.T, args ...string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "page.html")
	_, errs, code := command(t, append(args, "--out", out, "--quiet")...)
	require.NotEqual(t, exitCannotRun, code, errs)
	require.FileExists(t, out, errs)
	return out
}
