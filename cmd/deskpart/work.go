package main

import (
	"cmp"
	"context"
	"path"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
	"deskpart/musicxml/works"
)

// readWork is a work of several movements that was read and surveyed, with its players.
type readWork struct {
	*works.Work
	Scores   []*musicxml.Score
	Surveyed []*parts.Surveyed
}

// readWork reads all movements of a work, whose data are given, and finds its players.
func (r *shelfRun) readWork(ctx context.Context, w *run.Worker, in files.Input, data [][]byte, o parts.Options) (*readWork, error) {
	work := &readWork{}
	o.Work, o.WholePlan = true, false
	for i, movement := range in.Movements {
		score, err := r.readData(w, movement, data[i], !r.withFiles)
		if err != nil {
			return nil, musicxml.Locate(err, musicxml.Error{File: movement.Place()})
		}
		work.Scores = append(work.Scores, score)
		surveyed, err := r.survey(ctx, w, score, o)
		if err != nil {
			return nil, musicxml.Locate(err, musicxml.Error{File: movement.Place()})
		}
		work.Surveyed = append(work.Surveyed, surveyed)
	}
	catalogue, err := r.program.catalogue()
	if err == nil {
		work.Work, err = works.Find(catalogue, o.Language, work.Surveyed)
	}
	if err != nil {
		return nil, err
	}
	work.Name(in.Title, path.Base(in.Stem()), work.Surveyed, titlesOf(in))
	return work, nil
}

// Release gives the memory of all movements back.
func (w *readWork) Release() {
	for _, score := range w.Scores {
		score.Release()
	}
}

// workJob is the extraction of a work.
type workJob struct {
	*scoreJob // the folder of the work
	*readWork
	movements []*scoreJob
}

// workOf extracts the parts of a work.
func (x *extraction) workOf(ctx context.Context, w *run.Worker, in files.Input, result extractedScore) (extractedScore, error) {
	want := report.Manifest{Tool: report.ToolName, Version: version, Settings: x.settings, Source: report.Source{Path: in.Key}}
	old, err := earlierRun(result.Folder, x.force)
	if err != nil {
		return result, err
	}
	if old == nil {
		x.prepare()
	}
	data, err := x.loadWork(w, in, &want, old)
	if err != nil {
		return result, err
	}
	if !x.force && x.output.UpToDate(result.Folder, old, want) {
		result.Manifest, result.unchanged = old, true
		return result, nil
	}
	j := &workJob{scoreJob: &scoreJob{extraction: x, worker: w, old: old, folder: x.output.Folder(result.Folder), dir: result.Folder, stem: in.Stem(), manifest: &want, ofWork: true}}
	j.names.Style = x.style()
	j.writeAll = j.write
	if j.readWork, err = x.readWork(ctx, w, in, data, x.Options); err != nil {
		return result, err
	}
	want.TellWork(j.Work, j.Surveyed)
	want.Source.NotFound = wordsOf(j.Missing())
	err = j.finish(ctx, len(j.Players) == 0, j.readWork, &result)
	for _, m := range j.movements {
		result.written += int(m.written.Load())
	}
	return result, err
}

// loadMovements reads the files of all movements of a work.
func (r *shelfRun) loadMovements(w *run.Worker, in files.Input) ([][]byte, error) {
	var data [][]byte
	for _, movement := range in.Movements {
		read, err := r.load(w, movement)
		if err != nil {
			return nil, musicxml.Locate(err, musicxml.Error{File: movement.Place()})
		}
		data = append(data, read)
	}
	return data, nil
}

// loadWork reads the files of all movements and takes down their sums, as an earlier
// manifest has them where nothing has changed since. It may be nil.
func (x *extraction) loadWork(w *run.Worker, in files.Input, want, old *report.Manifest) ([][]byte, error) {
	data, err := x.loadMovements(w, in)
	if err != nil {
		return nil, err
	}
	for _, movement := range in.Movements {
		want.Movements = append(want.Movements, report.Source{Path: movement.Key})
	}
	want.Quick = &report.QuickSums{Source: report.WorkSum(in.Title, data, titlesOf(in), report.QuickSum), Files: map[string]string{}}
	if old != nil && old.Quick != nil && old.Quick.Source == want.Quick.Source && len(old.Movements) == len(data) {
		want.Source.SHA256 = old.Source.SHA256
		for i := range data {
			want.Movements[i].SHA256 = old.Movements[i].SHA256
		}
		return data, nil
	}
	for i := range data {
		want.Movements[i].SHA256 = report.Sum(data[i])
	}
	want.Source.SHA256 = report.WorkSum(in.Title, data, titlesOf(in), report.Sum)
	return data, nil
}

// titlesOf are what an opus calls its movements.
func titlesOf(in files.Input) []string {
	titles := make([]string, len(in.Movements))
	for i, movement := range in.Movements {
		titles[i] = movement.Title
	}
	return titles
}

// write makes the files of all players and then the manifest.
func (j *workJob) write(ctx context.Context) error {
	rows := j.rows()
	errs := j.worker.Each(ctx, len(rows), func(_ context.Context, worker, i int) error {
		return j.file(&rows[i], i, &j.spaces[worker])
	})
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	for i := range rows {
		if rows[i].Inside != "" {
			rows[i].Inside = j.folderOf(i%len(j.Jobs)) + rows[i].Inside
		}
	}
	for m := range j.movements {
		report.TellSilent(j.Work, m, j.movements[m].reports, rows)
	}
	if j.bundle {
		if err := j.bundleAll(ctx); err != nil {
			return err
		}
	}
	if j.onPaper {
		if err := j.printBooks(ctx, rows); err != nil {
			return err
		}
	}
	if err := j.folder.Sync(); err != nil {
		return err
	}
	return j.writeManifest(rows)
}

// rows are those of all files, player by player, movement by movement.
func (j *workJob) rows() []report.PartRow {
	for m := range j.Jobs {
		files := j.Jobs[m].Assignments()
		j.movements = append(j.movements, &scoreJob{extraction: j.extraction, worker: j.worker, folder: j.folder, sheets: j.Jobs[m],
			assignments: files, reports: make([]parts.Report, len(files)), packed: make([]*bundle.Part, len(files)+len(j.Players)), surveyed: j.Surveyed[m], ofWork: true})
	}
	var rows []report.PartRow
	for p := range j.Players {
		for m := range j.Jobs {
			rows = append(rows, report.NewWorkRow(j.Work, p, m, j.names.Unique(j.FileName(p, m), j.extension())))
		}
	}
	return rows
}

// file makes what a player has of a movement, row i.
func (j *workJob) file(row *report.PartRow, i int, space *parts.Workspace) error {
	p, m := i/len(j.Jobs), i%len(j.Jobs)
	player := &j.Players[p]
	if file := player.Files[m]; file >= 0 {
		return j.movements[m].part(file, row, space)
	}
	sheet, err := j.Jobs[m].MakeTacet(space, player.Label, player.Instruments[m])
	if err != nil {
		row.Fail(err)
		return nil
	}
	if j.Tacet == parts.TacetSkip {
		sheet.Document = nil
	}
	return j.movements[m].keepSheet(len(j.movements[m].assignments)+p, sheet, row)
}
