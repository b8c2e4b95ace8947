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
	"deskpart/musicxml"
)

// heldScore is a score that parts are held against: one, or a movement of a work.
type heldScore struct {
	files.Input
	sum string // of its text as read
}

// partFiles are the part files of a run of collate.
type partFiles struct {
	inputs   []files.Input
	problems []files.Problem
	scores   []heldScore
	source   map[string]string // which part of the score a manifest says a file is, by path
	held     map[string]int    // against which of the scores it says so, by path
	folder   bool              // a folder was given, in which all parts should be
	remarks  []string
}

// findParts finds the part files. Among several folders that earlier runs made,
// those of other scores are passed over where one is this score's.
func findParts(ctx context.Context, p *program, o *collateOptions, score files.Input, paths []string) (*partFiles, error) {
	f := &partFiles{source: map[string]string{}, held: map[string]int{}}
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
	f.take(o, score)
	f.readManifests()
	return f, nil
}

// take takes the score, or the movements of a work, out of a folder that holds it and its
// parts.
func (f *partFiles) take(o *collateOptions, score files.Input) {
	held := score.Movements
	if held == nil {
		held = []files.Input{score}
	}
	for _, in := range held {
		h := heldScore{Input: in}
		if data, err := o.textOf(in); err == nil { // whoever reads the score says why it cannot be
			h.sum = report.Sum(data)
		}
		f.scores = append(f.scores, h)
		f.leaveOut(in.Path)
	}
	f.leaveOut(score.Path)
}

// textOf is a score's file, or what a compressed file has of it.
func (o *collateOptions) textOf(in files.Input) ([]byte, error) {
	data, err := files.ReadInput(in.Path, o.limits.InputBytes, nil)
	if err != nil || in.Inside == "" {
		return data, err
	}
	return musicxml.ReadContained(data, in.Inside, musicxml.ReadOptions{Name: in.Place(), Limits: o.limits})
}

func (f *partFiles) leaveOut(path string) {
	self, err := os.Stat(path)
	f.inputs = slices.DeleteFunc(f.inputs, func(in files.Input) bool {
		info, errInput := os.Stat(in.Path)
		return err == nil && errInput == nil && os.SameFile(self, info)
	})
}

// readManifests reads the manifests beside the files.
func (f *partFiles) readManifests() {
	made := map[string]*report.Manifest{}
	for _, in := range f.inputs {
		dir := filepath.Dir(in.Path)
		if _, known := made[dir]; !known {
			made[dir] = manifestOf(dir)
		}
	}
	own := f.ownFolders(made)
	f.inputs = slices.DeleteFunc(f.inputs, func(in files.Input) bool {
		dir := filepath.Dir(in.Path)
		return len(own) > 0 && made[dir] != nil && !own[dir] || made[dir] != nil && !f.note(made[dir], in.Path)
	})
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

// sourcesOf are the scores that a folder of parts was made from.
func sourcesOf(m *report.Manifest) []report.Source {
	if len(m.Movements) > 0 {
		return m.Movements
	}
	return []report.Source{m.Source}
}

// heldAs finds the score that a source is, by its content or else by its name; -1 for none.
func (f *partFiles) heldAs(s report.Source) (score int, byContent bool) {
	if k := slices.IndexFunc(f.scores, func(h heldScore) bool { return h.sum != "" && h.sum == s.SHA256 }); k >= 0 {
		return k, true
	}
	return slices.IndexFunc(f.scores, func(h heldScore) bool { return path.Base(h.Key) == path.Base(s.Path) }), false
}

// ownFolders are the folders made from the scores, by their content or else by their
// names, where folders of other scores lie beside them.
func (f *partFiles) ownFolders(made map[string]*report.Manifest) map[string]bool {
	byContent, byName := map[string]bool{}, map[string]bool{}
	others := 0
	for dir, m := range made {
		if m == nil {
			continue
		}
		named, same := false, false
		for _, s := range sourcesOf(m) {
			k, content := f.heldAs(s)
			named, same = named || k >= 0, same || content
		}
		switch {
		case same:
			byContent[dir] = true
		case named:
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

// note notes down what a manifest says of a file, and reports whether that is to be held
// against a score: not the part of another movement, nor the sheet of a player who has
// nothing in it.
func (f *partFiles) note(m *report.Manifest, at string) bool {
	file := filepath.Base(at)
	known := slices.ContainsFunc(m.Movements, func(s report.Source) bool { k, _ := f.heldAs(s); return k >= 0 })
	for _, row := range m.Parts {
		if row.File != file {
			continue
		}
		f.source[at] = row.SourcePart
		source := m.Source
		if row.Movement > 0 && row.Movement <= len(m.Movements) {
			source = m.Movements[row.Movement-1]
		}
		k, _ := f.heldAs(source)
		if k >= 0 {
			f.held[at] = k
		}
		return row.Movement == 0 || row.SourcePart != "" && (k >= 0 || !known)
	}
	return true
}
