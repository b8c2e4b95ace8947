package service_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/service"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// desk is a service in use.
type desk struct {
	*service.Service
	t *testing.T
}

func newDesk(t *testing.T) desk {
	t.Helper()
	s, err := service.New()
	require.NoError(t, err)
	return desk{s, t}
}

// ask calls and returns the answer as JSON has it, with all files that were told of.
func (d desk) ask(name string, request any, files ...service.File) (answer map[string]any, made map[string][]byte) {
	d.t.Helper()
	asked, err := json.Marshal(request)
	require.NoError(d.t, err)
	made = map[string][]byte{}
	keep := func(files []service.File) {
		for _, f := range files {
			made[f.Name] = f.Data
		}
	}
	reply, err := d.Call(context.Background(), name, asked, files, func(p service.Progress) { keep(p.Files) })
	require.NoError(d.t, err, name)
	keep(reply.Files)
	document, err := json.Marshal(reply.Value)
	require.NoError(d.t, err)
	_ = json.Unmarshal(document, &answer) // a list is no object
	return answer, made
}

// open opens files and returns the ids of the scores and what was said of the others.
func (d desk) open(files ...service.File) (ids []string, rejected []string) {
	d.t.Helper()
	answer, _ := d.ask("open", nil, files...)
	for _, s := range answer["scores"].([]any) {
		ids = append(ids, s.(map[string]any)["score"].(string))
	}
	for _, r := range answer["rejected"].([]any) {
		rejected = append(rejected, r.(map[string]any)["text"].(string))
	}
	return ids, rejected
}

func read(t *testing.T, path string) service.File {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return service.File{Name: filepath.Base(path), Data: data}
}

func example(t *testing.T, name string) string {
	return filepath.Join(musicxmltest.ProjectRoot(t), "examples", name)
}

func TestMain(m *testing.M) { musicxmltest.Main(m) }

// below reads all files of an ending below a folder, by their names.
func below(t *testing.T, dir, ending string) map[string][]byte {
	t.Helper()
	found := map[string][]byte{}
	for name, text := range musicxmltest.Contents(t, dir) {
		if strings.HasSuffix(name, ending) {
			found[filepath.Base(name)] = []byte(text)
		}
	}
	return found
}

func same(t *testing.T, want, got map[string][]byte) {
	t.Helper()
	require.NotEmpty(t, want)
	for name, data := range want {
		assert.True(t, bytes.Equal(data, got[name]), "%s: the command's bytes, and %d others", name, len(got[name]))
	}
	assert.ElementsMatch(t, slices.Collect(maps.Keys(want)), slices.Collect(maps.Keys(got)))
}

// TestOpensAnOpus: a packed file of several scores is a work.
func TestOpensAnOpus(t *testing.T) {
	t.Parallel()
	var packed bytes.Buffer
	opus := `<opus version="4.0"><title>Quay Songs</title><score xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="b.musicxml"/><score xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="a.musicxml"/></opus>`
	require.NoError(t, musicxml.WriteContainer(&packed, "songs.xml", musicxml.File{Name: "songs.xml", Data: []byte(opus)},
		musicxml.File{Name: "a.musicxml", Data: read(t, example(t, "the-harbour-wall.musicxml")).Data}, musicxml.File{Name: "b.musicxml", Data: read(t, example(t, "two-ferries.musicxml")).Data}))
	d := newDesk(t)
	answer, _ := d.ask("open", map[string]any{}, service.File{Name: "songs.mxl", Data: packed.Bytes()})
	require.Empty(t, answer["rejected"])
	works := answer["works"].([]any)
	require.Len(t, works, 1)
	assert.Equal(t, "Quay Songs", works[0].(map[string]any)["title"])
	assert.Equal(t, "songs/b.musicxml", answer["scores"].([]any)[0].(map[string]any)["path"])
	seats, _ := d.ask("work-seat", map[string]any{"work": works[0].(map[string]any)["scores"], "title": "Quay Songs"})
	assert.Equal(t, "Quay Songs", seats["title"])
	assert.NotEmpty(t, seats["seats"])
}

// TestFilesAreTheCommands: parts, pages and print jobs are what the command writes, byte
// for byte.
func TestFilesAreTheCommands(t *testing.T) {
	t.Parallel()
	program := musicxmltest.Program(t)
	paths := []string{example(t, "two-ferries.musicxml"), example(t, "the-harbour-wall.musicxml")}
	if os.Getenv("DESKPART_EVERY_SCORE") == "1" {
		for _, folder := range []string{"concert", "written", "quartets", "leadsheets"} {
			paths = append(paths, musicxmltest.SharedFiles(t, "scores/"+folder+"/*.mxl")[:3]...)
		}
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			out := t.TempDir()
			for _, args := range [][]string{
				{"extract", path, "--out", out + "/parts", "--language", "de", "--cues", "8"},
				{"print", path, "--out", out + "/prints", "--language", "de", "--cues", "8", "--job"},
			} {
				if said, err := exec.Command(program, append(args, "--quiet")...).CombinedOutput(); err != nil {
					assert.Equal(t, 1, err.(*exec.ExitError).ExitCode(), string(said))
				}
			}
			d := newDesk(t)
			ids, rejected := d.open(read(t, path))
			require.Empty(t, rejected)
			request := map[string]any{"score": ids[0], "settings": map[string]any{"language": "de", "cues": 8}}
			_, made := d.ask("make", request)
			wanted := below(t, out+"/parts", ".musicxml")
			maps.Copy(wanted, below(t, out+"/parts", "manifest.json"))
			same(t, wanted, made)
			_, prints := d.ask("print", request)
			request["copies"] = []int{}
			answer, _ := d.ask("seat", request)
			copies := []int{}
			for range answer["seats"].([]any) {
				copies = append(copies, 1)
			}
			request["copies"] = copies
			_, job := d.ask("print", request)
			maps.Copy(prints, job)
			same(t, below(t, out+"/prints", ".pdf"), prints)
		})
	}
}

// TestSeatsSayWhy: what each part was taken for and why, and what a plan changes.
func TestSeatsSayWhy(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	ids, _ := d.open(read(t, example(t, "two-ferries.musicxml")))
	request := map[string]any{"score": ids[0], "settings": map[string]any{}}
	seats := func() []map[string]any {
		answer, _ := d.ask("seat", request)
		var all []map[string]any
		for _, s := range answer["seats"].([]any) {
			all = append(all, s.(map[string]any))
		}
		return all
	}
	usual := seats()
	require.Len(t, usual, 4) // flute, clarinet, horn, bassoon: examples/README.md
	for i, by := range []string{"name", "transpose", "transpose", "name"} {
		assert.Equal(t, by, usual[i]["recognised_by"], usual[i]["name"])
		assert.NotEmpty(t, usual[i]["why"])
	}
	request["settings"] = map[string]any{"plan": []map[string]string{{"part": usual[0]["part"].(string), "instrument": "violin"}}}
	changed := seats()
	assert.Equal(t, "violin", changed[0]["instrument"])
	assert.Equal(t, "plan", changed[0]["recognised_by"])
	assert.Equal(t, usual[1:], changed[1:])
}

// TestBadFilesStopNothing: a line for each file that is refused, and the good ones open.
func TestBadFilesStopNothing(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	good := read(t, example(t, "two-ferries.musicxml"))
	ids, rejected := d.open(service.File{Name: "letter.pdf", Data: []byte("%PDF-1.4\n")}, good,
		service.File{Name: "cut.musicxml", Data: good.Data[:len(good.Data)/2]}, service.File{Name: "nothing.xml"},
		archive(t, "choir.zip", service.File{Name: "a/" + good.Name, Data: good.Data}, service.File{Name: "a/readme.txt", Data: []byte("x")}),
		archive(t, "bomb.zip", service.File{Name: "bomb.xml", Data: make([]byte, 40<<20)}), archive(t, "empty.zip"),
		service.File{Name: "big.xml", Data: make([]byte, service.InputBytes()+1)})
	assert.Len(t, ids, 2)
	require.Len(t, rejected, 6)
	for i, begin := range []string{"letter.pdf: ", "cut.musicxml: ", "nothing.xml: ", "bomb/bomb.xml: ", "empty.zip: ", "big.xml: "} {
		assert.Contains(t, rejected[i], begin)
		assert.NotContains(t, rejected[i], "\n")
		assert.NotContains(t, rejected[i], "--max")
	}
}

func archive(t *testing.T, name string, files ...service.File) service.File {
	t.Helper()
	var packed bytes.Buffer
	w := zip.NewWriter(&packed)
	for _, f := range files {
		entry, err := w.Create(f.Name)
		require.NoError(t, err)
		_, err = entry.Write(f.Data)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return service.File{Name: name, Data: packed.Bytes()}
}

// TestStop: a call stops at the next part when its context ends.
func TestStop(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	ids, _ := d.open(read(t, example(t, "two-ferries.musicxml")))
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	_, err := d.Call(ctx, "make", []byte(`{"score":"`+ids[0]+`"}`), nil, func(service.Progress) {
		if told++; told == 2 {
			cancel()
		}
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, 2, told)
}

// TestPlanThereAndBack: a plan that was written is understood again.
func TestPlanThereAndBack(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	ids, _ := d.open(read(t, example(t, "two-ferries.musicxml")))
	_, files := d.ask("plan", map[string]any{"score": ids[0], "settings": map[string]any{}})
	require.Contains(t, files, "plan.csv")
	reply, err := d.Call(context.Background(), "read-plan", nil, []service.File{{Name: "plan.csv", Data: files["plan.csv"]}}, nil)
	require.NoError(t, err)
	document, err := json.Marshal(reply.Value)
	require.NoError(t, err)
	var rows []map[string]string
	require.NoError(t, json.Unmarshal(document, &rows))
	require.Len(t, rows, 4)
	assert.Equal(t, "horn-f", rows[2]["instrument"])
}

// TestBandIsCastAsByTheCommand: the plan of a band is the one that fit writes.
func TestBandIsCastAsByTheCommand(t *testing.T) {
	t.Parallel()
	const band = "2 flute, 3 clarinet, 2 alto saxophone, trumpet, euphonium t.c."
	path, plan := example(t, "two-ferries.musicxml"), filepath.Join(t.TempDir(), "plan.csv")
	said, err := exec.Command(musicxmltest.Program(t), "fit", path, "--have", band, "--plan", plan, "--level", "school", "--quiet").CombinedOutput()
	require.NoError(t, err, string(said))
	d := newDesk(t)
	ids, _ := d.open(read(t, path))
	settings := map[string]any{"level": "school"}
	cast, _ := d.ask("cast", map[string]any{"score": ids[0], "band": band, "settings": settings})
	settings["plan"] = cast["plan"]
	settings["players"] = cast["players"]
	_, files := d.ask("plan", map[string]any{"score": ids[0], "settings": settings})
	want, err := os.ReadFile(plan)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(files["plan.csv"]))
}

// TestLessonIsTheCommands: pages of lessons, sheets and marked answers are the command's.
func TestLessonIsTheCommands(t *testing.T) {
	t.Parallel()
	program, out := musicxmltest.Program(t), t.TempDir()
	run := func(args ...string) {
		t.Helper()
		said, err := exec.Command(program, append(args, "--quiet")...).CombinedOutput()
		require.NoError(t, err, string(said))
	}
	d := newDesk(t)

	for _, name := range []string{"/lesson.html", "/lesson.pdf"} {
		run("explain", "horn in F", "--notes", "d4 fis4 a4", "--key", "D-Dur", "--language", "de", "--out", out+name)
	}
	lesson, page := d.ask("lesson", map[string]any{"instrument": "horn in F", "notes": "d4 fis4 a4", "key": "D-Dur", "language": "de"})
	lessons := below(t, out, "")
	maps.DeleteFunc(lessons, func(name string, _ []byte) bool { return !strings.HasPrefix(name, "lesson.") })
	same(t, lessons, page)
	heard := lesson["heard"].([]any)[0].(map[string]any)
	assert.EqualValues(t, 62, heard["sounding"]) // D4 (MIDI 1.0: middle C is 60)
	assert.EqualValues(t, 69, heard["written"])  // a fifth above

	run("exercise", "--instrument", "horn in F", "--count", "3", "--level", "2", "--seed", "7", "--pdf", "--out", out+"/sheet")
	request := map[string]any{"instrument": "horn in F", "count": 3, "level": 2, "seed": 7, "topic": "transposition"}
	_, sheet := d.ask("sheet", request)
	want := below(t, out+"/sheet", "")
	delete(want, "deskpart-record.jsonl")
	same(t, want, sheet)

	keys := []service.File{{Name: "answer-01.musicxml", Data: sheet["answer-01.musicxml"]}, {Name: "exercise-01.musicxml", Data: sheet["exercise-01.musicxml"]}}
	require.NoError(t, os.MkdirAll(out+"/class", 0o777))
	require.NoError(t, os.WriteFile(out+"/class/Ada.musicxml", sheet["exercise-01.musicxml"], 0o666))
	run("mark", out+"/sheet/answer-01.musicxml", out+"/class", "--pdf", "--out", out+"/marked")
	_, pages := d.ask("mark", map[string]any{"keys": 2}, append(keys, service.File{Name: "Ada.musicxml", Data: sheet["exercise-01.musicxml"]})...)
	assert.Contains(t, pages, "class.csv")
	delete(pages, "class.csv")
	marked := below(t, out+"/marked", "")
	delete(marked, "deskpart-record.jsonl")
	same(t, marked, pages)
	assert.Contains(t, pages, "Ada.html")
	assert.Contains(t, pages, "Ada.pdf")
}
