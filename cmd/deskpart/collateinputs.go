package main

import (
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
)

// partFiles are the part files of a run of collate.
type partFiles struct {
	inputs   []files.Input
	problems []files.Problem
	source   map[string]string // which part of the score a manifest says a file is, by path
	folder   bool              // a folder was given, in which all parts should be
	remarks  []string
}

// findParts finds the part files. Among several folders that earlier runs made,
// those of other scores are passed over where one is this score's.
func findParts(ctx context.Context, p *program, o *collateOptions, score files.Input, paths []string) (*partFiles, error) {
	f := &partFiles{source: map[string]string{}}
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			f.folder = true
		}
	}
	search := files.Search{Paths: paths, FilesFrom: o.filesFrom, In: p.streams.In, MadeParts: true}
	var err error
	if f.inputs, f.problems, err = search.Find(ctx); err != nil {
		return nil, err
	}
	f.leaveOut(score)
	f.readManifests(score)
	return f, nil
}

// leaveOut takes the score itself out of a folder that holds it and its parts.
func (f *partFiles) leaveOut(score files.Input) {
	self, err := os.Stat(score.Path)
	f.inputs = slices.DeleteFunc(f.inputs, func(in files.Input) bool {
		info, errInput := os.Stat(in.Path)
		return err == nil && errInput == nil && os.SameFile(self, info)
	})
}

// readManifests reads the manifests beside the files.
func (f *partFiles) readManifests(score files.Input) {
	made := map[string]*report.Manifest{}
	for _, in := range f.inputs {
		dir := filepath.Dir(in.Path)
		if _, known := made[dir]; !known {
			made[dir] = manifestOf(dir)
		}
	}
	own := f.ownFolders(made, score)
	f.inputs = slices.DeleteFunc(f.inputs, func(in files.Input) bool {
		dir := filepath.Dir(in.Path)
		return len(own) > 0 && made[dir] != nil && !own[dir] || made[dir] != nil && ofAnotherMovement(made[dir], filepath.Base(in.Path), score)
	})
	for _, in := range f.inputs {
		if m := made[filepath.Dir(in.Path)]; m != nil {
			f.source[in.Path] = sourceOf(m, filepath.Base(in.Path))
		}
	}
}

// manifestOf reads the manifest that an earlier run left in a folder, nil where
// there is none.
func manifestOf(dir string) *report.Manifest {
	m, err := files.ReadManifest(dir)
	if err != nil || m.Tool != report.ToolName {
		return nil
	}
	return m
}

// ownFolders are the folders made from this score, by its content or else by its
// name, where folders of other scores lie beside them.
func (f *partFiles) ownFolders(made map[string]*report.Manifest, score files.Input) map[string]bool {
	byContent, byName := map[string]bool{}, map[string]bool{}
	sum := ""
	others := 0
	for dir, m := range made {
		if m == nil {
			continue
		}
		if sum == "" {
			if data, err := files.ReadInput(score.Path, 0, nil); err == nil {
				sum = report.Sum(data)
			}
		}
		switch {
		case m.Source.SHA256 == sum || slices.ContainsFunc(m.Movements, func(s report.Source) bool { return s.SHA256 == sum }):
			byContent[dir] = true
		case path.Base(m.Source.Path) == filepath.Base(score.Path) || movementNamed(m, score) > 0:
			byName[dir] = true
		default:
			others++
		}
	}
	own := byContent
	if len(own) == 0 {
		own = byName
	}
	if passed := len(byContent) + len(byName) + others - len(own); len(own) > 0 && passed > 0 {
		f.remarks = append(f.remarks, fmt.Sprintf("%d folders of parts that were made from other scores are passed over", passed))
	}
	return own
}

// movementNamed is the movement of a work, from 1, whose score has that name; 0 for none.
func movementNamed(m *report.Manifest, score files.Input) int {
	return 1 + slices.IndexFunc(m.Movements, func(s report.Source) bool { return path.Base(s.Path) == filepath.Base(score.Path) })
}

// ofAnotherMovement reports whether a file was made of another movement of a work than the
// score, or is the sheet of a player who has nothing in it.
func ofAnotherMovement(m *report.Manifest, file string, score files.Input) bool {
	if len(m.Movements) == 0 {
		return false
	}
	movement := movementNamed(m, score)
	if data, err := files.ReadInput(score.Path, 0, nil); err == nil {
		sum := report.Sum(data)
		if k := slices.IndexFunc(m.Movements, func(s report.Source) bool { return s.SHA256 == sum }); k >= 0 {
			movement = k + 1
		}
	}
	for _, row := range m.Parts {
		if row.File == file {
			return row.SourcePart == "" || movement > 0 && row.Movement != movement
		}
	}
	return false
}

// sourceOf is the part of the score that a file was made from.
func sourceOf(m *report.Manifest, file string) string {
	for _, row := range m.Parts {
		if row.File == file {
			return row.SourcePart
		}
	}
	return ""
}
