package main

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"strings"
	"text/template"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// face is what people see of the page: its frame, its look and its modules.
//
//go:embed face
var face embed.FS

// assemble puts the page together.
func assemble(p program) ([]byte, error) {
	frame, err := template.ParseFS(face, "face/page.html")
	if err != nil {
		return nil, err
	}
	style, err := fs.ReadFile(face, "face/page.css")
	if err != nil {
		return nil, err
	}
	script, err := join("face", "main.js")
	if err != nil {
		return nil, err
	}
	worker, err := workerScript(p.script)
	if err != nil {
		return nil, err
	}
	packed, sum, err := packProgram(p.code)
	if err != nil {
		return nil, err
	}
	said, err := pageTexts()
	if err != nil {
		return nil, err
	}
	example, err := pack(p.example)
	if err != nil {
		return nil, err
	}
	// What runs is named in the policy by its sum, so that nothing else can.
	begin := fmt.Sprintf("const texts = %s;\n%s", said, script)
	var page bytes.Buffer
	err = frame.Execute(&page, map[string]any{
		"Policy":  policy(begin),
		"Style":   string(style),
		"Script":  begin,
		"Worker":  base64.StdEncoding.EncodeToString(worker),
		"Program": packed,
		"Sum":     sum,
		"Example": example,
	})
	return page.Bytes(), err
}

// decoder unpacks the program: fzstd, a small library that is kept well, as it is.
//
//go:embed kept/fzstd.mjs
var decoder []byte

// workerScript is what the worker runs: what starts a program of Go, the decoder, and its
// own part.
func workerScript(starts []byte) ([]byte, error) {
	own, err := fs.ReadFile(face, "face/worker.js")
	return bytes.Join([][]byte{starts, exportLine.ReplaceAll(exportWord.ReplaceAll(decoder, nil), nil), own}, []byte("\n")), err
}

// policy lets the page run its own script and the program in a worker, and ask nothing of
// anybody. Styles are not named by sums: the pages of lessons, shown within, have theirs.
func policy(script string) string {
	sum := sha256.Sum256([]byte(script))
	return strings.Join([]string{
		"default-src 'none'", "script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "' 'wasm-unsafe-eval'",
		"worker-src blob:", "style-src 'unsafe-inline'", "img-src blob: data:", "frame-src blob:", "base-uri 'none'", "form-action 'none'",
	}, "; ")
}

// pageTexts are the page's texts in all languages, as JSON.
func pageTexts() ([]byte, error) {
	all := map[pitch.Language]map[string]string{}
	for _, l := range pitch.Languages() {
		said, err := texts.In(l)
		if err != nil {
			return nil, err
		}
		all[l] = said.Raw("page.")
		maps.Copy(all[l], said.Raw("topic."))
	}
	return json.Marshal(all)
}

var (
	importLine = regexp.MustCompile(`(?m)^import \{[^}]*\} from "\./([a-z]+\.js)";\n`)
	exportWord = regexp.MustCompile(`(?m)^export `)
	exportLine = regexp.MustCompile(`(?m)^\{ [A-Za-z]+ \};$`)
)

// join makes one module of a module and all that it imports: each once, after those that
// it imports itself. They share one scope, so that a name may stand in one of them only.
func join(dir, name string) ([]byte, error) {
	var joined bytes.Buffer
	seen := map[string]bool{}
	var add func(string) error
	add = func(name string) error {
		if seen[name] {
			return nil
		}
		seen[name] = true
		text, err := fs.ReadFile(face, path.Join(dir, name))
		if err != nil {
			return err
		}
		for _, found := range importLine.FindAllSubmatch(text, -1) {
			if err := add(string(found[1])); err != nil {
				return err
			}
		}
		joined.Write(exportWord.ReplaceAll(importLine.ReplaceAll(text, nil), nil))
		return nil
	}
	err := add(name)
	return joined.Bytes(), err
}
