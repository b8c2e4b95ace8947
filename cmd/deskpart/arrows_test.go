package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	module  = "deskpart/"
	copyist = "musicxml/parts"
	trades  = copyist + "/internal/"
)

// TestArrowsPointDown holds every import of the project against the layers of
// DEVELOPERS.md ("Where things live"): a package uses packages of its own entry and of
// layers further down. One that has no entry belongs to the folder that it lies in.
func TestArrowsPointDown(t *testing.T) {
	t.Parallel()
	layer := map[string]int{}
	block, _, found := strings.Cut(section(t, "Where things live"), "\n```\n\n")
	require.True(t, found)
	_, block, found = strings.Cut(block, "```\n")
	require.True(t, found)
	for i, line := range strings.Split(block, "\n") {
		for _, name := range strings.Fields(line) {
			layer[name] = i
		}
	}
	entryOf := func(name string) string {
		for name != "." {
			if _, ok := layer[name]; ok {
				return name
			}
			name = path.Dir(name)
		}
		return ""
	}
	for name, imports := range packages(t) {
		entry := entryOf(name)
		if !assert.NotEmpty(t, entry, "%s stands in no layer", name) {
			continue
		}
		for _, used := range imports {
			if other := entryOf(used); other != entry {
				assert.Greater(t, layer[other], layer[entry], "%s uses %s, which stands no deeper", name, used)
			}
		}
	}
}

// testsOnly are packages that nobody imports but tests and generators.
var testsOnly = regexp.MustCompile(`test|/(pdfread|svgread|signgen)$`)

// TestEveryPackageHasAnExample: what an importer may use shows in a compiled example how.
func TestEveryPackageHasAnExample(t *testing.T) {
	t.Parallel()
	seen := 0
	for name := range packages(t) {
		if strings.HasPrefix(name, "cmd/") || strings.HasPrefix(name, "examples/") || strings.Contains(name, "internal/") || testsOnly.MatchString(name) {
			continue
		}
		seen++
		files, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(name), "*_test.go"))
		require.NoError(t, err)
		assert.True(t, slices.ContainsFunc(files, func(file string) bool {
			text, err := os.ReadFile(file)
			return err == nil && strings.Contains(string(text), "\nfunc Example")
		}), "%s has no example", name)
	}
	assert.Greater(t, seen, 25)
}

// TestPackagesOfTheCopyist holds the imports of the packages below musicxml/parts/internal
// against the table of DEVELOPERS.md ("The copyist"): each uses what the table says and
// nothing else, what it uses stands further down, and none knows the facade.
func TestPackagesOfTheCopyist(t *testing.T) {
	t.Parallel()
	var order []string
	uses := map[string][]string{}
	for _, row := range regexp.MustCompile("(?m)^\\| `(\\w+)` \\|[^|]*\\|([^|]*)\\|$").FindAllStringSubmatch(section(t, "The copyist"), -1) {
		order = append(order, row[1])
		for _, name := range regexp.MustCompile("`(\\w+)`").FindAllStringSubmatch(row[2], -1) {
			uses[row[1]] = append(uses[row[1]], name[1])
		}
	}
	rows := 0
	for path, imports := range packages(t) {
		name, ok := strings.CutPrefix(path, trades)
		if !ok {
			continue
		}
		rows++
		place := slices.Index(order, name)
		if !assert.GreaterOrEqual(t, place, 0, "the table has no row for %s", name) {
			continue
		}
		assert.NotContains(t, imports, copyist, "%s knows the facade", name)
		var used []string
		for _, path := range imports {
			if other, ok := strings.CutPrefix(path, trades); ok {
				used = append(used, other)
				assert.Greater(t, slices.Index(order, other), place, "%s uses %s, which stands above it", name, other)
			}
		}
		assert.Equal(t, uses[name], used, "what %s uses", name)
	}
	assert.Len(t, order, rows, "a row for every package")
}

// section is what DEVELOPERS.md says under a heading.
func section(t *testing.T, heading string) string {
	t.Helper()
	data, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, text, found := strings.Cut(string(data), "\n## "+heading+"\n")
	require.True(t, found)
	text, _, _ = strings.Cut(text, "\n## ")
	return text
}

// packages lists the packages of the project with those of the project that they use,
// tests left out, by their folders.
func packages(t *testing.T) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && file != root && (entry.Name() == "testdata" || strings.HasPrefix(entry.Name(), ".")) {
			return filepath.SkipDir
		}
		if entry.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(file))
		if err != nil {
			return err
		}
		name := filepath.ToSlash(folder)
		all[name] = append(all[name], []string{}...)
		for _, spec := range parsed.Imports {
			if used, ok := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), module); ok {
				all[name] = append(all[name], used)
			}
		}
		return nil
	})
	require.NoError(t, err)
	for name := range all {
		slices.Sort(all[name])
		all[name] = slices.Compact(all[name])
	}
	return all
}
