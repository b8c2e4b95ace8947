//go:build unix

package files_test

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files"
)

// plant makes files below a fresh folder: "a/b.xml" is a file, "a/" a folder,
// "l -> t" a link, "p |" a pipe, "s =" a socket.
func plant(t *testing.T, entries ...string) string {
	t.Helper()
	root := t.TempDir()
	for _, entry := range entries {
		name, target, link := strings.Cut(entry, " -> ")
		at := filepath.Join(root, strings.TrimRight(name, "/ |="))
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
		switch {
		case link:
			require.NoError(t, os.Symlink(target, at))
		case strings.HasSuffix(name, "/"):
			require.NoError(t, os.MkdirAll(at, 0o777))
		case strings.HasSuffix(name, "|"):
			require.NoError(t, syscall.Mkfifo(at, 0o666))
		case strings.HasSuffix(name, "="):
			listener, err := net.Listen("unix", at)
			require.NoError(t, err)
			t.Cleanup(func() { listener.Close() })
		default:
			require.NoError(t, os.WriteFile(at, []byte(name), 0o666))
		}
	}
	return root
}

// below makes paths below root, and leaves others alone.
func below(root string, paths []string) []string {
	var all []string
	for _, path := range paths {
		if path != "-" {
			path = filepath.Join(root, path)
		}
		all = append(all, path)
	}
	return all
}

func TestFind(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		tree      []string
		paths     []string
		output    string
		ascii     bool
		rel       []string // what is found, by its name below the output
		problems  []string
	}{
		{"a folder", "names of scores in byte order, folders searched through",
			[]string{"b.xml", "a/z.mxl", "a/y.MusicXML", "a.musicxml", "B.xml", "c.txt", "d.pdf"}, []string{""}, "", false,
			[]string{"B.xml", "a/y.MusicXML", "a/z.mxl", "a.musicxml", "b (2).xml"}, nil},
		{"a file", "taken whatever its name, and by its name alone",
			[]string{"deep/down/song.txt", "deep/x.xml"}, []string{"deep/down/song.txt", "deep/x.xml"}, "", false,
			[]string{"song.txt", "x.xml"}, nil},
		{"the arguments' order", "as they were given",
			[]string{"a.xml", "b.xml", "f/c.xml"}, []string{"f", "b.xml", "a.xml"}, "", false,
			[]string{"c.xml", "b.xml", "a.xml"}, nil},
		{"long names", "keep their endings",
			[]string{strings.Repeat("x", 150) + " 1.musicxml", strings.Repeat("x", 150) + " 2.mxl"}, []string{""}, "", false,
			[]string{strings.Repeat("x", 72) + "…" + strings.Repeat("x", 34) + " 1.musicxml", strings.Repeat("x", 76) + "…" + strings.Repeat("x", 35) + " 2.mxl"}, nil},
		{"dots", "no name ends in one without its ending",
			[]string{"x..musicxml", "y. .xml"}, []string{""}, "", false, []string{"x.musicxml", "y.xml"}, nil},
		{"given twice", "one input, under its first name",
			[]string{"f/a.xml", "f/g/b.xml"}, []string{"f/a.xml", "f/g", "f", "f/../f/a.xml"}, "", false,
			[]string{"a.xml", "b.xml"}, nil},
		{"hidden", "not looked at, such as what a Mac leaves on a stick",
			[]string{"._a.xml", ".git/b.xml", "a.xml"}, []string{""}, "", false, []string{"a.xml"}, nil},
		{"one name, two formats", "their results would go to one folder",
			[]string{"a.musicxml", "a.mxl", "a.xml"}, []string{""}, "", false,
			[]string{"a.musicxml", "a (2).mxl", "a (3).xml"}, nil},
		{"one name in two folders", "given one after the other",
			[]string{"f/a.xml", "g/A.xml"}, []string{"f", "g"}, "", false, []string{"a.xml", "A (2).xml"}, nil},
		{"unsafe names", "made safe on the way out",
			[]string{"con/aux.xml", "B♭ <x>.xml"}, []string{""}, "", false, []string{"B♭ _x_.xml", "con_/aux_.xml"}, nil},
		{"plain names", "ASCII when asked for",
			[]string{"Für B♭/Flöte 1.xml"}, []string{""}, "", true, []string{"Fuer_Bb/Floete_1.xml"}, nil},
		{"link to a file", "followed, and a name like any other",
			[]string{"store/0a1b", "suite.mxl -> store/0a1b", "copy.mxl -> store/0a1b"}, []string{""}, "", false,
			[]string{"copy.mxl", "suite.mxl"}, nil},
		{"link to a folder", "searched by its own path, though the link's comes first",
			[]string{"z/a.xml", "a -> z"}, []string{""}, "", false, []string{"z/a.xml"}, nil},
		{"link to a folder elsewhere", "followed",
			[]string{"f/l -> ../g", "g/a.xml"}, []string{"f"}, "", false, []string{"l/a.xml"}, nil},
		{"links in a circle", "each folder once",
			[]string{"a.xml", "up -> .", "f/up -> ..", "f/b.xml", "x -> y", "y -> x"}, []string{""}, "", false,
			[]string{"a.xml", "f/b.xml"}, nil},
		{"a link in a circle with a score's name", "somebody expects a score there",
			[]string{"x.xml -> y.xml", "y.xml -> x.xml", "n.xml -> none"}, []string{""}, "", false, nil,
			[]string{"n.xml: there is no such file or folder (any more); check its name", "x.xml: the links go round in a circle; give the file itself", "y.xml: the links go round in a circle; give the file itself"}},
		{"pipes and sockets", "never opened",
			[]string{"a.xml |", "b.xml =", "c |", "d.xml -> c", "e.xml"}, []string{""}, "", false, []string{"e.xml"},
			[]string{"a.xml: this is a pipe, not a file; save the score to a file first",
				"b.xml: this is a socket, not a file; save the score to a file first",
				"d.xml: this is a pipe, not a file; save the score to a file first"}},
		{"a pipe given", "whatever its name",
			[]string{"p |"}, []string{"p"}, "", false, nil, []string{"p: this is a pipe, not a file; save the score to a file first"}},
		{"output inside", "yesterday's results are no input",
			[]string{"a.xml", "parts/a/01.musicxml"}, []string{""}, "parts", false, []string{"a.xml"}, nil},
		{"output inside by a link", "the same folder by another path",
			[]string{"a.xml", "parts/a/01.musicxml", "l -> parts", "o -> parts"}, []string{""}, "o", false, []string{"a.xml"}, nil},
		{"nothing", "an empty folder has no scores", []string{"f/"}, []string{"f"}, "", false, nil, nil},
		{"a folder named like a score", "is a folder", []string{"a.xml/b.xml"}, []string{""}, "", false, []string{"a.xml/b.xml"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root := plant(t, c.tree...)
			search := files.Search{Paths: below(root, c.paths), Style: files.NameStyle{ASCII: c.ascii}}
			if c.output != "" {
				search.Output = filepath.Join(root, c.output)
			}
			inputs, problems, err := search.Find(context.Background())
			require.NoError(t, err)
			var rel, said []string
			for _, input := range inputs {
				rel = append(rel, input.Rel)
			}
			for _, problem := range problems {
				said = append(said, strings.TrimPrefix(problem.Error(), root+"/"))
			}
			assert.Equal(t, c.rel, rel, c.why)
			assert.Equal(t, c.problems, said, c.why)
		})
	}
}

func TestFindRefuses(t *testing.T) {
	t.Parallel()
	root := plant(t, "a.xml", "f/b.xml", "l -> f")
	for _, c := range []struct {
		name, why string
		search    files.Search
		want      string
	}{
		{"no such path", "a slip on the command line: nothing is done", files.Search{Paths: below(root, []string{"a.xml", "none.xml"})},
			"none.xml: there is no such file or folder (any more); check its name"},
		{"below a file", "no folder", files.Search{Paths: below(root, []string{"a.xml/b.xml"})}, "a.xml/b.xml: there is no such file or folder (any more); check its name"},
		{"output is the folder", "the next run would take results for scores", files.Search{Paths: below(root, []string{"f"}), Output: filepath.Join(root, "l")},
			"f: this folder is to be searched and cannot take the results; choose another with --out, such as one inside it"},
		{"no such list", "a slip as well", files.Search{FilesFrom: filepath.Join(root, "none")},
			"list of files " + filepath.Join(root, "none") + ": there is no such file or folder (any more); check its name"},
		{"no standard input", "nothing to read", files.Search{FilesFrom: "-"}, "list of files -: there is no standard input; write the paths to a file and name that"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			inputs, _, err := c.search.Find(context.Background())
			require.Error(t, err, c.why)
			assert.Equal(t, c.want, strings.TrimPrefix(err.Error(), root+"/"))
			assert.Empty(t, inputs)
		})
	}
	_, _, err := files.Search{Paths: below(root, []string{"none.xml"})}.Find(context.Background())
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestFilesFrom(t *testing.T) {
	t.Parallel()
	root := plant(t, "a.xml", "f/b.xml", "f/c.txt", "line\nend.xml", " space .xml")
	for _, c := range []struct {
		name, why, list string
		keys            []string
		problems        int
	}{
		{"lines", "one path a line, folders searched", "@/a.xml\n@/f\n", []string{"@/a.xml", "b.xml"}, 0},
		{"no line end", "the last line counts", "@/a.xml", []string{"@/a.xml"}, 0},
		{"Windows' line ends", "taken off", "@/a.xml\r\n\r\n@/f/b.xml\r\n", []string{"@/a.xml", "@/f/b.xml"}, 0},
		{"byte order mark", "as some editors write it", "\uFEFF@/a.xml\n", []string{"@/a.xml"}, 0},
		{"spaces", "belong to the name", "@/ space .xml\n", []string{"@/ space .xml"}, 0},
		{"NUL", "the name may hold line ends", "@/line\nend.xml\x00@/a.xml\x00", []string{"@/line\nend.xml", "@/a.xml"}, 0},
		{"vanished", "one bad line does not stop the others", "@/none.xml\n@/a.xml\n", []string{"@/a.xml"}, 1},
		{"any name", "a listed file was named by somebody", "@/f/c.txt\n", []string{"@/f/c.txt"}, 0},
		{"empty", "an empty list is no mistake", "", nil, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			in := strings.NewReader(strings.ReplaceAll(c.list, "@", root))
			inputs, problems, err := files.Search{FilesFrom: "-", In: in}.Find(context.Background())
			require.NoError(t, err)
			var keys []string
			for _, input := range inputs {
				keys = append(keys, strings.Replace(input.Key, strings.TrimPrefix(root, "/"), "@", 1))
			}
			assert.Equal(t, c.keys, keys, c.why)
			assert.Len(t, problems, c.problems, c.why)
		})
	}
	list := filepath.Join(t.TempDir(), "list")
	require.NoError(t, os.WriteFile(list, []byte(root+"/a.xml\n"), 0o666))
	inputs, _, err := files.Search{Paths: []string{root + "/a.xml"}, FilesFrom: list}.Find(context.Background())
	require.NoError(t, err)
	require.Len(t, inputs, 1)
	assert.Equal(t, "a.xml", inputs[0].Rel, "given on the command line first")
}

// Listed names keep their folders, so that parts of a list that went to several
// machines do not fall together; nothing leads upwards.
func TestListedNames(t *testing.T) {
	root := plant(t, "f/a.xml", "g/a.xml", "h/")
	t.Chdir(filepath.Join(root, "h"))
	inputs, _, err := files.Search{FilesFrom: "-", In: strings.NewReader("../f/a.xml\n./../g/a.xml\n")}.Find(context.Background())
	require.NoError(t, err)
	require.Len(t, inputs, 2)
	assert.Equal(t, "f/a.xml", inputs[0].Rel)
	assert.Equal(t, "g/a.xml", inputs[1].Rel)
}

func TestExpand(t *testing.T) {
	t.Parallel()
	root := plant(t, "opus.xml", "works/one.xml", "works/two.xml", "works/inner.xml", "outside.xml", "z.xml")
	opus := map[string][]string{
		"opus.xml":        {"works/two.xml", "works/inner.xml", "none.xml", "works/two.xml"},
		"works/inner.xml": {"opus.xml", "works/one.xml", "outside.xml"},
	}
	search := files.Search{Paths: below(root, []string{"opus.xml"}), Expand: func(path string) (*files.Members, error) {
		path, err := filepath.Rel(root, path)
		if path == "outside.xml" {
			return nil, errors.New("cannot be read")
		}
		if opus[path] == nil {
			return nil, err
		}
		members := new(files.Members)
		for _, at := range below(root, opus[path]) {
			members.Scores = append(members.Scores, files.Member{Path: at})
		}
		return members, err
	}}
	inputs, problems, err := search.Find(context.Background())
	require.NoError(t, err)
	var rel []string
	for _, input := range inputs {
		rel = append(rel, input.Rel)
	}
	assert.Equal(t, []string{"works/one.xml", "works/two.xml"}, rel, "each once, an opus within an opus opened, a circle ended")
	require.Len(t, problems, 4)
	assert.Contains(t, problems[3].Error(), filepath.Join(root, "works", "two.xml")+": "+filepath.Join(root, "opus.xml")+" names this file, which stands in the opus already")
	assert.Contains(t, problems[2].Error(), filepath.Join(root, "works", "inner.xml")+": this opus leads back to "+filepath.Join(root, "opus.xml"))
	assert.Equal(t, filepath.Join(root, "none.xml")+": "+filepath.Join(root, "opus.xml")+" names this file, and it is not there; check its name, and that you may read it", problems[0].Error())
	assert.Equal(t, filepath.Join(root, "outside.xml")+": cannot be read", problems[1].Error())
}

// The slices together are the whole, and a file's name below the output does not
// depend on the slice.
func TestSlicesOfASearch(t *testing.T) {
	t.Parallel()
	root := plant(t, "a.xml", "a.mxl", "a.musicxml", "f/a.xml", "f/b.xml", "g/c.xml", "g/d.xml", "h/e.xml")
	whole, _, err := files.Search{Paths: []string{root}}.Find(context.Background())
	require.NoError(t, err)
	var union []files.Input
	for k := 1; k <= 3; k++ {
		slice, _, err := files.Search{Paths: []string{root}, Shard: files.Shard{K: k, N: 3}}.Find(context.Background())
		require.NoError(t, err)
		assert.Less(t, len(slice), len(whole))
		union = append(union, slice...)
	}
	assert.ElementsMatch(t, whole, union)
}

func TestFindStops(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, _, err := files.Search{Paths: []string{plant(t, "f/a.xml")}}.Find(ctx)
	assert.ErrorIs(t, err, context.Canceled)
}

func TestReadInput(t *testing.T) {
	t.Parallel()
	root := plant(t, "a.xml", "p |", "f/")
	for _, c := range []struct {
		name, why, path string
		limit           int64
		want            string
	}{
		{"a pipe", "opening it would wait for ever", "p", 0, "this is a pipe, not a file; save the score to a file first"},
		{"a folder", "has no bytes", "f", 0, "this is a folder, not a file; save the score to a file first"},
		{"too large", "a limit is kept before reading", "a.xml", 4, "the file has 5 bytes, more than the 4 allowed; allow more if you trust where it comes from (deskpart help limits)"},
		{"vanished", "after it was found", "none", 0, "there is no such file or folder (any more); check its name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := files.ReadInput(filepath.Join(root, c.path), c.limit, nil)
			require.Error(t, err, c.why)
			assert.Equal(t, c.want, err.Error(), c.why)
		})
	}
	buffer := make([]byte, 64)
	data, err := files.ReadInput(filepath.Join(root, "a.xml"), 5, buffer)
	require.NoError(t, err)
	assert.Equal(t, "a.xml", string(data))
	assert.True(t, bytes.HasPrefix(buffer, data), "the buffer is used")
	_, err = files.ReadInput("/dev/null", 0, nil)
	assert.EqualError(t, err, "this is a device, not a file; save the score to a file first")
}

// BenchmarkFind searches a shelf of 10,000 scores in 1,000 folders.
func BenchmarkFind(b *testing.B) {
	root := b.TempDir()
	for i := range 10000 {
		at := filepath.Join(root, strconv.Itoa(i/100), strconv.Itoa(i/10%10), strconv.Itoa(i)+".mxl")
		if err := errors.Join(os.MkdirAll(filepath.Dir(at), 0o777), os.WriteFile(at, nil, 0o666)); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		inputs, _, err := files.Search{Paths: []string{root}, Output: root + "/parts", Shard: files.Shard{K: 1, N: 8}}.Find(context.Background())
		if err != nil || len(inputs) < 1000 {
			b.Fatal(err, len(inputs))
		}
	}
}
