package notice_test

import (
	"bytes"
	"encoding/csv"
	"go/ast"
	"go/constant"
	"go/types"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/go/packages"

	"deskpart/musicxml/notice"
)

// Every row can be printed as one line and followed: a sentence, and an order.
func TestTable(t *testing.T) {
	t.Parallel()
	seen := map[notice.Code]bool{}
	for i, n := range notice.All() {
		assert.Regexp(t, regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`), string(n.Code))
		assert.False(t, seen[n.Code], "%s stands twice", n.Code)
		seen[n.Code] = true
		assert.Contains(t, []notice.Kind{notice.Warning, notice.Refusal}, n.Kind, n.Code)
		for _, text := range []string{n.Meaning, n.Remedy} {
			assert.NotEmpty(t, text, n.Code)
			assert.False(t, strings.HasSuffix(text, ".") || strings.ContainsAny(text, "\n\t"), "%s: %q", n.Code, text)
			assert.Equal(t, strings.ToLower(text[:1]), text[:1], "%s: %q goes on a line", n.Code, text)
		}
		if i > 0 {
			last := notice.All()[i-1]
			assert.True(t, last.Kind > n.Kind || last.Kind == n.Kind && last.Code < n.Code, "%s stands behind %s", n.Code, last.Code)
		}
	}
}

// Rows stand in the order of the registry: what a notice means, what to do about it, and
// where that names a flag or another command, what to do on a page.
func TestRows(t *testing.T) {
	t.Parallel()
	table, err := notice.Files.ReadFile(notice.TableName)
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	require.NoError(t, err)
	english := map[string]string{}
	var keys []string
	for _, row := range rows[1:] {
		keys, english[row[0]] = append(keys, row[0]), row[1]
	}
	var wanted []string
	for _, n := range notice.All() {
		wanted = append(wanted, n.Key(), n.RemedyKey())
		if namesCommand(n.Remedy) {
			wanted = append(wanted, n.PageKey())
		} else if _, has := english[n.PageKey()]; has {
			wanted = append(wanted, n.PageKey())
		}
		assert.Equal(t, n.Remedy, english[n.RemedyKey()])
		assert.False(t, namesCommand(english[n.PageKey()]), n.PageKey())
	}
	assert.Equal(t, wanted, keys)
}

// namesCommand tells whether a text speaks to somebody at a command line.
func namesCommand(text string) bool {
	return strings.Contains(text, "--") || regexp.MustCompile(`\bdeskpart (help|survey|exercise)`).MatchString(text)
}

func TestLookup(t *testing.T) {
	t.Parallel()
	n, known := notice.Lookup(notice.AboveRange)
	assert.True(t, known)
	assert.Equal(t, notice.Code("above-range"), n.Code)
	assert.Equal(t, n.Remedy, notice.AboveRange.Remedy())
	_, known = notice.Lookup("no such code")
	assert.False(t, known)
	assert.Empty(t, notice.Code("no such code").Remedy())
}

// The whole program is read with its types: whatever is a Code there stands in the
// registry, and whatever stands in the registry is used there.
func TestEveryCodeIsRegisteredAndUsed(t *testing.T) {
	t.Parallel()
	used := map[string]bool{}
	for _, p := range wholeProgram(t) {
		if p.PkgPath == "deskpart/musicxml/notice" {
			continue
		}
		for expression, value := range p.TypesInfo.Types {
			if !isCode(value.Type) || value.Value == nil {
				continue
			}
			code := constant.StringVal(value.Value)
			used[code] = true
			if _, known := notice.Lookup(notice.Code(code)); !known && code != "" {
				t.Errorf("%s: the code %q does not stand in the registry", p.Fset.Position(expression.Pos()), code)
			}
			if call, converts := expression.(*ast.CallExpr); converts {
				t.Errorf("%s: a code is made here out of a text", p.Fset.Position(call.Pos()))
			}
		}
	}
	for _, n := range notice.All() {
		assert.True(t, used[string(n.Code)], "nothing says %s", n.Code)
	}
}

func wholeProgram(t *testing.T) []*packages.Package {
	t.Helper()
	loaded, err := packages.Load(&packages.Config{Mode: packages.NeedName | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo | packages.NeedFiles |
		packages.NeedImports | packages.NeedExportFile, Dir: "../.."}, "./musicxml/...", "./transpose/...", "./cmd/...")
	require.NoError(t, err)
	require.Greater(t, len(loaded), 20)
	for _, p := range loaded {
		require.Empty(t, p.Errors, p.PkgPath)
	}
	return loaded
}

func isCode(t types.Type) bool {
	named, is := t.(*types.Named)
	return is && named.Obj().Name() == "Code" && named.Obj().Pkg() != nil && named.Obj().Pkg().Path() == "deskpart/musicxml/notice"
}

func TestCounted(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "1 part", notice.Counted(1, "part", "parts"))
	assert.Equal(t, "0 parts", notice.Counted(0, "part", "parts"))
	assert.Equal(t, "2 parts", notice.Counted(2, "part", "parts"))
}
