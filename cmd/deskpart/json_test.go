package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report/schema"
	"deskpart/musicxml/musicxmltest"
)

// documents are command lines with --json, and the schema of what they print. FERRIES and
// LANTERNS are scores, BAD is none, OUT is a folder of the line's own, BOX has parts and
// SHEET exercises.
var documents = []struct {
	schema, line string
	status       int
}{
	{"extract", "extract FERRIES --out OUT", exitDone},
	{"extract", "extract FERRIES BAD --out OUT --players --cues 2 --print --without-signature horn --only Flute --language de", exitNeedsPerson},
	{"extract", "extract FERRIES --out OUT --bundle --only nobody --only Flute", exitNeedsPerson},
	{"extract", "extract FERRIES --out OUT --only nobody", exitNeedsPerson},
	{"extract", "extract LANTERNS --out OUT --plan BOX/plan.csv --tacet skip --format mxl --ascii-names", exitDone},
	{"extract", "extract FERRIES LANTERNS --out OUT --work=Suite --print --substitutes", exitDone},
	{"extract", "extract LANTERNS --out OUT --editions Bb,C", exitDone},
	{"print", "print FERRIES LANTERNS --out OUT --work=Suite --job", exitDone},
	{"print", "print FERRIES BAD --out OUT --job", exitNeedsPerson},
	{"print", "print BOX/ferries --out OUT --format svg --only Flute", exitDone},
	{"survey", "survey FERRIES LANTERNS BAD", exitNeedsPerson},
	{"survey", "survey BOX/empty", exitNeedsPerson},
	{"survey", "survey --work=Suite FERRIES LANTERNS", exitDone},
	{"proof", "proof --work=Suite FERRIES LANTERNS --out OUT/p.html", exitDone},
	{"collate", "collate BOX/opus.musicxml BOX/ferries --some", exitDone},
	{"convert", "convert BOX/opus.musicxml --to concert --out OUT", exitDone},
	{"fit", "fit FERRIES --have 2_flute,clarinet,3_horn,tuba --plan OUT/plan.csv", exitDone},
	{"fit", "fit LANTERNS --have flute,flute,flute --level school", exitDone},
	{"fit", "fit BAD --have flute", exitNeedsPerson},
	{"fit-part", "fit FERRIES --part Flute", exitDone},
	{"fit-part", "fit BAD --part Flute", exitNeedsPerson},
	{"reassign", "reassign LANTERNS --part P1 --to tuba --octave 0 --level school --out OUT/x.musicxml", exitDone},
	{"reassign", "reassign LANTERNS --part P2 --player 2 --to trombone --out OUT/x.musicxml", exitDone},
	{"reassign", "reassign BAD --part P1 --to tuba --out OUT/x.musicxml", exitNeedsPerson},
	{"convert", "convert FERRIES BAD --to concert --out OUT --bag", exitNeedsPerson},
	{"verify", "verify FERRIES LANTERNS BAD", exitNeedsPerson},
	{"verify", "verify FERRIES --spelling readable --max-signature 0", exitDone},
	{"collate", "collate FERRIES BOX/ferries", exitDone},
	{"collate", "collate LANTERNS BOX/ferries BAD", exitNeedsPerson},
	{"collate", "collate BAD BOX/ferries", exitNeedsPerson},
	{"proof", "proof LANTERNS --out OUT/p.html --level school", exitDone},
	{"proof", "proof FERRIES --only nobody --out OUT/p.html", exitNeedsPerson},
	{"proof", "proof BAD --out OUT/p.html", exitNeedsPerson},
	{"proof", "proof BOX/empty --out OUT/p.html", exitNeedsPerson},
	{"explain", "explain horn_in_F --notes D4,F#4 --key D --out OUT/l.html", exitDone},
	{"explain", "explain minor_third_down --notes D4 --language de", exitDone},
	{"explain", "explain clarinet_in_A --from-score FERRIES --part Flute --measures 1-2", exitDone},
	{"explain", "explain horn_in_F --from-score BAD --part Flute", exitNeedsPerson},
	{"explain-topic", "explain --topic band-key", exitDone},
	{"explain-topic", "explain --topic clef --language fr", exitDone},
	{"exercise", "exercise --count 2 --level 5 --versions 2 --out OUT/x", exitDone},
	{"exercise", "exercise --topic band-key --count 1 --out OUT/x", exitDone},
	{"exercise", "exercise --topic score-reading --count 1 --out OUT/x", exitDone},
	{"exercise", "exercise --instrument horn_in_F --from-score FERRIES --part Flute --measures 1-2 --out OUT/x", exitDone},
	{"mark", "mark SHEET SHEET BAD", exitNeedsPerson},
	{"mark", "mark SHEET/answer-01.musicxml SHEET/exercise-01.musicxml FERRIES", exitDone},
	{"mark", "mark SHEET BOX/empty", exitNeedsPerson},
	{"mark", "mark BAD SHEET", exitNeedsPerson},
	{"mark", "mark BOX/empty SHEET", exitNeedsPerson},
	{"instruments", "instruments", exitDone},
	{"instruments-match", "instruments match Klarinette_in_B_2 Nobody Flute/Piccolo", exitDone},
}

// TestDocuments holds what every command prints with --json, its manifests and records
// against the schemas, and what holds for all of them.
func TestDocuments(t *testing.T) {
	t.Parallel()
	schemas := compileSchemas(t)
	examples := filepath.Join(musicxmltest.ProjectRoot(t), "examples")
	box, sheet := t.TempDir(), t.TempDir()
	score := filepath.Join(examples, "two-ferries.musicxml")
	for _, args := range [][]string{
		{"extract", score, "--out", box, "--quiet"},
		{"survey", filepath.Join(examples, "lanterns-on-the-quay.musicxml"), "--plan", filepath.Join(box, "plan.csv"), "--quiet"},
		{"exercise", "--count", "1", "--out", sheet, "--quiet"},
	} {
		_, errs, code := command(t, args...)
		require.Equal(t, exitDone, code, errs)
	}
	require.NoError(t, os.Rename(filepath.Join(box, "two-ferries"), filepath.Join(box, "ferries")))
	require.NoError(t, os.Mkdir(filepath.Join(box, "empty"), 0o777))
	opus := `<opus xmlns:xlink="http://www.w3.org/1999/xlink"><score xlink:href="two-ferries.musicxml"/></opus>`
	require.NoError(t, os.WriteFile(filepath.Join(box, "opus.musicxml"), []byte(opus), 0o666))
	ferries, err := os.ReadFile(score)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(box, "two-ferries.musicxml"), ferries, 0o666))
	bad := filepath.Join(box, "bad.musicxml")
	require.NoError(t, os.WriteFile(bad, []byte("<score-partwise"), 0o666))
	var used []string
	for _, d := range documents {
		used = append(used, d.schema)
		t.Run(d.line, func(t *testing.T) {
			t.Parallel()
			out := t.TempDir()
			fill := strings.NewReplacer("FERRIES", score, "LANTERNS", filepath.Join(examples, "lanterns-on-the-quay.musicxml"),
				"BAD", bad, "OUT", out, "BOX", box, "SHEET", sheet, "_", " ")
			var args []string
			for _, word := range append(strings.Fields(d.line), "--json") {
				args = append(args, fill.Replace(word))
			}
			stdout, stderr, code := command(t, args...)
			assert.Equal(t, d.status, code, stderr)
			document := parseJSON(t, []byte(stdout))
			assert.NoError(t, schemas[d.schema].Validate(document), stdout)
			if whole, is := document.(map[string]any); is && slices.Contains(args, bad) && d.status != exitDone && args[1] != bad {
				var inputs []any
				for _, rejected := range whole["rejected"].([]any) {
					inputs = append(inputs, rejected.(map[string]any)["input"])
				}
				assert.Contains(t, inputs, bad, "the path as it was given")
			}
			holdFiles(t, schemas, out)
		})
	}
	for name := range schemas {
		if name != schema.Common && name != "manifest" && name != "record" {
			assert.Contains(t, used, name, "no command prints it")
		}
	}
}

// holdFiles holds the manifests and records below a folder against their schemas.
func holdFiles(t *testing.T, schemas map[string]*jsonschema.Schema, folder string) {
	t.Helper()
	for _, found := range []struct{ pattern, schema string }{{"*/manifest.json", "manifest"}, {"deskpart-record.jsonl", "record"}, {".deskpart-record.jsonl", "record"}} {
		paths, err := filepath.Glob(filepath.Join(folder, found.pattern))
		require.NoError(t, err)
		for _, path := range paths {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			documents := [][]byte{text}
			if found.schema == "record" {
				documents = bytes.Split(bytes.TrimSpace(text), []byte("\n"))
			}
			for _, document := range documents {
				assert.NoError(t, schemas[found.schema].Validate(parseJSON(t, document)), "%s: %s", path, document)
			}
		}
	}
}

// compileSchemas reads all schemas as the validator does, which holds them against the
// standard's own.
func compileSchemas(t *testing.T) map[string]*jsonschema.Schema {
	t.Helper()
	all, err := schema.All()
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	for _, s := range all {
		require.NoError(t, compiler.AddResource("file:///"+s.Name+".json", parseJSON(t, s.Text)))
	}
	compiled := map[string]*jsonschema.Schema{}
	for _, s := range all {
		compiled[s.Name], err = compiler.Compile("file:///" + s.Name + ".json")
		require.NoError(t, err)
	}
	return compiled
}

func parseJSON(t *testing.T, text []byte) any {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err, "%s", text)
	require.True(t, json.Valid(text))
	return document
}
