package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/musicxmltest"
)

// pastedLines are the command lines of a text: those that stand indented, and those in
// backticks.
var pastedLines = regexp.MustCompile("(?m)^    ((?:deskpart|go run \\./cmd/deskpart) .*)$|`((?:deskpart|go run \\./cmd/deskpart) [^`]+)`")

// TestPasted runs every command of the READMEs and of each command's help as somebody who
// pastes it, those of a page one after another, in a folder with the examples: each is
// done, and nothing needs a person.
func TestPasted(t *testing.T) {
	t.Parallel()
	root := musicxmltest.ProjectRoot(t)
	scripts := t.TempDir()
	write := func(name, text string) {
		script := "symlink examples -> $EXAMPLES\n"
		for _, found := range pastedLines.FindAllStringSubmatch(text, -1) {
			line := strings.Replace(found[1]+found[2], "go run ./cmd/deskpart", "deskpart", 1)
			if !strings.Contains(line, "fpath") && !strings.Contains(line, "~/") { // the shell's own folders
				script += "exec bash -c '" + strings.ReplaceAll(line, "'", "''") + "'\n"
			}
		}
		if name == "examples" { // examples/README.md says what the three pupils did
			script += "stdout '^Anna  +14/14 +9/9 '\nstdout '1 of 3: wrong direction'\nstdout '1 of 3: key signature'\nstdout 'copied without being moved'\n"
		}
		require.NoError(t, os.WriteFile(filepath.Join(scripts, name+".txtar"), []byte(script), 0o666))
	}
	for name, path := range map[string]string{"readme": "README.md", "examples": "examples/README.md", "developers": "DEVELOPERS.md"} {
		text, err := os.ReadFile(filepath.Join(root, path))
		require.NoError(t, err)
		write(name, string(text))
	}
	for _, cmd := range allCommands(newRootCmd(&program{streams: &report.Streams{}})) {
		if examples := cmd.Example; examples != "" {
			assert.Regexp(t, pastedLines, "\n"+examples, cmd.Name())
			write("help "+cmd.Name(), "\n"+examples)
		}
	}
	testscript.Run(t, testscript.Params{Dir: scripts, Setup: func(env *testscript.Env) error {
		env.Setenv("EXAMPLES", filepath.Join(root, "examples"))
		return nil
	}})
}
