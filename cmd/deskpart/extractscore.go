package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync/atomic"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
)

// scoreJob is the work on one score.
type scoreJob struct {
	*extraction
	worker      *run.Worker
	data        []byte // of the score's file
	source      *musicxml.Score
	surveyed    *parts.Surveyed
	sheets      *parts.Job
	assignments []parts.Assignment
	manifest    *report.Manifest
	old         *report.Manifest // of an earlier run, nil without
	unchanged   *report.Manifest // what another run has made in the meantime, if it is the same
	removed     int
	folder      *files.Folder
	dir         string
	written     atomic.Int64
	changed     atomic.Int64 // of the written, those that somebody had changed
	names       files.Names
	ofWork      bool                        // the score is a movement of a work
	writeAll    func(context.Context) error // default: write
	document    []byte                      // the manifest as written
	stem        string                      // the score's path below the folder searched, without its ending
	packed      []*bundle.Part              // the parts of a bundle, in order
	reports     []parts.Report              // of the parts, in order
}

// read surveys all parts before any is made: a score with a broken part is
// refused whole, and nothing is written for it.
func (j *scoreJob) read(ctx context.Context, in files.Input) error {
	var err error
	if j.source, err = j.readData(j.worker, in, j.data, !j.bundle); err != nil {
		return err
	}
	if j.sheets, err = j.assign(ctx, j.worker, j.source, j.Options); err != nil {
		return err
	}
	j.surveyed, j.assignments = j.sheets.Surveyed(), j.sheets.Assignments()
	j.manifest.Source.Tell(j.surveyed)
	missing := j.sheets.Missing()
	j.manifest.Source.Warnings = append(j.manifest.Source.Warnings, report.MissingWarnings(missing)...)
	j.manifest.Source.NotFound = wordsOf(missing)
	return nil
}

// finish writes the folder, unless nobody plays what was asked for, and says in result what
// that came to. The manifest that outlives the source's memory is read anew from its own
// text: texts in it are pieces of the source's.
func (j *scoreJob) finish(ctx context.Context, nobody bool, source interface{ Release() }, result *extractedScore) error {
	if nobody && len(j.Only) > 0 {
		j.sumSource()
		j.manifest.Parts, j.manifest.Quick = []report.PartRow{}, nil
		result.Folder, result.Manifest, result.unmatched = "", j.manifest, true
		return nil
	}
	if err := j.writeAlone(ctx); err != nil {
		return err
	}
	result.Manifest, result.unchanged = j.unchanged, j.unchanged != nil // another run was quicker
	if !result.unchanged {
		result.written, result.changed, result.removed = int(j.written.Load()), int(j.changed.Load()), j.removed
		if err := json.Unmarshal(j.document, &result.Manifest); err != nil {
			return err
		}
	}
	source.Release()
	return nil
}

// writeAlone writes the folder while no other run does: where one has been at work in
// it, what it made is gone on from.
func (j *scoreJob) writeAlone(ctx context.Context) error {
	if err := j.folder.Begin(ctx, j.isNamed); err != nil {
		return err
	}
	err := j.writeOrLeave(ctx)
	return errors.Join(err, j.folder.End(err == nil))
}

func (j *scoreJob) writeOrLeave(ctx context.Context) (err error) {
	if j.old, err = earlierRun(j.dir, j.force); err != nil {
		return err
	}
	if j.old != nil && !j.force {
		j.sumSource()
		if j.output.UpToDate(j.dir, j.old, *j.manifest) {
			j.unchanged = j.old
			return nil
		}
	}
	if j.writeAll != nil {
		return j.writeAll(ctx)
	}
	return j.write(ctx)
}

// isNamed reports whether an earlier manifest stands for a file of the folder.
func (j *scoreJob) isNamed(name string) bool {
	if j.old == nil {
		return false
	}
	_, named := j.old.Sums()[name]
	return named || name == report.ManifestName
}

// write makes the parts and then the manifest.
func (j *scoreJob) write(ctx context.Context) error {
	rows := make([]report.PartRow, len(j.assignments))
	j.packed = make([]*bundle.Part, len(rows))
	j.reports = make([]parts.Report, len(rows))
	for i, a := range j.assignments {
		rows[i] = report.NewPartRow(a, j.names.Unique(report.PartName(a), j.extension()))
	}
	errs := j.worker.Each(ctx, len(rows)+1, func(_ context.Context, worker, i int) error {
		if i == len(rows) {
			j.sumSource()
			return nil
		}
		return j.part(i, &rows[i], &j.spaces[worker])
	})
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	for i, warnings := range j.sheets.Silent(j.reports) {
		rows[i].Warnings = append(rows[i].Warnings, warnings...)
	}
	if j.bundle {
		if err := j.writeBundle(ctx); err != nil {
			return err
		}
	}
	if err := j.folder.Sync(); err != nil {
		return err
	}
	return j.writeManifest(rows)
}

// writeManifest writes what was made, last of all.
func (j *scoreJob) writeManifest(rows []report.PartRow) (err error) {
	j.manifest.Parts = rows
	if err := j.settleWithEarlierRun(); err != nil {
		return err
	}
	for name := range j.manifest.Sums() {
		j.manifest.Quick.Files[name] = cmp.Or(j.folder.QuickSum(name), j.old.QuickSum(name))
	}
	if j.document, err = report.JSON(j.manifest); err != nil {
		return err
	}
	if _, err := j.folder.Write(report.ManifestName, j.document, files.Origin{}); err != nil {
		return err
	}
	return j.folder.Sync()
}

// sumSource fills in the source's sums where they waited.
func (j *scoreJob) sumSource() {
	if j.manifest.Source.SHA256 == "" {
		j.manifest.SourceSums(j.data, nil)
	}
}

// earlierRun reads the manifest that a folder holds, nil without. One that no run
// of this program wrote is somebody's own and stays.
func earlierRun(dir string, force bool) (*report.Manifest, error) {
	old, err := files.ReadManifest(dir)
	switch {
	case err == nil && old.Tool == report.ToolName:
		return old, nil
	case errors.Is(err, fs.ErrNotExist) || force:
		return nil, nil
	}
	return nil, &musicxml.Error{Code: notice.InTheWay,
		Err: fmt.Errorf("%s holds a %s of something else", dir, report.ManifestName)}
}

// settleWithEarlierRun removes the parts of an earlier run with other settings,
// so that nobody plays from them; a run for some parts only leaves the others
// there and in the manifest.
func (j *scoreJob) settleWithEarlierRun() error {
	switch {
	case len(j.Only) == 0:
		removed, err := j.folder.RemoveOutdated(j.old, j.manifest)
		j.removed = len(removed)
		return err
	case j.old == nil:
		return nil
	case j.old.Source.Path == j.manifest.Source.Path && j.old.Source.SHA256 == j.manifest.Source.SHA256:
		j.keepRows()
	}
	return nil
}

// keepRows keeps the rows of an earlier run whose files were not made anew.
func (j *scoreJob) keepRows() {
	made := map[string]bool{}
	for _, row := range j.manifest.Parts {
		made[row.File] = true
	}
	for _, row := range j.old.Parts {
		if !made[row.File] {
			j.manifest.Parts = append(j.manifest.Parts, row)
		}
	}
	slices.SortStableFunc(j.manifest.Parts, func(a, b report.PartRow) int { return strings.Compare(a.File, b.File) })
}
