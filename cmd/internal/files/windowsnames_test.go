package files

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Names out of "Naming Files, Paths, and Namespaces" in the documentation of Windows, and
// their neighbours that are allowed.
func TestRefusedByWindows(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]string{
		"parts/NUL": "NUL", "con": "con", `a\aux.txt\b`: "aux.txt", "LPT1.csv": "LPT1.csv", "com¹": "com¹", "nul .txt": "nul .txt",
		"tail.": "tail.", "tail ": "tail ", "q?": "q?", "a:b": "a:b", "<x>": "<x>", "tab\t": "tab\t",
		"console": "", "nulls.csv": "", "com10": "", "a.b": "", "..": "", "./parts": "", `..\Größe\Öl ♭`: "", "": "", ".hidden": "",
	} {
		assert.Equal(t, want, refusedByWindows(path), path)
	}
	for name := range map[string]bool{"CON": true, "Aux.1": true, "tail. ": true, "a:b?*": true, "NUL .xml": true} {
		assert.Empty(t, refusedByWindows(NameStyle{}.Safe(name)), "what is made of %q is a name everywhere", name)
	}
}
