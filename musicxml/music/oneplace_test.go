package music_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// elsewhere are the places outside this package that look into a <pitch> or at a <tie>
// by themselves, each with its reason.
var elsewhere = map[string]string{
	"musicxml/reading":          "the check on this package",
	"musicxml/audit/note.go":    "hands its <tie> on to Ties",
	"musicxml/parts/partstest":  "tests only",
	"musicxml/musicxmltest":     "tests only",
	"transpose/verify/align.go": "compares texts, whatever they mean",
}

// looks finds code that reads the children of <pitch> or the ends of ties.
var looks = regexp.MustCompile(`(?:musicxml\.(?:Child|ChildText|Children|Each|Descend)|\.SelectElements?)\([^()]*"(?:tie|step|display-step|octave|display-octave)"|case (?:"[^"]*", )*"(?:tie|step|display-step|display-octave)"`)

// What a note's pitch and its ties are is read here and nowhere else.
func TestANoteIsReadInOnePlace(t *testing.T) {
	t.Parallel()
	root := musicxmltest.ProjectRoot(t)
	files, here := 0, 0
	for _, top := range []string{"cmd", "musicxml", "transpose", "instruments", "examples"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files++
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			name, err := filepath.Rel(root, path)
			require.NoError(t, err)
			found := looks.FindString(string(text))
			switch name = filepath.ToSlash(name); {
			case found == "" || allowed(name):
			case strings.HasPrefix(name, "musicxml/music/"):
				here++
			default:
				assert.Fail(t, name+" reads a pitch or a tie by itself: "+found, "package music does it for all")
			}
			return nil
		})
		require.NoError(t, err)
	}
	assert.Greater(t, files, 300)
	assert.Positive(t, here, "the test finds what it looks for")
}

func allowed(name string) bool {
	for place := range elsewhere {
		if name == place || strings.HasPrefix(name, place+"/") {
			return true
		}
	}
	return false
}
