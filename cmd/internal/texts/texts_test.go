package texts_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/texts"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// asked is what the program's source asks for.
type asked struct {
	// begins are the beginnings of keys of which a module of the page puts the end.
	begins []string
	// fills are the placeholders that each key is filled with; nil where the fill is
	// not written out there.
	fills map[string][]string
	kinds map[string]bool // of Pick and Has
	where map[string]string
}

// readSource finds every text that a file of the commands or pages asks for: calls
// of Say, Pick and Has, and the templates' say and pick.
func readSource(t *testing.T) *asked {
	t.Helper()
	a := &asked{fills: map[string][]string{}, kinds: map[string]bool{}, where: map[string]string{}}
	root := filepath.Join(musicxmltest.ProjectRoot(t), "cmd")
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir() || strings.HasSuffix(path, "_test.go"):
			return err
		case strings.HasSuffix(path, ".go"):
			a.goFile(t, path)
		case strings.HasSuffix(path, ".html"):
			a.template(t, path)
		}
		if strings.HasPrefix(path, filepath.Join(root, "deskpage")) {
			a.face(t, path)
		}
		return nil
	}))
	return a
}

func (a *asked) goFile(t *testing.T, path string) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, 0)
	require.NoError(t, err)
	ast.Inspect(file, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		selector, ok := call.Fun.(*ast.SelectorExpr)
		if !ok || len(call.Args) == 0 {
			return true
		}
		key, literal := textOf(call.Args[0])
		switch name := selector.Sel.Name; {
		case name == "Say" && len(call.Args) == 2 && literal:
			fill, known := fillOf(call.Args[1])
			if previous, again := a.fills[key]; again && known && previous != nil {
				assert.Equal(t, previous, fill, "%s is filled in two ways (%s)", key, set.Position(call.Pos()))
			}
			if known || a.fills[key] == nil {
				a.fills[key] = fill
			}
			a.where[key] = set.Position(call.Pos()).String()
		case name == "Pick" && len(call.Args) == 2 && literal:
			a.kinds[key] = true
		}
		return true
	})
}

func textOf(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// fillOf reads the names of a fill that is written out; an empty list for nil.
func fillOf(e ast.Expr) (names []string, known bool) {
	names = []string{}
	if ident, ok := e.(*ast.Ident); ok && ident.Name == "nil" {
		return names, true
	}
	lit, ok := e.(*ast.CompositeLit)
	if !ok {
		return nil, false
	}
	for _, element := range lit.Elts {
		pair, ok := element.(*ast.KeyValueExpr)
		if !ok {
			return nil, false
		}
		name, ok := textOf(pair.Key)
		if !ok {
			return nil, false
		}
		names = append(names, name)
	}
	slices.Sort(names)
	return names, true
}

var (
	sayInTemplate  = regexp.MustCompile(`\bsay "([^"]+)"([^}]*)`)
	nameInTemplate = regexp.MustCompile(`"([a-z]+)"`)
	pickInTemplate = regexp.MustCompile(`\bpick "([^"]+)"`)
)

func (a *asked) template(t *testing.T, path string) {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, m := range sayInTemplate.FindAllStringSubmatch(string(data), -1) {
		names := []string{}
		for _, n := range nameInTemplate.FindAllStringSubmatch(m[2], -1) {
			names = append(names, n[1])
		}
		slices.Sort(names)
		a.fills[m[1]], a.where[m[1]] = names, path
	}
	for _, m := range pickInTemplate.FindAllStringSubmatch(string(data), -1) {
		a.kinds[m[1]] = true
	}
}

var (
	keyInFace   = regexp.MustCompile(`"(page\.[a-z-]+)"`)
	beginInFace = regexp.MustCompile("`(page\\.[a-z-]+-)\\$")
)

// face reads a file of the page, whose texts are said by its own code: any text that
// is a key is one, whoever says it.
func (a *asked) face(t *testing.T, path string) {
	if ext := filepath.Ext(path); ext != ".js" && ext != ".html" {
		return
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, m := range keyInFace.FindAllStringSubmatch(string(data), -1) {
		if _, known := a.fills[m[1]]; !known {
			a.fills[m[1]], a.where[m[1]] = nil, path
		}
	}
	for _, m := range beginInFace.FindAllStringSubmatch(string(data), -1) {
		a.begins = append(a.begins, m[1])
	}
}

// TestEveryTextIsThereAndUsed holds the tables against the program: no text that is
// asked for is missing, none is there for nothing, and what is filled in is what
// every language has room for. (That the languages have the same placeholders, and
// none is empty, is checked when the tables are read.)
func TestEveryTextIsThereAndUsed(t *testing.T) {
	t.Parallel()
	table, err := texts.Table()
	require.NoError(t, err)
	a := readSource(t)
	require.Greater(t, len(a.fills), 60)
	for key, fill := range a.fills {
		if !assert.True(t, table.Has(key), "%s, asked for in %s, has no text", key, a.where[key]) || fill == nil {
			continue
		}
		want := table.Placeholders(key)
		if want == nil {
			want = []string{}
		}
		assert.Equal(t, want, fill, "the placeholders of %s, and what %s fills in", key, a.where[key])
	}
	kindUsed := map[string]bool{}
	for _, key := range table.Keys() {
		kind, _, _ := strings.Cut(key, ".")
		_, said := a.fills[key]
		picked := a.kinds[kind] && len(table.Placeholders(key)) == 0
		kindUsed[kind] = kindUsed[kind] || picked
		begun := slices.ContainsFunc(a.begins, func(begin string) bool { return strings.HasPrefix(key, begin) })
		assert.True(t, said || picked || begun, "%s is never asked for", key)
	}
	for kind := range a.kinds {
		assert.True(t, kindUsed[kind], "there is no text of the kind %s", kind)
	}
}

// TestEverythingIsSaidInEveryLanguage: no text is the English one left standing,
// but for short words that are the same.
func TestEverythingIsSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	table, err := texts.Table()
	require.NoError(t, err)
	saidInEveryLanguage(t, table)
	notices, err := texts.Notices()
	require.NoError(t, err)
	saidInEveryLanguage(t, notices)
}

func saidInEveryLanguage(t *testing.T, table *words.Table) {
	t.Helper()
	for _, key := range table.Keys() {
		english := table.In(pitch.English, key, nil)
		if len(strings.Fields(english)) < 4 {
			continue
		}
		for _, l := range pitch.Languages()[1:] {
			assert.NotEqual(t, english, table.In(l, key, nil), "%s in %s", key, l)
		}
	}
}

// TestInstrumentsInSentences: names within a sentence have the capitals that their
// language gives them.
func TestInstrumentsInSentences(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range []struct {
		language pitch.Language
		id, name string
	}{
		{pitch.English, "english-horn", "English horn"}, {pitch.English, "horn-f", "horn in F"},
		{pitch.English, "alto-saxophone-eflat", "alto saxophone"}, {pitch.German, "horn-f", "Horn in F"},
		{pitch.German, "clarinet-bflat", "Klarinette in B"}, {pitch.French, "clarinet-bflat", "clarinette en si♭"},
		{pitch.Italian, "horn-f", "corno in Fa"}, {pitch.Spanish, "trumpet-bflat", "trompeta en Si♭"},
	} {
		said := textstest.In(t, row.language)
		assert.Equal(t, row.name, said.Instrument(c.ByID(row.id)))
	}
}
