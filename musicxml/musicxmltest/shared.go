package musicxmltest

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"testing"
)

// requireShared is the environment variable under which a missing shared
// folder or a missing validator fails a test that would otherwise be skipped.
const requireShared = "DESKPART_REQUIRE_SHARED"

// SharedDir returns the folder of test material that lies beside the project
// (../shared from the project's root). The test is skipped where the folder is
// absent, or fails if DESKPART_REQUIRE_SHARED is 1.
func SharedDir(t testing.TB) string {
	t.Helper()
	root := ProjectRoot(t)
	dir := filepath.Join(filepath.Dir(root), "shared")
	if _, err := os.Stat(filepath.Join(dir, "contract.md")); err != nil {
		skipOrFail(t, "no shared test material at "+dir)
	}
	return dir
}

// ProjectRoot returns the folder that holds go.mod.
func ProjectRoot(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("no go.mod above the test's folder")
		}
		dir = parent
	}
}

// SharedFiles returns the files of the shared folder that match one of the
// patterns (filepath.Match, relative to the shared folder), sorted. No match at
// all is a failure: a glob that finds nothing tests nothing.
func SharedFiles(t testing.TB, patterns ...string) []string {
	t.Helper()
	dir := SharedDir(t)
	var files []string
	for _, pattern := range patterns {
		found, err := filepath.Glob(filepath.Join(dir, filepath.FromSlash(pattern)))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) == 0 {
		t.Fatalf("no shared file matches %q", patterns)
	}
	sort.Strings(files)
	return files
}

// Validate checks uncompressed MusicXML files against the W3C MusicXML 4.0
// schema with the shared folder's validator (xmllint, offline) and returns what
// it printed: nil error where every file is valid.
func Validate(t testing.TB, files ...string) (string, error) {
	t.Helper()
	validate := filepath.Join(SharedDir(t), "musicxml-4.0", "validate")
	if _, err := exec.LookPath("xmllint"); err != nil {
		skipOrFail(t, "xmllint is not installed")
	}
	out, err := exec.Command(validate, files...).CombinedOutput()
	return string(out), err
}

func skipOrFail(t testing.TB, why string) {
	t.Helper()
	if os.Getenv(requireShared) == "1" {
		t.Fatal(why)
	}
	t.Skip(why)
}

// EveryScore is the environment variable under which tests that take a spread of
// the shared scores take all of them.
const EveryScore = "DESKPART_EVERY_SCORE"

// largestOfSpread is the size in bytes, packed, up to which a score is part of the
// spread: all but the nine longest of the shared ones.
const largestOfSpread = 160_000

// SharedSample is SharedFiles of a few patterns, and under DESKPART_EVERY_SCORE=1 of all.
func SharedSample(t testing.TB, few, all []string) []string {
	t.Helper()
	if os.Getenv(EveryScore) == "1" {
		return SharedFiles(t, all...)
	}
	return SharedFiles(t, few...)
}

// EachFile runs a test for each file, under its name and beside the others.
func EachFile(t *testing.T, files []string, test func(t *testing.T, file string)) {
	t.Helper()
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			test(t, file)
		})
	}
}

// SharedSpread is SharedFiles without the longest scores, for tests that go
// through each score many times; under DESKPART_EVERY_SCORE=1 it is SharedFiles.
func SharedSpread(t testing.TB, patterns ...string) []string {
	t.Helper()
	files := SharedFiles(t, patterns...)
	if os.Getenv(EveryScore) != "" {
		return files
	}
	var spread []string
	for _, file := range files {
		if info, err := os.Stat(file); err == nil && info.Size() <= largestOfSpread {
			spread = append(spread, file)
		}
	}
	return spread
}

// Sweep is how wide a test sweeps over cases of its own making: a sample by default, the
// whole under DESKPART_EVERY_SCORE=1.
func Sweep[T any](sample, whole T) T {
	if os.Getenv(EveryScore) != "" {
		return whole
	}
	return sample
}

// SweepByTurns is a sample of rows for the nth case: count of them, others for the next, so
// that every row has its turn; all of them under DESKPART_EVERY_SCORE=1.
func SweepByTurns[T any](n, count int, rows []T) []T {
	count = Sweep(count, len(rows))
	turned := slices.Concat(rows, rows)
	from := n * count % len(rows)
	return turned[from : from+count]
}
