package main

import (
	"bytes"
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
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
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
	shelf, inputs, problems, err := o.newRun(ctx, p, &o.runFlags, paths, outFolder{o.out, o.style(), o.force})
	if err != nil {
		return err
	}
	shelf.withFiles = o.bundle
	x := &extraction{extractOptions: o, shelfRun: shelf, settings: settings,
		output: files.NewOutput(files.Making{Command: "extract", Version: version, Settings: settings, Force: o.force}, inputs...)}
	x.rows("scores")
	failed := workThrough(ctx, shelf, inputs, problems, x.score, x.deliver)
	if err := x.output.Close(); err != nil && failed == nil {
		failed = err
	}
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
	if len(job.assignments) == 0 && len(x.Only) > 0 {
		want.Parts = []report.PartRow{}
		job.sumSource()
		want.Quick = nil
		result.Folder, result.Manifest, result.unmatched = "", &want, true
		return result, nil
	}
	if err := job.writeAlone(ctx); err != nil {
		return result, err
	}
	if job.unchanged != nil { // another run was quicker
		result.Manifest, result.unchanged = job.unchanged, true
		job.source.Release()
		return result, nil
	}
	result.written, result.removed = int(job.written.Load()), job.removed
	result.Manifest, err = job.release()
	return result, err
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
	if j.surveyed, err = j.survey(ctx, j.worker, j.source, j.Options); err != nil {
		return err
	}
	if j.sheets, err = j.surveyed.Assign(); err != nil {
		return err
	}
	j.assignments = j.sheets.Assignments()
	j.manifest.Source.Title = j.surveyed.Title()
	j.manifest.Source.Pitch, j.manifest.Source.Reason = j.surveyed.Pitch()
	j.manifest.Source.ToldBy, j.manifest.Source.Unsure = j.surveyed.ToldBy(), j.surveyed.Unsaid()
	missing := j.sheets.Missing()
	j.manifest.Source.Warnings = append(j.manifest.Source.Warnings, report.MissingWarnings(missing)...)
	j.manifest.Source.NotFound = wordsOf(missing)
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
	if err := firstError(errs); err != nil {
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

// release gives the score's memory back. The manifest that outlives it is read
// anew from its own text: texts in it are pieces of the score's.
func (j *scoreJob) release() (*report.Manifest, error) {
	kept, err := j.keptManifest()
	if err == nil {
		j.source.Release()
	}
	return kept, err
}

func (j *scoreJob) keptManifest() (*report.Manifest, error) {
	kept := new(report.Manifest)
	err := json.Unmarshal(j.document, kept)
	return kept, err
}

// part makes one part and fills its row. A part that cannot be made is a row
// that says so; only what concerns the whole run is an error.
func (j *scoreJob) part(i int, row *report.PartRow, space *parts.Workspace) error {
	sheet, err := j.sheets.MakeIn(space, i)
	if err != nil {
		row.Fail(err)
		return nil
	}
	j.reports[i] = sheet.Report
	return j.keepSheet(i, sheet, row)
}

// keepSheet writes a part that was made and fills its row.
func (j *scoreJob) keepSheet(i int, sheet *parts.Part, row *report.PartRow) error {
	row.Take(sheet.Report)
	switch {
	case sheet.Document == nil:
		row.File = ""
		return nil
	case j.bundle:
		j.pack(i, sheet, row)
		return nil
	}
	data, err := j.encode(sheet, row.File)
	if err != nil {
		return err
	}
	row.SHA256 = report.Sum(data)
	if err := j.put(row.File, data, row.SHA256); err != nil {
		return j.leave(row, err)
	}
	if j.onPaper && !j.ofWork {
		return j.printBeside(i, sheet, row)
	}
	return nil
}

// put writes a file of that SHA-256.
func (j *scoreJob) put(name string, data []byte, sum string) error {
	wrote, err := j.folder.Write(name, data, files.Origin{Sum: sum})
	if wrote {
		j.written.Add(1)
	}
	return err
}

// leave says in a part's row that something stands in the place of its file; any
// other error is the run's.
func (j *scoreJob) leave(row *report.PartRow, err error) error {
	if musicxml.ErrorCode(err) != notice.InTheWay {
		return err
	}
	row.Fail(err)
	return nil
}

// printBeside writes a part as pages beside its file. A part that cannot be drawn is
// a warning: its file is there.
func (j *scoreJob) printBeside(i int, sheet *parts.Part, row *report.PartRow) error {
	a := &j.assignments[i]
	printed, err := j.options(string(j.Language), 0).Print(printing.Player{Label: a.Label, Instrument: a.Instrument}, sheet.Document.Root())
	if err != nil {
		row.Warnings, row.Status = append(row.Warnings, report.Failure(err)), report.Failed
		return nil
	}
	return j.putPrint(row, strings.TrimSuffix(row.File, j.extension())+".pdf", printed)
}

// putPrint writes pages under a name. Where something stands in the way, the row says so.
func (j *scoreJob) putPrint(row *report.PartRow, name string, printed *printing.Printed) error {
	data, err := printed.PDF()
	if err != nil {
		return err
	}
	row.Warnings = append(slices.Clone(row.Warnings), printed.Warnings...)
	row.Print, row.PrintSHA256 = name, report.Sum(data)
	err = j.put(row.Print, data, row.PrintSHA256)
	if musicxml.ErrorCode(err) == notice.InTheWay {
		row.Warnings, row.Status = append(row.Warnings, report.Failure(err)), report.Failed
		row.Print, row.PrintSHA256 = "", ""
		return nil
	}
	return err
}

// extension is the ending of a part's file name. Inside a bundle parts are not
// packed once more.
func (j *scoreJob) extension() string {
	if j.bundle {
		return ".musicxml"
	}
	return "." + j.format
}

// encode writes a sheet in the format that was asked for, in its workspace or packed.
func (j *scoreJob) encode(sheet *parts.Part, name string) ([]byte, error) {
	data := sheet.Bytes(layout)
	if j.format != "mxl" {
		return data, nil
	}
	var packed bytes.Buffer
	root := strings.TrimSuffix(name, ".mxl") + ".musicxml"
	if err := musicxml.WriteContainer(&packed, root, musicxml.File{Name: root, Data: data}); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
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
