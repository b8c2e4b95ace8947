package parts_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const internalPath = "deskpart/musicxml/parts/internal/"

// TestPackagesPointDown holds the imports of the packages below internal against the
// table of DEVELOPERS.md ("The copyist"): each uses what the table says and nothing
// else, what it uses stands further down, and none knows the facade.
func TestPackagesPointDown(t *testing.T) {
	t.Parallel()
	order, uses := layoutOfTheCopyist(t)
	folders, err := os.ReadDir("internal")
	require.NoError(t, err)
	for _, folder := range folders {
		name := folder.Name()
		place := slices.Index(order, name)
		if !assert.GreaterOrEqual(t, place, 0, "the table has no row for %s", name) {
			continue
		}
		var used []string
		for _, path := range importsOf(t, filepath.Join("internal", name)) {
			assert.NotEqual(t, strings.TrimSuffix(internalPath, "/internal/"), path, "%s knows the facade", name)
			if other, ok := strings.CutPrefix(path, internalPath); ok {
				used = append(used, other)
				assert.Greater(t, slices.Index(order, other), place, "%s uses %s, which stands above it", name, other)
			}
		}
		assert.Equal(t, uses[name], used, "what %s uses", name)
	}
	assert.Len(t, folders, len(order), "a row for every package")
}

// layoutOfTheCopyist reads the table.
func layoutOfTheCopyist(t *testing.T) (order []string, uses map[string][]string) {
	t.Helper()
	data, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(data), "\n## The copyist\n")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "\n## ")
	uses = map[string][]string{}
	for _, row := range regexp.MustCompile("(?m)^\\| `(\\w+)` \\|[^|]*\\|([^|]*)\\|$").FindAllStringSubmatch(section, -1) {
		order = append(order, row[1])
		for _, name := range regexp.MustCompile("`(\\w+)`").FindAllStringSubmatch(row[2], -1) {
			uses[row[1]] = append(uses[row[1]], name[1])
		}
	}
	return order, uses
}

// importsOf lists what the files of a folder import, tests left out, in order.
func importsOf(t *testing.T, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	var paths []string
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range parsed.Imports {
			paths = append(paths, strings.Trim(spec.Path.Value, `"`))
		}
	}
	slices.Sort(paths)
	return slices.Compact(paths)
}
