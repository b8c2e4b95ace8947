package main

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

// coverageDocument says where each row of the standard is treated.
const coverageDocument = "musicxml/parts/COVERAGE.md"

// roomsOfCoverage are the folders in which the document's files stand.
var roomsOfCoverage = []string{"musicxml/parts/internal", "musicxml/parts", "musicxml/parts/internal/divisi", "."}

// TestCoverageDocument: the document has the row of every file of testdata/coverage, in
// order, with its elements and what becomes of them; the files, functions and tests that
// it names are there.
func TestCoverageDocument(t *testing.T) {
	root := musicxmltest.ProjectRoot(t)
	data, err := os.ReadFile(filepath.Join(root, coverageDocument))
	require.NoError(t, err)
	document := string(data)
	assert.Equal(t, rowsOfTestdata(t, root), rowsOfDocument(t, document))

	tests := testsOf(t, root)
	for _, name := range regexp.MustCompile("`(Test\\w+)`").FindAllStringSubmatch(document, -1) {
		assert.True(t, tests[name[1]], "no test is called %s", name[1])
	}
	for _, named := range regexp.MustCompile("`([\\w./]+\\.(?:go|csv))`(?: `(\\w+)`)?").FindAllStringSubmatch(document, -1) {
		text, found := fileOfCoverage(root, named[1])
		assert.True(t, found, "there is no %s", named[1])
		assert.Contains(t, text, named[2], "%s has no %s", named[1], named[2])
	}
}

// rowsOfTestdata are the numbers and elements of the small scores.
func rowsOfTestdata(t *testing.T, root string) (rows []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root, coverageDir, "*.musicxml"))
	require.NoError(t, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		elements := regexp.MustCompile(`<!--\s*(.*)`).FindStringSubmatch(string(data))
		require.NotNil(t, elements, file)
		rows = append(rows, filepath.Base(file)[:3]+" "+strings.ReplaceAll(elements[1], "`", ""))
	}
	return rows
}

// rowsOfDocument are the same of the document, each of which says something.
func rowsOfDocument(t *testing.T, document string) (rows []string) {
	t.Helper()
	for _, row := range regexp.MustCompile(`(?m)^\| (\d{3}) \| (.+?) \| (.*?) \| (.*?) \| .*\|$`).FindAllStringSubmatch(document, -1) {
		rows = append(rows, row[1]+" "+row[2])
		assert.NotEmpty(t, row[3], "row %s says what becomes of it", row[1])
		assert.NotEmpty(t, row[4], "row %s says where", row[1])
	}
	return rows
}

// testsOf lists the tests of the whole project by name.
func testsOf(t *testing.T, root string) map[string]bool {
	t.Helper()
	tests := map[string]bool{}
	declared := regexp.MustCompile(`(?m)^func (Test\w+)\(`)
	require.NoError(t, filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		data, err := os.ReadFile(path)
		for _, name := range declared.FindAllStringSubmatch(string(data), -1) {
			tests[name[1]] = true
		}
		return err
	}))
	return tests
}

// fileOfCoverage reads a file that the document names.
func fileOfCoverage(root, name string) (text string, found bool) {
	for _, room := range roomsOfCoverage {
		if data, err := os.ReadFile(filepath.Join(root, room, name)); err == nil {
			return string(data), true
		}
	}
	return "", false
}
