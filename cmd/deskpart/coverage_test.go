package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// The files of testdata/coverage are small scores, one for each row of
// trade/musicxml-coverage.md, in its order. The comment at a file's head says what it
// shows, which section of the standard says so, and what must come, worked out by hand:
//
//	extract P1 -players      a run of the program, and the output that is looked at
//	  note/pitch/step = D E  elements by their path below <part> and their texts
//	  note/chord # 2         how many there are
//	  note@dynamics = 90     an attribute
//	  /part-list/score-part/part-name = Oboe     a path below the root
//	  pitches = D4 F#4       all notes
//	  says chord-text        a warning of that code
//	  silent on chord-text   none
//
// Flags have one hyphen, as a comment may not hold two. "extract P1.2" is the second output of part P1, "reassign P1 oboe" a part for another
// instrument, "concert P1" and "written P1" a converted score. Every row is also
// converted both ways and verified, and every output is valid.
const coverageDir = "testdata/coverage"

// coverageRow is one file.
type coverageRow struct {
	path, name string
	source     *etree.Document
	blocks     []coverageBlock
	verdict    string // that verify comes to
	back       bool   // conversion both ways gives the source
}

// coverageBlock is one run and what must come of it.
type coverageBlock struct {
	command string
	claims  []string
}

func readCoverageRow(t *testing.T, path string) coverageRow {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	doc, err := musicxml.ParseDocument(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	row := coverageRow{path: path, name: strings.TrimSuffix(filepath.Base(path), ".musicxml"), source: doc, verdict: "identical", back: true}
	for _, token := range doc.Child {
		if comment, ok := token.(*etree.Comment); ok {
			row.read(t, comment.Data)
			return row
		}
	}
	t.Fatalf("%s: no comment says what it shows", path)
	return row
}

func (r *coverageRow) read(t *testing.T, comment string) {
	t.Helper()
	lines := strings.Split(comment, "\n")
	require.Regexp(t, `(?m)^standard: .+`, comment, "the section of the standard is named")
	for _, line := range lines {
		switch {
		case regexp.MustCompile(`^(extract|reassign|concert|written) P\d`).MatchString(line):
			r.blocks = append(r.blocks, coverageBlock{command: line})
		case strings.HasPrefix(line, "verify = "):
			r.verdict = strings.TrimPrefix(line, "verify = ")
		case line == "back = other":
			r.back = false
		case strings.HasPrefix(line, "  ") && len(r.blocks) > 0:
			last := &r.blocks[len(r.blocks)-1]
			last.claims = append(last.claims, strings.TrimSpace(line))
		}
	}
	require.NotEmpty(t, r.blocks, "something is run")
	for _, b := range r.blocks {
		require.NotEmpty(t, b.claims, "%s claims something", b.command)
	}
}

// outputs gathers files to be held against the schema together.
type outputs struct {
	sync.Mutex
	files []string
}

func (o *outputs) add(files ...string) {
	o.Lock()
	defer o.Unlock()
	o.files = append(o.files, files...)
}

// TestEveryRowOfTheStandard runs each row of the coverage table.
func TestEveryRowOfTheStandard(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), coverageDir, "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	catalogue := sync.OnceValues(instruments.Load)
	made := &outputs{}
	dir := t.TempDir()
	t.Run("rows", func(t *testing.T) {
		for _, path := range files {
			row := readCoverageRow(t, path)
			t.Run(row.name, func(t *testing.T) {
				t.Parallel()
				c := &coverageRun{coverageRow: row, t: t, dir: filepath.Join(dir, row.name), made: made, catalogue: catalogue}
				require.NoError(t, os.MkdirAll(c.dir, 0o755))
				c.all()
				c.judge()
			})
		}
	})
	if said, err := musicxmltest.Validate(t, append(made.files, files...)...); err != nil {
		t.Errorf("not valid: %v\n%s", err, lastLines(said, 40))
	}
}

func lastLines(text string, n int) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

// TestCoverageHasEveryRow holds the files against the table, row by row.
func TestCoverageHasEveryRow(t *testing.T) {
	table, err := os.ReadFile(filepath.Join(musicxmltest.SharedDir(t), "trade", "musicxml-coverage.md"))
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), coverageDir, "*.musicxml"))
	require.NoError(t, err)
	n := 0
	for line := range strings.Lines(string(table)) {
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| Element") {
			continue
		}
		require.Less(t, n, len(files), "a file for: %s", line)
		data, err := os.ReadFile(files[n])
		require.NoError(t, err)
		n++
		assert.True(t, strings.HasPrefix(filepath.Base(files[n-1]), fmt.Sprintf("%03d-", n)), files[n-1])
		element := regexp.MustCompile("`([^`]+)`").FindStringSubmatch(strings.Split(line, "|")[1])
		if element != nil {
			assert.Contains(t, string(data), strings.Fields(element[1])[0], "row %d shows its element", n)
		}
	}
	assert.Equal(t, n, len(files), "a row for every file")
}

// coverageRun is the work on one row.
type coverageRun struct {
	coverageRow
	t         *testing.T
	dir       string
	made      *outputs
	catalogue func() (*instruments.Catalogue, error)
	runs      int
	faults    []string
}

// fault notes down a claim that does not hold.
func (c *coverageRun) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, args...))
}

// all checks what the row claims, and what holds of every row.
func (c *coverageRun) all() {
	for _, b := range c.blocks {
		doc, codes := c.output(b.command)
		if doc == nil {
			continue
		}
		for _, claim := range b.claims {
			c.check(b.command, claim, doc, codes)
		}
	}
	c.verify()
	c.thereAndBack()
}

// judge fails the row for what does not hold.
func (c *coverageRun) judge() {
	for _, f := range c.faults {
		c.t.Error(f)
	}
}

// program runs deskpart and returns its standard output.
func (c *coverageRun) program(args ...string) []byte {
	c.t.Helper()
	var out, errs bytes.Buffer
	p := &program{streams: &report.Streams{In: strings.NewReader(""), Out: &out, Err: &errs}, catalogue: c.catalogue}
	root := newRootCmd(p)
	root.SetArgs(args)
	root.SetOut(&out)
	root.SetErr(&errs)
	if err := root.ExecuteContext(context.Background()); err != nil && err != errNeedsPerson {
		c.fault("deskpart %s: %v\n%s", strings.Join(args, " "), err, errs.String())
	}
	return out.Bytes()
}

// output runs a block's command and returns the document that it is about, with the
// codes of the warnings.
func (c *coverageRun) output(command string) (*etree.Document, []string) {
	words := strings.Fields(command)
	for i, w := range words {
		words[i] = regexp.MustCompile(`^-([a-z])`).ReplaceAllString(w, "--$1") // a comment holds no two hyphens
	}
	c.runs++
	out := filepath.Join(c.dir, fmt.Sprint(c.runs))
	switch words[0] {
	case "extract":
		return c.extracted(words[1], out, words[2:])
	case "reassign":
		return c.reassigned(words[1], words[2], out+".musicxml", words[3:])
	}
	return c.converted(c.path, words[0], out), nil
}

// extracted makes parts and returns that of a source part: "P1", or "P1.2" for the
// second of its outputs.
func (c *coverageRun) extracted(part, out string, flags []string) (*etree.Document, []string) {
	c.program(append([]string{"extract", c.path, "--out", out, "--quiet"}, flags...)...)
	folder := filepath.Join(out, c.name)
	data, err := os.ReadFile(filepath.Join(folder, "manifest.json"))
	if !assert.NoError(c.t, err) {
		return nil, nil
	}
	var manifest report.Manifest
	require.NoError(c.t, json.Unmarshal(data, &manifest))
	id, which := part, 1
	if before, after, ok := strings.Cut(part, "."); ok {
		id = before
		fmt.Sscan(after, &which)
	}
	var doc *etree.Document
	var codes []string
	for _, p := range manifest.Parts {
		file := filepath.Join(folder, p.File)
		if p.File != "" && strings.HasSuffix(file, ".musicxml") {
			c.made.add(file)
		}
		if p.SourcePart != id {
			continue
		}
		if which--; which == 0 {
			doc = c.readFile(file)
			for _, w := range p.Warnings {
				codes = append(codes, string(w.Code))
			}
		}
	}
	assert.NotNil(c.t, doc, "extract gives %s", part)
	return doc, codes
}

func (c *coverageRun) reassigned(part, to, out string, flags []string) (*etree.Document, []string) {
	said := c.program(append([]string{"reassign", c.path, "--part", part, "--to", to, "--out", out, "--json"}, flags...)...)
	var r struct {
		Warnings   []struct{ Code string }
		Unplayable []struct{ Text string }
	}
	assert.NoError(c.t, json.Unmarshal(said, &r))
	var codes []string
	for _, w := range r.Warnings {
		codes = append(codes, w.Code)
	}
	for _, u := range r.Unplayable {
		codes = append(codes, "unplayable", u.Text)
	}
	c.made.add(out)
	return c.readFile(out), codes
}

func (c *coverageRun) converted(path, to, out string) *etree.Document {
	c.program("convert", path, "--to", to, "--out", out, "--quiet")
	file := filepath.Join(out, c.name+".musicxml")
	c.made.add(file)
	return c.readFile(file)
}

func (c *coverageRun) readFile(path string) *etree.Document {
	data, err := os.ReadFile(path)
	if !assert.NoError(c.t, err) {
		return nil
	}
	if strings.HasSuffix(path, ".mxl") {
		score, err := musicxml.Read(data, musicxml.ReadOptions{})
		require.NoError(c.t, err)
		assert.Equal(c.t, strings.TrimSuffix(filepath.Base(path), ".mxl")+".musicxml", score.RootName)
		part, err := score.ReadPart(0, nil)
		require.NoError(c.t, err)
		doc := score.NewDocument()
		doc.Root().AddChild(part)
		return doc
	}
	doc, err := musicxml.ParseDocument(data, musicxml.ReadOptions{})
	if !assert.NoError(c.t, err) {
		return nil
	}
	return doc
}

// check holds a claim against a document.
func (c *coverageRun) check(command, claim string, doc *etree.Document, codes []string) {
	where := c.name + ": " + command
	if code, ok := strings.CutPrefix(claim, "says "); ok {
		if !slices.ContainsFunc(codes, func(s string) bool { return strings.Contains(s, code) }) {
			c.fault("%s: says %s, but says %q", where, code, codes)
		}
		return
	}
	if code, ok := strings.CutPrefix(claim, "silent on "); ok {
		assert.NotContains(c.t, codes, code, where)
		return
	}
	if path, count, ok := strings.Cut(claim, " # "); ok {
		if n := len(elementsAt(doc, command, path)); fmt.Sprint(n) != count {
			c.fault("%s: %s, but there are %d", where, claim, n)
		}
		return
	}
	path, want, ok := strings.Cut(claim, " =")
	require.True(c.t, ok, "%s: a claim that cannot be read: %s", where, claim)
	if got := strings.TrimSpace(valueAt(doc, command, path)); got != strings.TrimSpace(want) {
		c.fault("%s: %s, but is %q", where, claim, got)
	}
}

// elementsAt finds elements by their path below the part that a command is about, or
// below the root.
func elementsAt(doc *etree.Document, command, path string) []*etree.Element {
	from := doc.FindElement("/*/part")
	if id := strings.Fields(command)[1]; !strings.HasPrefix(command, "extract") && !strings.HasPrefix(command, "reassign") {
		from = doc.FindElement("/*/part[@id='" + id + "']")
	}
	if below, ok := strings.CutPrefix(path, "/"); ok {
		from, path = doc.Root(), below
	}
	if from == nil {
		return nil
	}
	return from.FindElements(path)
}

// valueAt is the texts at a path, or the values of an attribute, one space between.
func valueAt(doc *etree.Document, command, path string) string {
	if path == "pitches" {
		return pitchesOf(elementsAt(doc, command, "measure/note"))
	}
	path, attribute, isAttribute := cutAttribute(path)
	var values []string
	for _, e := range elementsAt(doc, command, path) {
		switch {
		case !isAttribute:
			values = append(values, musicxml.Text(e))
		case e.SelectAttr(attribute) != nil:
			values = append(values, e.SelectAttrValue(attribute, ""))
		}
	}
	return strings.Join(values, " ")
}

// cutAttribute parts "note@dynamics"; an @ inside brackets is a condition.
func cutAttribute(path string) (element, attribute string, ok bool) {
	i := strings.LastIndex(path, "@")
	if i < 0 || strings.Contains(path[i:], "]") {
		return path, "", false
	}
	return path[:i], path[i+1:], true
}

// pitchesOf writes notes as "C4", "F#5", "Bb3", "x" without pitch.
func pitchesOf(notes []*etree.Element) string {
	var names []string
	for _, n := range notes {
		p := musicxml.Child(n, "pitch")
		switch {
		case p != nil:
			signs := map[string]string{"": "", "0": "", "1": "#", "-1": "b", "2": "##", "-2": "bb", "0.5": "+", "-0.5": "-", "1.5": "#+", "-1.5": "b-"}
			sign, known := signs[musicxml.ChildText(p, "alter")]
			if !known {
				sign = "(" + musicxml.ChildText(p, "alter") + ")"
			}
			names = append(names, musicxml.ChildText(p, "step")+sign+musicxml.ChildText(p, "octave"))
		case musicxml.Child(n, "unpitched") != nil:
			names = append(names, "x")
		}
	}
	return strings.Join(names, " ")
}

// verify runs verify.
func (c *coverageRun) verify() {
	var r struct {
		Parts, Identical, Respelled, Different int
		Rejected                               []struct{ Input, Code, Text string }
		Details                                []struct{ Part, Measure, Beat, Text string }
	}
	if !assert.NoError(c.t, json.Unmarshal(c.program("verify", c.path, "--json"), &r)) {
		return
	}
	verdict := "identical"
	switch {
	case len(r.Rejected) > 0:
		verdict = "rejected"
	case r.Different > 0:
		verdict = "different"
	case r.Respelled > 0:
		verdict = "respelled"
	}
	if verdict != c.verdict {
		c.fault("%s: verify says %s in place of %s: %v", c.name, verdict, c.verdict, r.Details)
	}
}

// thereAndBack converts the score to the pitch that it is not in and back.
func (c *coverageRun) thereAndBack() {
	there, back := "written", "concert"
	if strings.Contains(string(c.program("survey", c.path, "--json")), `"pitch": "written"`) {
		there, back = back, there
	}
	if c.converted(c.path, there, filepath.Join(c.dir, "there")) == nil {
		return
	}
	got := c.converted(filepath.Join(c.dir, "there", c.name+".musicxml"), back, filepath.Join(c.dir, "back"))
	if got == nil {
		return
	}
	for i, want := range c.source.FindElements("/*/part") {
		parts := got.FindElements("/*/part")
		if !assert.Less(c.t, i, len(parts)) {
			return
		}
		a, b := linesOf(want), linesOf(parts[i])
		if c.back && a != b {
			c.fault("%s: to %s and back, part %s: %s", c.name, there, want.SelectAttrValue("id", ""), firstDifference(a, b))
		}
	}
}

// firstDifference says where two texts part.
func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			return fmt.Sprintf("%q in place of %q", strings.Join(b[min(max(0, i-1), len(b)):min(len(b), i+2)], "|"), strings.Join(a[max(0, i-1):min(len(a), i+2)], "|"))
		}
	}
	return "there is more at the end"
}

// linesOf writes an element a line, without words for the maker of parts.
func linesOf(e *etree.Element) string {
	var b strings.Builder
	var write func(e *etree.Element, depth int)
	write = func(e *etree.Element, depth int) {
		if e.Tag == "for-part" || e.Tag == "attributes" && onlyForPart(e) {
			return
		}
		fmt.Fprintf(&b, "%s%s", strings.Repeat(" ", depth), e.Tag)
		attributes := slices.Clone(e.Attr)
		slices.SortFunc(attributes, func(a, b etree.Attr) int { return strings.Compare(a.FullKey(), b.FullKey()) })
		for _, a := range attributes {
			fmt.Fprintf(&b, " %s=%q", a.FullKey(), a.Value)
		}
		fmt.Fprintf(&b, " %s\n", musicxml.Text(e))
		for _, child := range e.ChildElements() {
			write(child, depth+1)
		}
	}
	write(e, 0)
	return b.String()
}

func onlyForPart(attributes *etree.Element) bool {
	children := attributes.ChildElements()
	return !slices.ContainsFunc(children, func(e *etree.Element) bool { return e.Tag != "for-part" })
}
