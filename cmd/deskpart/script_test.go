package main

import (
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"deskpart/musicxml/musicxmltest"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"deskpart": main,
	})
}

// TestScripts runs the command as a user does: each script in testdata/script
// holds commands, input files and expected output, and runs in a folder of its
// own. $EXAMPLES is the project's examples folder.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("EXAMPLES", filepath.Join(musicxmltest.ProjectRoot(t), "examples"))
			return nil
		},
	})
}
