package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// BenchmarkAgainstGeneralTool extracts the largest shared movement and has the
// general C library's tool parse and re-serialise the same file, by turns, each
// as a process of its own. It prints the ratio of the medians: below 1 is faster
// than the tool, which does less. .ci/benchmark compares with more peers, and
// memory too.
func BenchmarkAgainstGeneralTool(b *testing.B) {
	if _, err := exec.LookPath("xmllint"); err != nil {
		b.Skip("xmllint is not installed")
	}
	dir := b.TempDir()
	score := filepath.Join(dir, "score.musicxml")
	require.NoError(b, os.WriteFile(score, expanded(b, largestMovement(b)), 0o666))
	exe, err := os.Executable()
	require.NoError(b, err)
	var ours, theirs []time.Duration
	for b.Loop() {
		out := filepath.Join(dir, "parts")
		extract := exec.Command(exe)
		extract.Args = []string{"deskpart", "extract", score, "--out", out, "--quiet"}
		ours = append(ours, timed(b, extract))
		require.NoError(b, os.RemoveAll(out))
		theirs = append(theirs, timed(b, exec.Command("xmllint", "--output", filepath.Join(dir, "again.xml"), score)))
	}
	b.ReportMetric(median(ours).Seconds()/median(theirs).Seconds(), "ratio")
	b.ReportMetric(median(ours).Seconds()*1000, "ms/extract")
	b.ReportMetric(median(theirs).Seconds()*1000, "ms/xmllint")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkShelf extracts all shared scores, unpacked, inside this process, and converts,
// verifies and surveys them: its profile is what default.pgo is made of (see
// DEVELOPERS.md).
func BenchmarkShelf(b *testing.B) {
	shelf, out := b.TempDir(), b.TempDir()
	for i, path := range musicxmltest.SharedFiles(b, "scores/*/*.mxl") {
		name := fmt.Sprintf("%d %s.musicxml", i, filepath.Base(path))
		require.NoError(b, os.WriteFile(filepath.Join(shelf, name), expanded(b, path), 0o666))
	}
	streams := &report.Streams{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard}
	for b.Loop() {
		for _, args := range [][]string{{"extract", shelf, "--out", out}, {"verify", shelf}, {"convert", shelf, "--to", "concert", "--out", out}, {"survey", shelf}} {
			require.Equal(b, exitDone, execute(b.Context(), append(args, "--quiet"), streams), args[0])
			require.NoError(b, os.RemoveAll(out))
		}
	}
}

func timed(b *testing.B, cmd *exec.Cmd) time.Duration {
	b.Helper()
	begin := time.Now()
	out, err := cmd.CombinedOutput()
	require.NoError(b, err, string(out))
	return time.Since(begin)
}

func median(times []time.Duration) time.Duration {
	slices.Sort(times)
	return times[len(times)/2]
}

// largestMovement is the shared score with the most text in its parts.
func largestMovement(b *testing.B) string {
	b.Helper()
	largest, most := "", 0
	for _, path := range musicxmltest.SharedFiles(b, "scores/concert/*.mxl") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		require.NoError(b, err)
		size := 0
		for _, part := range score.Parts {
			size += part.Size()
		}
		if size > most {
			largest, most = path, size
		}
	}
	return largest
}

// expanded is a packed score as one plain document.
func expanded(b *testing.B, path string) []byte {
	b.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(b, err)
	parts := make([]*etree.Element, len(score.Parts))
	for i := range parts {
		parts[i], err = score.ReadPart(i, nil)
		require.NoError(b, err)
	}
	return musicxml.Append(nil, score.Assemble(parts), musicxml.WriteOptions{Indent: 2})
}
