package main

import (
	"crypto/sha256"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files/bagtest"
	"deskpart/musicxml/musicxmltest"
)

// killsVariable sets how many kills the tests of killed runs do of each command; the default
// is short, for every test run, and allKills where whole corpora are tried.
const killsVariable, defaultKills, allKills = "DESKPART_KILLS", 6, 24

func kills(t *testing.T) int {
	t.Helper()
	if text := os.Getenv(killsVariable); text != "" {
		n, err := strconv.Atoi(text)
		require.NoError(t, err)
		return n
	}
	if os.Getenv("DESKPART_EVERY_SCORE") == "1" {
		return allKills
	}
	return defaultKills
}

// process is the program as a process of its own: this test binary, which runs
// the command when it is called deskpart (see TestMain).
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	musicxmltest.HeedSignals()
	exe, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(exe)
	cmd.Args = append([]string{"deskpart"}, args...)
	return cmd
}

// contents maps every file below a folder to the sum of its bytes.
func contents(t *testing.T, dir string) map[string][32]byte {
	t.Helper()
	sums := map[string][32]byte{}
	if _, err := os.Stat(dir); err != nil {
		return sums
	}
	require.NoError(t, filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if os.IsNotExist(err) { // a running process's
			return nil
		}
		rel, _ := filepath.Rel(dir, path)
		sums[rel] = sha256.Sum256(data)
		return err
	}))
	return sums
}

// TestKilledRunsEndAlike kills runs at random moments, starts them again, and
// compares with a run that was not killed: the same files, byte for byte, and no
// stray ones. A bag is valid by the standard alone.
func TestKilledRunsEndAlike(t *testing.T) {
	if testing.Short() {
		t.Skip("what is left of a killed run is for the pass without the race detector")
	}
	scores := musicxmltest.SharedSample(t, []string{"scores/songs/*.mxl", "scores/written/[HS]*.mxl"}, []string{"scores/songs/*.mxl", "scores/written/*.mxl"})
	for _, c := range []struct {
		name string
		args []string
		bag  bool
	}{
		{"parts", slices.Concat([]string{"extract"}, scores), false},
		{"bag", slices.Concat([]string{"convert", "--to", "concert", "--bag"}, scores), true},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := func(out string, more ...string) []string {
				return slices.Concat(c.args, []string{"--out", out}, more)
			}
			whole := filepath.Join(t.TempDir(), "whole")
			begin := time.Now()
			require.NoError(t, process(t, args(whole, "--quiet")...).Run())
			usual := time.Since(begin)
			want := contents(t, whole)
			random := rand.New(rand.NewPCG(7, 11)) // which moments are struck still depends on the machine
			for done := 0; done < kills(t); {
				out := filepath.Join(t.TempDir(), "killed")
				for range 3 {
					run := process(t, args(out, "--quiet")...)
					require.NoError(t, run.Start())
					time.Sleep(time.Duration(random.Int64N(int64(usual))))
					_ = run.Process.Kill()
					_ = run.Wait()
					if !run.ProcessState.Exited() { // it was struck down before its end
						done++
					}
				}
				require.NoError(t, process(t, args(out, "--quiet")...).Run())
				assert.Equal(t, want, contents(t, out))
				if c.bag {
					assert.Empty(t, bagtest.Faults(t, out))
				}
				report, err := process(t, args(out, "--json")...).Output()
				require.NoError(t, err)
				assert.Contains(t, string(report), `"written": 0`, "a second run writes nothing")
			}
		})
	}
}

// TestSignalsStopInGoodOrder: a signal ends a run promptly, with the status that shells
// count it by, one line, also under --quiet, and nothing half written.
func TestSignalsStopInGoodOrder(t *testing.T) {
	scores := filepath.Join(musicxmltest.SharedDir(t), "scores")
	for _, c := range []struct {
		signal syscall.Signal
		want   int
		said   string
		args   []string
	}{
		{syscall.SIGINT, 130, "deskpart: stopped by Ctrl-C before the end; run it again to go on\n", []string{"extract", scores}},
		{syscall.SIGINT, 130, "deskpart: stopped by Ctrl-C before the end; run it again to go on\n", []string{"extract", scores, "--quiet"}},
		{syscall.SIGTERM, 143, "deskpart: stopped by SIGTERM before the end; run it again to go on\n", []string{"convert", scores, "--to", "concert", "--quiet"}},
		{syscall.SIGHUP, 129, "deskpart: stopped because the terminal was closed before the end; run it again to go on\n", []string{"convert", scores, "--to", "concert", "--bag", "--quiet"}},
	} {
		t.Run(strings.Join(c.args, " ")+c.signal.String(), func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			run := process(t, append(c.args, "--out", out, "--jobs", "1")...)
			var said strings.Builder
			run.Stderr = &said
			require.NoError(t, run.Start())
			require.Eventually(t, func() bool { // until something has been written
				return len(contents(t, out)) > 1
			}, 30*time.Second, time.Millisecond)
			require.NoError(t, run.Process.Signal(c.signal))
			run.Wait()
			assert.Equal(t, c.want, run.ProcessState.ExitCode())
			assert.True(t, strings.HasSuffix(said.String(), c.said), said.String())
			for name := range contents(t, out) {
				assert.NotContains(t, name, ".tmp", "half written")
			}
		})
	}
}

// TestSignalsReachWhoWorksAlone: commands that work through no shelf stop at the first
// signal as well.
func TestSignalsReachWhoWorksAlone(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	run := process(t, "exercise", "--count", "100", "--versions", "26", "--level", "5", "--out", out)
	require.NoError(t, run.Start())
	time.Sleep(time.Second / 5)
	require.NoError(t, run.Process.Signal(os.Interrupt))
	run.Wait()
	status := run.ProcessState.ExitCode()
	if ended, ok := run.ProcessState.Sys().(syscall.WaitStatus); ok && ended.Signaled() {
		status = 128 + int(ended.Signal()) // a busy machine: before the program had begun
	}
	assert.Equal(t, 130, status)
	assert.NoDirExists(t, out)
}
