package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"slices"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// extraction is one run of extract.
type extraction struct {
	*extractOptions
	*shelfRun
	output       *files.Output
	settings     []byte
	sought       sought
	failed       bool // a part was not made, or is silent where the score sounds
	unrecognised bool // a part was not recognised
}

// extractedScore is what became of one score.
type extractedScore struct {
	Input     string           `json:"input"`
	Folder    string           `json:"folder"`
	Manifest  *report.Manifest `json:"manifest"`
	unchanged bool
	written   int  // files
	removed   int  // files of an earlier run
	changed   int  // files that somebody had changed, written anew
	unmatched bool // the score has none of the parts asked for
}

func runExtract(ctx context.Context, p *program, o *extractOptions, paths []string) error {
	if err := o.settle(p); err != nil {
		return err
	}
	settings, err := o.settings()
	if err != nil {
		return err
	}
	shelf, inputs, problems, err := o.newRun(ctx, p, paths, o.force)
	if err != nil {
		return err
	}
	shelf.withFiles = o.bundle
	x := &extraction{extractOptions: o, shelfRun: shelf, settings: settings,
		output: files.NewOutput(files.Making{Command: "extract", Version: version, Settings: settings, Force: o.force}, inputs...)}
	x.rows("scores")
	failed := workThrough(ctx, shelf, inputs, problems, x.score, x.deliver)
	failed = cmp.Or(failed, x.output.Close())
	err = x.finish(failed, len(inputs)+len(problems), nil)
	if err == nil && (x.lacks(&x.sought) || x.failed || x.strict && x.unrecognised) {
		return errNeedsPerson
	}
	return err
}

// deliver reports one score.
func (x *extraction) deliver(in files.Input, s extractedScore) {
	if s.unchanged {
		x.summary.Unchanged++
	}
	x.summary.Written += s.written
	x.sought.note(s.Manifest.Source.NotFound)
	x.warn(in.Path, "", "", s.Manifest.Source.Warnings...)
	for i, m := range s.Manifest.Movements {
		x.warn(in.Movements[i].Place(), "", "", m.Warnings...)
	}
	if s.unmatched {
		x.row(s)
		return
	}
	for _, row := range s.Manifest.Parts {
		x.summary.Parts++
		path := in.Path
		if row.Movement > 0 {
			path = in.Movements[row.Movement-1].Place()
		}
		x.warn(path, row.SourceName, row.SourcePart, row.Warnings...)
		x.failed = x.failed || row.Status == report.Failed || musicLost(row.Warnings)
		x.unrecognised = x.unrecognised || row.RecognisedBy == parts.ByNone
	}
	x.row(s)
	if !x.json && !x.quiet {
		x.describe(in, s)
	}
}

// musicLost reports whether a part is silent where the score sounds.
func musicLost(warnings []musicxml.Warning) bool {
	return slices.ContainsFunc(warnings, func(w musicxml.Warning) bool { return w.Code == notice.MusicLost })
}

// score extracts the parts of one score.
func (x *extraction) score(ctx context.Context, w *run.Worker, in files.Input) (extractedScore, error) {
	result := extractedScore{Input: in.Path, Folder: files.Join(x.out, in.Stem())}
	if in.Movements != nil {
		return x.workOf(ctx, w, in, result)
	}
	old, err := earlierRun(result.Folder, x.force)
	if err != nil {
		return result, err
	}
	want := report.Manifest{Tool: report.ToolName, Version: version, Settings: x.settings, Source: report.Source{Path: in.Key}}
	if x.isDone(in, result.Folder, want, old) {
		result.Manifest, result.unchanged = old, true
		return result, nil
	}
	x.prepare()
	data, err := x.load(w, in)
	if err != nil {
		return result, err
	}
	// The sum of a first run's plain text can wait until a worker has nothing else to
	// do. Packed data are given back as soon as they are unpacked.
	if old != nil || !bytes.HasPrefix(data, []byte("<")) {
		want.SourceSums(data, old)
	}
	if !x.force && x.output.UpToDate(result.Folder, old, want) {
		result.Manifest, result.unchanged = old, true
		x.buffers.Give(data)
		return result, nil
	}
	job := &scoreJob{extraction: x, worker: w, data: data, old: old, folder: x.output.Folder(result.Folder), dir: result.Folder, stem: in.Stem(), manifest: &want}
	job.names.Style = x.style()
	if err := job.read(ctx, in); err != nil {
		return result, err
	}
	return result, job.finish(ctx, len(job.assignments) == 0, job.source, &result)
}

// isDone tells by quick sums, for which nothing is kept of what is read, whether an
// earlier run has left nothing to do.
func (x *extraction) isDone(in files.Input, dir string, want report.Manifest, old *report.Manifest) bool {
	if old == nil || old.Quick == nil || x.force || old.Quick.Source != files.QuickSum(in) {
		return false
	}
	want.Source.SHA256 = old.Source.SHA256
	return x.output.UpToDate(dir, old, want)
}

// describe prints one score's parts for people.
func (x *extraction) describe(in files.Input, s extractedScore) {
	out := x.program.streams.Out
	if s.unchanged {
		fmt.Fprintf(out, "%s: nothing to do, %s holds %s already\n", report.Visible(in.Called()), report.Visible(s.Folder), notice.Counted(len(s.Manifest.Parts), "part of it", "parts of it"))
		return
	}
	to := s.Folder
	for bundle := range s.Manifest.Files {
		to = files.Join(to, bundle)
	}
	fmt.Fprintf(out, "%s (%s pitch) → %s\n", report.Visible(in.Called()), s.Manifest.Source.Pitch, report.Visible(to))
	if s.changed > 0 {
		fmt.Fprintf(out, "  (%s changed since an earlier run, written anew)\n", notice.Counted(s.changed, "file", "files"))
	}
	if s.removed > 0 {
		fmt.Fprintf(out, "  (%d files of an earlier run with other settings removed)\n", s.removed)
	}
	for _, row := range s.Manifest.Parts {
		name := row.File + row.Inside
		if name == "" { // it has no file
			name = row.Label
		}
		fmt.Fprintf(out, "  %-48s %s\n", report.Visible(name), x.inWords(row))
	}
}

// inWords says how a part was moved, for people.
func (x *extraction) inWords(row report.PartRow) string {
	switch row.Status {
	case report.Failed:
		return "not written: " + report.Visible(row.Warnings[len(row.Warnings)-1].Text)
	case report.Tacet:
		return "silent all through"
	}
	moved := pitch.Interval(row.Moved)
	words := "as in the score"
	if moved != (pitch.Interval{}) {
		words = "written " + moved.String()
	}
	if row.Assumed {
		words += " (assumed)"
	}
	return words
}
