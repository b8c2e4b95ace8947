package licences

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the notices anew")

// systems are those that the program is built for; some libraries are linked on one alone.
var systems = []string{"linux/amd64", "darwin/arm64", "windows/amd64", "js/wasm"}

// TestNotices holds the notices against what the compiler links.
func TestNotices(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("deskpart links and embeds these works. Each stands under its own licence, as follows.\n")
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	works := map[string]string{"The Go programming language, its library and wasm_exec.js": filepath.Join(strings.TrimSpace(string(root)), "LICENSE"),
		"The fonts Noto Music, Noto Serif and Desk Serif (made from Liberation Serif)": "../../../musicxml/engraving/fonts/OFL.txt",
		"fzstd (in the page)": "../../deskpage/kept/fzstd-LICENSE.txt"}
	for _, system := range systems {
		for path, dir := range linked(t, system) {
			works[path] = licenceFile(t, dir)
		}
	}
	for _, work := range slices.Sorted(maps.Keys(works)) {
		text, err := os.ReadFile(works[work])
		require.NoError(t, err)
		b.WriteString("\n" + strings.Repeat("=", 80) + "\n" + work + "\n" + strings.Repeat("=", 80) + "\n\n")
		b.WriteString(strings.TrimSpace(strings.ReplaceAll(string(text), "\r", "")) + "\n")
	}
	if *update {
		require.NoError(t, os.WriteFile("THIRD-PARTY.txt", []byte(b.String()), 0o666))
		return
	}
	assert.Equal(t, b.String(), Notices, "go test ./cmd/internal/licences -update writes them anew")
}

// linked maps the modules that the commands link on a system to their folders.
func linked(t *testing.T, system string) map[string]string {
	t.Helper()
	list := exec.Command("go", "list", "-deps", "-json=Module", "deskpart/cmd/deskpart")
	goos, goarch, _ := strings.Cut(system, "/")
	list.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
	out, err := list.Output()
	require.NoError(t, err)
	modules := map[string]string{}
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			Module *struct {
				Path, Dir string
				Main      bool
			}
		}
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			return modules
		} else {
			require.NoError(t, err)
		}
		if p.Module != nil && !p.Module.Main {
			modules[p.Module.Path] = p.Module.Dir
		}
	}
}

func licenceFile(t *testing.T, dir string) string {
	t.Helper()
	for _, pattern := range []string{"LICENSE*", "LICENCE*", "COPYING*", "License*"} {
		if found, _ := filepath.Glob(filepath.Join(dir, pattern)); len(found) > 0 {
			return found[0]
		}
	}
	require.Fail(t, "no licence", dir)
	return ""
}
