package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// program is what runs in the worker.
type program struct {
	code   []byte // WebAssembly
	script []byte // of the Go installation, which starts it
	// example is a score to try the page on.
	example []byte
}

// exampleName is the score that the page has built in.
const exampleName = "lanterns-on-the-quay.musicxml"

// compile builds the program for the browser: without debugging tables, without paths of
// this machine and without what version control says, so that the same source is the
// same bytes everywhere.
func compile() (program, error) {
	var p program
	root, err := goTool("list", "-m", "-f", "{{.Dir}}")
	if err != nil {
		return p, err
	}
	dir, err := os.MkdirTemp("", "deskpage-")
	if err != nil {
		return p, err
	}
	defer os.RemoveAll(dir)
	at := filepath.Join(dir, "deskpart.wasm")
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", at, "./cmd/deskpage/wasm")
	build.Dir = root
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "CGO_ENABLED=0")
	if said, err := build.CombinedOutput(); err != nil {
		return p, fmt.Errorf("the program does not compile: %w\n%s", err, said)
	}
	if p.code, err = os.ReadFile(at); err != nil {
		return p, err
	}
	if p.example, err = os.ReadFile(filepath.Join(root, "examples", exampleName)); err != nil {
		return p, err
	}
	installation, err := goTool("env", "GOROOT")
	if err != nil {
		return p, err
	}
	p.script, err = os.ReadFile(filepath.Join(installation, "lib", "wasm", "wasm_exec.js"))
	return p, err
}

// goTool asks the Go installation.
func goTool(args ...string) (string, error) {
	said, err := exec.Command("go", args...).Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return string(bytes.TrimSpace(said)), nil
}
