// Package cluster_test runs the scripts of this folder on the examples and holds
// what they write against a single run.
package cluster_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

func TestMain(m *testing.M) { musicxmltest.Main(m) }

// shelf is a built deskpart, some folders of scores, and what a single run writes.
type shelf struct {
	program, scores string
	single          map[string]string
}

func newShelf(t *testing.T) shelf {
	t.Helper()
	dir := t.TempDir()
	s := shelf{program: musicxmltest.Program(t), scores: filepath.Join(dir, "scores")}
	for _, folder := range []string{"north", "south", "east"} {
		require.NoError(t, os.MkdirAll(filepath.Join(s.scores, folder), 0o777))
		scores, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
		require.NoError(t, err)
		require.NotEmpty(t, scores)
		for _, score := range scores {
			data, err := os.ReadFile(score)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(s.scores, folder, filepath.Base(score)), data, 0o666))
		}
	}
	single := filepath.Join(dir, "single")
	s.run(t, exec.Command(s.program, "extract", s.scores, "--out", single, "--quiet"))
	s.single = musicxmltest.Contents(t, single)
	require.NotEmpty(t, s.single)
	return s
}

// run accepts exit status 1, which says that a person should look at something.
func (s shelf) run(t *testing.T, command *exec.Cmd) {
	t.Helper()
	command.Env = append(os.Environ(), "DESKPART="+s.program)
	out, err := command.CombinedOutput()
	if command.ProcessState == nil || command.ProcessState.ExitCode() > 1 {
		require.NoError(t, err, string(out))
	}
}

// need skips the test where a tool is not installed, or fails it in CI.
func need(t *testing.T, tools ...string) {
	t.Helper()
	for _, tool := range tools {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("DESKPART_REQUIRE_SHARED") == "1" {
				t.Fatalf("%s is not installed", tool)
			}
			t.Skipf("%s is not installed", tool)
		}
	}
}

func TestSlurm(t *testing.T) {
	t.Parallel() // its daemons are waited for
	need(t, "bash", "sbatch", "munged")
	s := newShelf(t)
	try := exec.Command("./try-slurm.sh", s.scores)
	try.Env = append(os.Environ(), "DESKPART="+s.program)
	out, err := try.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Contains(t, string(out), fmt.Sprintf("equal: %d files in 4 slices", len(s.single)))
}

func TestGNUParallel(t *testing.T) {
	t.Parallel()
	need(t, "bash", "parallel")
	s := newShelf(t)
	out := filepath.Join(t.TempDir(), "it's \"parts\" of $HOME") // names that a shell could misread
	script := exec.Command("./gnu-parallel.sh", "3", s.scores, out, "--quiet")
	script.Env = append(os.Environ(), "DESKPART="+s.program)
	said, _ := script.CombinedOutput() // its exit status counts the slices that need a person
	require.LessOrEqual(t, script.ProcessState.ExitCode(), 3, string(said))
	assert.Equal(t, s.single, musicxmltest.Contents(t, out), string(said))
}

// The command of the Kubernetes manifest, run as each of its pods would.
func TestKubernetesCommand(t *testing.T) {
	t.Parallel()
	need(t, "sh")
	s := newShelf(t)
	manifest, err := os.ReadFile("kubernetes-job.yaml")
	require.NoError(t, err)
	found := func(pattern string) string {
		match := regexp.MustCompile(pattern).FindSubmatch(manifest)
		require.NotNil(t, match, pattern)
		return string(match[1])
	}
	completions, err := strconv.Atoi(found(`completions: (\d+)`))
	require.NoError(t, err)
	slices := found(`name: SLICES\n +value: "(\d+)"`)
	assert.Equal(t, slices, strconv.Itoa(completions), "a slice for each pod")
	out := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(s.scores, "broken.musicxml"), []byte("<score-partwise>&"), 0o666))
	var rejected []string
	for index := range completions {
		line := regexp.MustCompile(`/scores|/parts|deskpart `).ReplaceAllStringFunc(found(`- \|\n((?: {14}.*\n)+)`), func(word string) string {
			return map[string]string{"/scores": s.scores, "/parts": out, "deskpart ": s.program + " "}[word]
		})
		pod := exec.Command("sh", "-c", line)
		pod.Env = append(os.Environ(), "SLICES="+slices, "JOB_COMPLETION_INDEX="+strconv.Itoa(index))
		said, err := pod.Output()
		require.NoError(t, err, "a refused score is a finished job")
		var report struct {
			Rejected []struct{ Input, Code, Text string }
		}
		require.NoError(t, json.Unmarshal(said, &report), string(said))
		for _, r := range report.Rejected {
			rejected = append(rejected, filepath.Base(r.Input)+" "+r.Code)
		}
	}
	assert.Equal(t, s.single, musicxmltest.Contents(t, out))
	assert.Equal(t, []string{"broken.musicxml truncated"}, rejected, "the report names it")
}
