//go:build linux

package files

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
)

// runOf is a run of a command in a folder with a record.
func runOf(root, command, settings string) Making {
	return Making{Command: command, Version: "1", Settings: json.RawMessage(settings), Root: root}
}

// write has a run write files, "name=text" each, and end.
func write(t *testing.T, m Making, texts ...string) error {
	t.Helper()
	o := NewOutput(m)
	for _, text := range texts {
		name, data, _ := strings.Cut(text, "=")
		source := Source{Path: "source of " + name, SHA256: "sum of " + name}
		if _, err := o.WriteFile(filepath.Join(m.Root, name), []byte(data), Origin{Source: source}); err != nil {
			require.NoError(t, o.Close())
			return err
		}
	}
	return o.Close()
}

// The rule about what may be replaced, case by case: what stands there, who wrote it,
// and whether it goes.
func TestMayReplace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		prepare   func(t *testing.T, root, at string)
		command   string
		force     bool
		want      string // what is said. "": it is replaced
	}{
		{"nothing", "the plain case", func(*testing.T, string, string) {}, "convert", false, ""},
		{"a run's", "the same command made it", func(t *testing.T, root, at string) {
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "a.xml=old"))
		}, "convert", false, ""},
		{"a run's with other settings", "still the same command", func(t *testing.T, root, at string) {
			require.NoError(t, write(t, runOf(root, "convert", `{"to":"written"}`), "a.xml=old"))
		}, "convert", false, ""},
		{"another command's", "it did not make it", func(t *testing.T, root, at string) {
			require.NoError(t, write(t, runOf(root, "exercise", "{}"), "a.xml=old"))
		}, "convert", false, "stands there already, and no earlier run of deskpart convert made it; move it away, choose another --out, or say --force"},
		{"a run's, changed since", "somebody worked on it", func(t *testing.T, root, at string) {
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "a.xml=old"))
			require.NoError(t, os.WriteFile(at, []byte("old, and a note"), 0o666))
		}, "convert", false, "was changed since an earlier run made it; move it away, choose another --out, or say --force"},
		{"the user's", "nobody made it", func(t *testing.T, root, at string) {
			require.NoError(t, os.WriteFile(at, []byte("mine"), 0o666))
		}, "convert", false, "stands there already, and no earlier run of deskpart convert made it; move it away, choose another --out, or say --force"},
		{"the user's, by force", "it was said", func(t *testing.T, root, at string) {
			require.NoError(t, os.WriteFile(at, []byte("mine"), 0o666))
		}, "convert", true, ""},
		{"a folder", "no plain file", func(t *testing.T, root, at string) { require.NoError(t, os.Mkdir(at, 0o777)) },
			"convert", true, "is a folder; only plain files are ever replaced; move it away, or name another"},
		{"a link", "no plain file, whatever it leads to", func(t *testing.T, root, at string) {
			require.NoError(t, os.WriteFile(filepath.Join(root, "theirs"), []byte("new"), 0o666))
			require.NoError(t, os.Symlink("theirs", at))
		}, "convert", true, "is a link; only plain files are ever replaced; move it away, or name another"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			at := filepath.Join(root, "a.xml")
			c.prepare(t, root, at)
			before := musicxmltest.Contents(t, root)
			m := runOf(root, c.command, "{}")
			m.Force = c.force
			err := write(t, m, "a.xml=new")
			if c.want == "" {
				require.NoError(t, err, c.why)
				assert.Equal(t, "new", musicxmltest.Contents(t, root)["a.xml"])
				return
			}
			assert.EqualError(t, err, at+" "+c.want, c.why)
			assert.Equal(t, notice.InTheWay, musicxml.ErrorCode(err))
			assert.Equal(t, before, musicxmltest.Contents(t, root), "nothing has changed")
		})
	}
}

// Whatever the order, and however often it was stopped: one record.
func TestRecordIsInOrder(t *testing.T) {
	t.Parallel()
	plain := t.TempDir()
	require.NoError(t, write(t, runOf(plain, "convert", "{}"), "a/b.xml=1", "c.xml=2", "d.xml=3"))
	want := musicxmltest.Contents(t, plain)
	text := want[RecordName]
	assert.Equal(t, `{"file":"a/b.xml","sha256":"6b86b273ff34fce19d6b804eff5a3f5747ada4eaa22f1d49c01e52ddb7875b4b","xxh64":"b7b41276360564d4","command":"convert","version":"1","settings":{},"source":{"path":"source of a/b.xml","sha256":"sum of a/b.xml"}}`,
		strings.SplitN(text, "\n", 2)[0], "the sums are those of sha256sum and xxh64sum")
	for _, c := range []struct {
		name, why string
		runs      func(t *testing.T, root string)
	}{
		{"again", "nothing is left to do", func(t *testing.T, root string) {
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "d.xml=3", "c.xml=2", "a/b.xml=1"))
		}},
		{"the other way round", "lines are put in order", func(t *testing.T, root string) {
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "d.xml=3", "a/b.xml=1", "c.xml=2"))
		}},
		{"not closed", "a run was killed", func(t *testing.T, root string) {
			o := NewOutput(runOf(root, "convert", "{}"))
			_, err := o.WriteFile(filepath.Join(root, "d.xml"), []byte("other"), Origin{})
			require.NoError(t, err)
			o.records[root].letGo() // as the system does for a dead process
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "d.xml=3", "a/b.xml=1", "c.xml=2"))
		}},
		{"within a line", "a run was killed while it wrote one", func(t *testing.T, root string) {
			require.NoError(t, os.WriteFile(filepath.Join(root, RecordName), []byte(text[:30]), 0o666))
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "a/b.xml=1", "c.xml=2", "d.xml=3"))
		}},
		{"before the file", "a line, and the old file still", func(t *testing.T, root string) {
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "c.xml=before", "d.xml=3"))
			r, err := openRecord(new(runOf(root, "convert", "{}")), systemDisk{}, root, RecordName)
			require.NoError(t, err)
			_, err = r.add(&Entry{File: "c.xml", SHA256: "never made", Command: "convert", Version: "1"})
			require.NoError(t, err)
			require.NoError(t, r.close())
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "a/b.xml=1", "c.xml=2"))
		}},
		{"in slices", "two runs, and one over all", func(t *testing.T, root string) {
			for k, text := range []string{"c.xml=2", "a/b.xml=1"} {
				m := runOf(root, "convert", "{}")
				m.Shard = Shard{k + 1, 2}
				require.NoError(t, write(t, m, text))
			}
			assert.FileExists(t, filepath.Join(root, "deskpart-record.2-of-2.jsonl"))
			require.NoError(t, write(t, runOf(root, "convert", "{}"), "d.xml=3"))
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			c.runs(t, root)
			assert.Equal(t, want, musicxmltest.Contents(t, root), c.why)
		})
	}
}

// Nothing is left to do for a source that was made in the same way into a file that is
// still there.
func TestDone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(t *testing.T, root string, m *Making, of *Source)
		done   bool
	}{
		{"nothing changed", func(*testing.T, string, *Making, *Source) {}, true},
		{"another source", func(_ *testing.T, _ string, _ *Making, of *Source) { of.SHA256 = "x" }, false},
		{"other settings", func(_ *testing.T, _ string, m *Making, _ *Source) { m.Settings = json.RawMessage(`{"to":"written"}`) }, false},
		{"the same settings with white space", func(_ *testing.T, _ string, m *Making, _ *Source) { m.Settings = json.RawMessage("{ }") }, true},
		{"another version", func(_ *testing.T, _ string, m *Making, _ *Source) { m.Version = "2" }, false},
		{"file gone", func(t *testing.T, root string, _ *Making, _ *Source) {
			require.NoError(t, os.Remove(filepath.Join(root, "a.xml")))
		}, false},
		{"file changed", func(t *testing.T, root string, _ *Making, _ *Source) {
			require.NoError(t, os.WriteFile(filepath.Join(root, "a.xml"), []byte("2"), 0o666))
		}, false},
		{"no record", func(t *testing.T, root string, _ *Making, _ *Source) {
			require.NoError(t, os.Remove(filepath.Join(root, RecordName)))
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			m := runOf(root, "convert", "{}")
			require.NoError(t, write(t, m, "a.xml=1"))
			of := Source{Path: "source of a.xml", SHA256: "sum of a.xml"}
			c.change(t, root, &m, &of)
			o := NewOutput(m)
			e, done := o.Done(of)
			assert.Equal(t, c.done, done)
			if done {
				assert.Equal(t, "a.xml", e.File)
			}
			require.NoError(t, o.Close())
		})
	}
}

// What other settings made goes, unless somebody changed it.
func TestRemoveOthers(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	require.NoError(t, write(t, runOf(root, "convert", `{"ascii_names":true}`), "a.xml=1", "b.xml=2", "c.xml=3", "d.xml=4"))
	require.NoError(t, os.WriteFile(filepath.Join(root, "c.xml"), []byte("mine"), 0o666))
	o := NewOutput(runOf(root, "convert", "{}"))
	_, err := o.WriteFile(filepath.Join(root, "b.xml"), []byte("2"), Origin{Source: Source{Path: "source of b.xml", SHA256: "s"}})
	require.NoError(t, err)
	removed, err := o.RemoveOthers([]string{"source of a.xml", "source of b.xml", "source of c.xml"})
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(root, "a.xml")}, removed, "b was made now, c changed, d is of a source that had no turn")
	require.NoError(t, o.Close())
}

// A bag that is somebody else's stays as it is.
func TestBagOfSomebodyElse(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	lay(t, root, map[string]string{"bag-info.txt": "Source-Organization: somebody\n", "data/a.xml": "1"})
	before := musicxmltest.Contents(t, root)
	_, err := WriteBag(context.Background(), run.NewPool(1, 1<<20), NewOutput(runOf(root, "convert", "{}")), root, nil)
	assert.EqualError(t, err, filepath.Join(root, "bag-info.txt")+" stands there already, and no earlier run of deskpart convert made it; move it away, choose another --out, or say --force")
	assert.Equal(t, before, musicxmltest.Contents(t, root))
}

// Two runs do not write into one folder at once: the second waits, and says so when it
// waits in vain.
func TestSecondRunWaits(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	first := NewOutput(runOf(root, "convert", "{}")).Folder(root)
	require.NoError(t, first.Begin(context.Background(), nil))
	_, err := first.Write("a.xml", []byte("first"), Origin{})
	require.NoError(t, err)
	second := NewOutput(runOf(root, "convert", "{}")).Folder(root)
	ended := make(chan error)
	go func() { ended <- second.Begin(context.Background(), nil) }()
	select {
	case <-ended:
		t.Fatal("the second run did not wait")
	case <-time.After(3 * retryDelay):
	}
	require.NoError(t, first.End(true))
	require.NoError(t, <-ended)
	require.NoError(t, second.End(true))
	assert.Equal(t, map[string]string{"a.xml": "first"}, musicxmltest.Contents(t, root), "no record is left where a manifest stands for the files")
	ctx, cancel := context.WithCancelCause(context.Background())
	require.NoError(t, first.Begin(ctx, nil))
	cancel(run.Interrupted{Signal: os.Interrupt})
	assert.ErrorIs(t, second.Begin(ctx, nil), context.Canceled, "who is stopped does not wait on")
	require.NoError(t, first.End(false))
}

// A record that is none is said each time, and keeps nobody waiting.
func TestNoRecord(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	lay(t, root, map[string]string{RecordName: "the user's"})
	o := NewOutput(runOf(root, "convert", "{}"))
	for range 2 {
		_, done := o.Done(Source{Path: "a", SHA256: "b"})
		assert.False(t, done)
		_, err := o.WriteFile(filepath.Join(root, "a.xml"), []byte("1"), Origin{})
		assert.ErrorContains(t, err, RecordName+" is no record of what runs made")
	}
	assert.Equal(t, map[string]string{RecordName: "the user's"}, musicxmltest.Contents(t, root))
}

// A source that has not changed is known by its quick sum, without being kept in memory;
// one of a record without quick sums is told by its SHA-256.
func TestKnownSource(t *testing.T) {
	t.Parallel()
	for name, quick := range map[string]bool{"with quick sums": true, "of an older version": false} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			in := Input{Path: filepath.Join(root, "in.xml"), Key: "in.xml"}
			require.NoError(t, os.WriteFile(in.Path, []byte("score"), 0o666))
			of := NewSource(in.Key, []byte("score"))
			if !quick {
				of.Quick = ""
			}
			m := runOf(filepath.Join(root, "out"), "convert", "{}")
			o := NewOutput(m)
			_, err := o.WriteFile(filepath.Join(m.Root, "a.xml"), []byte("1"), Origin{Source: of})
			require.NoError(t, err)
			require.NoError(t, o.Close())

			o = NewOutput(m)
			got, known := o.Known(in)
			assert.Equal(t, quick, known)
			_, done := o.Done(NewSource(in.Key, []byte("score")))
			assert.True(t, done, "either way")
			if quick {
				assert.Equal(t, of, got)
			}
			require.NoError(t, os.WriteFile(in.Path, []byte("Score"), 0o666))
			_, known = o.Known(in)
			assert.False(t, known, "it has changed")
			require.NoError(t, o.Close())
		})
	}
}
