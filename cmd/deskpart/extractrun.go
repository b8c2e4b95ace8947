package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"

	"deskpart/cmd/deskpart/internal/batch"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

// extraction is one run of extract.
type extraction struct {
	*extractOptions
	program   *program
	catalogue *instruments.Catalogue
	output    *batch.Output
	settings  []byte
	slabs     []*musicxml.Slabs // one a seat
	buffers   musicxml.Buffers
	progress  *batch.Progress
	summary   batch.Summary
	scores    []extractedScore
}

// extractedScore is what became of one score.
type extractedScore struct {
	Folder    string          `json:"folder"`
	Manifest  *batch.Manifest `json:"manifest"`
	unchanged bool
	written   int // files
}

func runExtract(ctx context.Context, p *program, o *extractOptions, paths []string) error {
	if err := o.settle(p); err != nil {
		return err
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	inputs, problems, err := o.inputs(ctx, p, paths, o.out, o.style())
	if err != nil {
		return err
	}
	crew, err := o.crew()
	if err != nil {
		return err
	}
	settings, err := o.settings()
	if err != nil {
		return err
	}
	x := &extraction{extractOptions: o, program: p, catalogue: catalogue, output: batch.NewOutput(inputs), settings: settings}
	for range crew.Jobs() {
		x.slabs = append(x.slabs, new(musicxml.Slabs))
	}
	return x.run(ctx, crew, inputs, problems)
}

// run works through the inputs and reports.
func (x *extraction) run(ctx context.Context, crew *batch.Crew, inputs []batch.Input, problems []batch.Problem) error {
	x.progress = x.program.streams.Progress("scores", len(inputs), x.quiet || x.json)
	for _, problem := range problems {
		x.reject(problem)
	}
	failed := batch.Run(ctx, crew, inputs, batch.Work[batch.Input, extractedScore]{
		Cost: scoreCost, Do: x.score, Deliver: x.deliver})
	x.progress.Done()
	if err := x.output.Close(); err != nil && failed == nil {
		failed = err
	}
	return x.finish(failed, len(inputs)+len(problems))
}

// deliver takes the scores' results in order.
func (x *extraction) deliver(r batch.Result[batch.Input, extractedScore]) error {
	x.progress.Step(1)
	var unwritable *batch.OutputError
	switch {
	case errors.As(r.Err, &unwritable):
		return r.Err
	case r.Err != nil && errors.Is(r.Err, context.Canceled):
		return nil
	case r.Err != nil:
		x.reject(musicxml.Locate(r.Err, musicxml.Error{File: r.Item.Path}))
		return nil
	}
	x.summary.Files++
	if r.Value.unchanged {
		x.summary.Unchanged++
	}
	x.summary.Written += r.Value.written
	for _, row := range r.Value.Manifest.Parts {
		x.summary.Parts++
		for _, w := range row.Warnings {
			x.summary.Warn(w.Code)
			x.sayWarning(r.Item.Path, row, w)
		}
	}
	x.scores = append(x.scores, r.Value)
	if !x.json && !x.quiet {
		x.describe(r.Item, r.Value)
	}
	return nil
}

func (x *extraction) sayWarning(file string, row batch.PartRow, w musicxml.Warning) {
	if x.quiet {
		return
	}
	line := musicxml.Error{File: file, PartName: row.SourceName, PartID: row.SourcePart, Measure: w.Measure, Beat: w.Beat, Err: errors.New(w.Text)}
	x.progress.Say(line.Error())
}

// reject says why a file was refused, and counts it.
func (x *extraction) reject(err error) {
	x.progress.Say(err.Error())
	reason := "cannot be read"
	var known *musicxml.Error
	if errors.As(err, &known) {
		reason = reasonOf(known)
	}
	x.summary.Reject(reason)
}

// reasonOf is what is wrong without where, so that equal reasons come together.
func reasonOf(e *musicxml.Error) string {
	if e.Code != "" {
		return strings.ReplaceAll(e.Code, "-", " ")
	}
	return e.Err.Error()
}

// finish prints the summary and settles the exit status.
func (x *extraction) finish(failed error, inputs int) error {
	var stopped batch.Interrupted
	if errors.As(failed, &stopped) {
		x.summary.Stopped = stopped.Error()
		x.summary.Left = inputs - x.summary.Files
		failed = errNeedsPerson
	}
	if err := x.print(); err != nil {
		return err
	}
	if failed != nil {
		return failed
	}
	if x.summary.NeedsPerson() || x.anyFailed() || x.strict && x.anyUnrecognised() {
		return errNeedsPerson
	}
	return nil
}

func (x *extraction) print() error {
	out := x.program.streams.Out
	if x.json {
		document, err := batch.JSON(struct {
			Scores  []extractedScore `json:"scores"`
			Summary batch.Summary    `json:"summary"`
		}{list(x.scores), x.summary})
		if err != nil {
			return err
		}
		_, err = out.Write(document)
		return err
	}
	if x.quiet {
		return nil
	}
	return x.summary.WriteText(out)
}

func (x *extraction) anyFailed() bool {
	return x.anyRow(func(r batch.PartRow) bool { return r.Status == statusFailed })
}

func (x *extraction) anyUnrecognised() bool {
	return x.anyRow(func(r batch.PartRow) bool { return r.RecognisedBy == parts.ByNone })
}

func (x *extraction) anyRow(is func(batch.PartRow) bool) bool {
	for _, s := range x.scores {
		for _, row := range s.Manifest.Parts {
			if is(row) {
				return true
			}
		}
	}
	return false
}

// The states of a part in the manifest.
const (
	statusWritten = "written"
	statusTacet   = "tacet"
	statusFailed  = "failed"
)

// score extracts the parts of one score.
func (x *extraction) score(ctx context.Context, w *batch.Worker, in batch.Input) (extractedScore, error) {
	result := extractedScore{Folder: filepath.Join(x.out, filepath.FromSlash(in.Stem()))}
	data, err := batch.ReadInput(in.Path, x.limits.InputBytes, nil)
	if err != nil {
		return result, err
	}
	want := batch.Manifest{Tool: "deskpart", Version: version, Settings: x.settings,
		Source: batch.Source{Path: in.Key, SHA256: batch.Sum(data)}}
	if have, ok := batch.UpToDate(result.Folder, want); ok && !x.force {
		result.Manifest, result.unchanged = have, true
		return result, nil
	}
	job := &scoreJob{extraction: x, worker: w, folder: x.output.Folder(result.Folder), manifest: &want}
	job.names.Style = x.style()
	if err := job.read(ctx, in, data); err != nil {
		return result, err
	}
	if err := job.write(ctx); err != nil {
		return result, err
	}
	result.written = job.written
	result.Manifest, err = job.release()
	return result, err
}

// scoreJob is the work on one score.
type scoreJob struct {
	*extraction
	worker      *batch.Worker
	source      *musicxml.Score
	copyist     *parts.Copyist
	assignments []parts.Assignment
	manifest    *batch.Manifest
	folder      *batch.Folder
	mu          sync.Mutex // guards folder and written: parts are made by several workers
	written     int
	names       batch.Names
	document    []byte // the manifest as written
}

// read surveys all parts before any is made: a score with a broken part is
// refused whole, and nothing is written for it.
func (j *scoreJob) read(ctx context.Context, in batch.Input, data []byte) error {
	score, err := musicxml.Read(data, musicxml.ReadOptions{Name: in.Path, Limits: j.limits, Buffers: &j.buffers, SkipFiles: !j.bundle})
	if err != nil {
		return err
	}
	j.source = score
	if j.copyist, err = parts.New(score, j.catalogue, j.Options); err != nil {
		return err
	}
	errs := j.worker.Each(ctx, len(score.Parts), func(_ context.Context, seat, i int) error {
		defer j.slabs[seat].Reset()
		return j.copyist.Survey(i, j.slabs[seat])
	})
	if err := firstError(errs); err != nil {
		return err
	}
	if j.assignments, err = j.copyist.Assign(); err != nil {
		return err
	}
	j.manifest.Source.Title = j.copyist.Title()
	j.manifest.Source.Pitch, j.manifest.Source.Reason = j.copyist.Pitch()
	return nil
}

// write makes the parts and then the manifest.
func (j *scoreJob) write(ctx context.Context) error {
	rows := make([]batch.PartRow, len(j.assignments))
	for i, a := range j.assignments {
		rows[i] = batch.PartRow{SourcePart: a.ID, SourceName: a.Name, Label: a.Label, RecognisedBy: a.RecognisedBy,
			Assumed: a.Assumed, File: j.names.Unique(fmt.Sprintf("%02d %s", a.Number, a.Label), "."+j.format), Warnings: []musicxml.Warning{}}
		if a.Instrument != nil {
			rows[i].Instrument = a.Instrument.ID
		}
	}
	errs := j.worker.Each(ctx, len(rows), func(_ context.Context, seat, i int) error {
		defer j.slabs[seat].Reset()
		return j.part(j.assignments[i], &rows[i], j.slabs[seat])
	})
	if err := firstError(errs); err != nil {
		return err
	}
	if err := j.folder.Sync(); err != nil {
		return err
	}
	j.manifest.Parts = rows
	var err error
	if j.document, err = batch.JSON(j.manifest); err != nil {
		return err
	}
	if _, err := j.folder.Write(batch.ManifestName, j.document); err != nil {
		return err
	}
	return j.folder.Sync()
}

// release gives the score's memory back. The manifest that outlives it is read
// anew from its own text: texts in it are pieces of the score's.
func (j *scoreJob) release() (*batch.Manifest, error) {
	kept := new(batch.Manifest)
	if err := json.Unmarshal(j.document, kept); err != nil {
		return nil, err
	}
	j.source.Release()
	return kept, nil
}

// part makes one part and fills its row. A part that cannot be made is a row
// that says so; only what concerns the whole run is an error.
func (j *scoreJob) part(a parts.Assignment, row *batch.PartRow, slabs *musicxml.Slabs) error {
	sheet, err := j.copyist.Make(a, slabs)
	if err != nil {
		row.File, row.Status = "", statusFailed
		row.Warnings = append(row.Warnings, failure(err))
		return nil
	}
	r := sheet.Report
	row.Transpose = r.Transpose
	row.Moved = batch.MovedValue(r.Moved)
	row.Measures, row.Notes, row.Respelled = r.Measures, r.Notes, r.Respelled
	row.Warnings = append(row.Warnings, r.Warnings...)
	row.Status = statusWritten
	if r.Tacet {
		row.Status = statusTacet
	}
	if sheet.Document == nil {
		row.File = ""
		return nil
	}
	data, err := j.encode(sheet, row.File)
	if err != nil {
		return err
	}
	row.SHA256 = batch.Sum(data)
	j.mu.Lock()
	defer j.mu.Unlock()
	wrote, err := j.folder.Write(row.File, data)
	if wrote {
		j.written++
	}
	return err
}

// encode writes a sheet in the format that was asked for.
func (j *scoreJob) encode(sheet *parts.Sheet, name string) ([]byte, error) {
	data := musicxml.Append(nil, sheet.Document, musicxml.WriteOptions{Indent: 2})
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

func failure(err error) musicxml.Warning {
	w := musicxml.Warning{Code: "failed", Text: err.Error()}
	var known *musicxml.Error
	if errors.As(err, &known) {
		w.Measure, w.Beat = known.Measure, known.Beat
		if known.Err != nil {
			w.Text = known.Err.Error()
		}
	}
	return w
}

func firstError(errs []error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// describe prints one score's parts for people.
func (x *extraction) describe(in batch.Input, s extractedScore) {
	out := x.program.streams.Out
	if s.unchanged {
		fmt.Fprintf(out, "%s: nothing to do, %s holds its %d parts already\n", batch.Visible(in.Path), batch.Visible(s.Folder), len(s.Manifest.Parts))
		return
	}
	fmt.Fprintf(out, "%s (%s pitch) → %s\n", batch.Visible(in.Path), s.Manifest.Source.Pitch, batch.Visible(s.Folder))
	for _, row := range s.Manifest.Parts {
		fmt.Fprintf(out, "  %-48s %s\n", batch.Visible(row.File), x.inWords(row))
	}
}

// inWords says how a part was moved, for people.
func (x *extraction) inWords(row batch.PartRow) string {
	switch row.Status {
	case statusFailed:
		return "not written: " + batch.Visible(row.Warnings[len(row.Warnings)-1].Text)
	case statusTacet:
		return "silent all through"
	}
	moved := transpose.Interval(row.Moved)
	words := "as in the score"
	if moved != (transpose.Interval{}) {
		words = "written " + moved.String()
	}
	if row.Assumed {
		words += " (assumed)"
	}
	return words
}
