package files

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// trial is a run that says nothing of how it makes files.
var trial = Making{Command: "trial", Version: "1"}

// lay writes files below dir.
func lay(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		at := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
		require.NoError(t, os.WriteFile(at, []byte(text), 0o666))
	}
}
