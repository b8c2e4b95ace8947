package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// keyReader reads the keys of mark within the memory that there is.
type keyReader struct {
	options   *markOptions
	worker    *run.Worker
	catalogue *instruments.Catalogue
}

// keys reads the key, or the keys of a folder of exercises.
func (r *keyReader) keys(path, question string) ([]*marking.Key, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such key", path)
	case err != nil:
		return nil, musicxml.Locate(report.ReadingError(err), musicxml.Error{File: path})
	case !info.IsDir():
		return r.key(path, question)
	}
	var keys []*marking.Key
	for _, answer := range answersIn(path) {
		more, err := r.key(answer, "")
		if err != nil {
			return nil, err
		}
		keys = append(keys, more...)
	}
	if len(keys) == 0 {
		return nil, &musicxml.Error{File: path, Code: notice.NoKey, Err: errors.New("no answer-01.musicxml and so on are in it")}
	}
	return keys, nil
}

// answersIn lists the answers of a folder, or of the folders of its versions.
func answersIn(folder string) []string {
	var found []string
	for _, pattern := range []string{"answer-*.musicxml", "*/answer-*.musicxml"} {
		names, _ := filepath.Glob(filepath.Join(escapeGlob(folder), pattern)) // the pattern is well-formed
		slices.Sort(names)
		if found = append(found, names...); len(found) > 0 {
			return found
		}
	}
	return nil
}

// escapeGlob makes a folder's name stand for itself in a pattern.
func escapeGlob(name string) string {
	return strings.NewReplacer(`*`, `[*]`, `?`, `[?]`, `[`, `[[]`).Replace(name)
}

func (r *keyReader) key(path, question string) ([]*marking.Key, error) {
	answer, err := r.read(path)
	if err != nil {
		return nil, err
	}
	var asked *musicxml.Score
	if question == "" {
		question = questionBeside(path)
	}
	if question != "" {
		if asked, err = r.read(question); err != nil {
			return nil, err
		}
	}
	return marking.NewKeys(answer, asked, r.catalogue)
}

// questionBeside is exercise-NN beside answer-NN, "" where there is none.
func questionBeside(path string) string {
	name, isAnswer := strings.CutPrefix(filepath.Base(path), "answer-")
	if !isAnswer {
		return ""
	}
	question := filepath.Join(filepath.Dir(path), "exercise-"+name)
	if _, err := os.Stat(question); err != nil {
		return ""
	}
	return question
}

// read reads a score that stays to the end of the run.
func (r *keyReader) read(path string) (*musicxml.Score, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: path})
	}
	score, err := r.options.readAnswer(r.worker, files.Input{Path: path, Size: info.Size()})
	if err == nil {
		r.options.appetite().keep(r.worker, score)
		r.options.against = max(r.options.against, int64(score.Weight().Measures))
	}
	return score, err
}
