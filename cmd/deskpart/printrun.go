package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"path/filepath"
	"slices"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// printRun is one run of print.
type printRun struct {
	*printOptions
	*shelfRun
	output  *files.Output
	options printing.Options
	scores  []printedScore
	done    []string   // the sources that were printed, now or before
	folder  *folderJob // of the part files of a folder, nil while there are none
	failed  error      // of writing the job of a folder
	sought  sought
	neighbours
}

// printedScore is what became of one score, or of one part file.
type printedScore struct {
	Input string           `json:"input"`
	Path  string           `json:"path"`
	Title string           `json:"title"`
	Parts []printing.Row   `json:"parts"`
	Job   *printing.JobRow `json:"job,omitempty"` // where one was asked for
	// NotFound are the names of parts that were asked for and that the score has not.
	// Default: none.
	NotFound []string `json:"not_found,omitempty"`

	source    files.Source
	dir       string // where its files went, below the output
	unchanged bool
	written   int
	failed    bool                // a part was not printed
	unknown   bool                // a part was not recognised
	warnings  []musicxml.Warning  // of the score as a whole
	prints    []*printing.Printed // of a part file, for the job of its folder
	copies    []int
}

func runPrint(ctx context.Context, p *program, o *printOptions, paths []string) error {
	if err := o.settle(p); err != nil {
		return err
	}
	making, err := o.making()
	if err != nil {
		return err
	}
	shelf, inputs, problems, err := o.newRun(ctx, p, paths, o.force)
	if err != nil {
		return err
	}
	making.Shard = shelf.shard
	r := &printRun{printOptions: o, shelfRun: shelf, output: files.NewOutput(making, inputs...),
		options: o.paperFlags.options(string(o.Language), o.RestBars)}
	r.options.SVG = o.format == formatSVG
	if len(o.Only)+len(o.copies) > 0 {
		catalogue, err := p.catalogue()
		if err != nil {
			return err
		}
		r.neighbours = neighboursOf(inputs, catalogue)
	}
	failed := workThrough(ctx, shelf, inputs, problems, r.score, r.deliver)
	if failed == nil {
		failed = r.endFolder()
	}
	if failed == nil && len(o.Only) == 0 {
		_, failed = r.output.RemoveOthers(r.done)
	}
	failed = cmp.Or(failed, r.output.Close())
	err = r.finish(failed, len(inputs)+len(problems), struct {
		Scores []printedScore `json:"scores"`
	}{report.List(r.scores)})
	if err == nil && r.needsPerson() {
		return errNeedsPerson
	}
	return err
}

func (r *printRun) needsPerson() bool {
	return r.lacks(&r.sought) ||
		slices.ContainsFunc(r.scores, func(s printedScore) bool { return s.failed || r.strict && s.unknown })
}

// deliver says what became of a score.
func (r *printRun) deliver(in files.Input, s printedScore) {
	r.summary.Written += s.written
	r.sought.note(s.NotFound)
	r.sought.unsaid = r.sought.unsaid || len(s.NotFound) > 0 && len(s.warnings) == 0
	r.warn(in.Path, "", "", s.warnings...)
	if len(s.Parts) == 0 {
		r.scores = append(r.scores, s)
		return
	}
	if s.unchanged {
		r.summary.Unchanged++
	}
	for _, row := range s.Parts {
		r.summary.Parts++
		r.warnOf(in, row)
	}
	r.intoFolder(&s)
	r.scores = append(r.scores, s)
	r.done = append(r.done, s.source.Path)
	if !r.flags.json && !r.flags.quiet {
		r.describe(in, s)
	}
}

// warnOf says the warnings of a part, of a work each movement's with its file.
func (r *printRun) warnOf(in files.Input, row printing.Row) {
	of := map[int][]musicxml.Warning{}
	for _, w := range row.Warnings {
		of[w.Movement] = append(of[w.Movement], w)
	}
	for _, m := range slices.Sorted(maps.Keys(of)) {
		file := in.Path
		if m > 0 && m <= len(in.Movements) {
			file = in.Movements[m-1].Place()
		}
		r.warn(file, row.Label, row.SourcePart, of[m]...)
	}
}

func (r *printRun) describe(in files.Input, s printedScore) {
	out := r.program.streams.Out
	if s.unchanged {
		fmt.Fprintf(out, "%s: nothing to do, printed already: %s\n", report.Visible(in.Called()), notice.Counted(len(s.Parts), "part", "parts"))
		return
	}
	fmt.Fprintf(out, "%s → %s\n", report.Visible(in.Called()), report.Visible(path.Join(r.out, s.dir)))
	for _, row := range s.Parts {
		switch {
		case row.Failed:
			fmt.Fprintf(out, "  %-48s not printed: %s\n", report.Visible(row.Label), report.Visible(row.Warnings[len(row.Warnings)-1].Text))
		case row.File != "":
			fmt.Fprintf(out, "  %-48s %s\n", report.Visible(path.Base(row.File)), row.InWords())
		}
	}
	if s.Job != nil {
		fmt.Fprintf(out, "  %-48s %s\n", report.Visible(path.Base(s.Job.File)), s.Job.InWords())
	}
}

// score prints the parts of one score.
func (r *printRun) score(ctx context.Context, w *run.Worker, in files.Input) (result printedScore, err error) {
	result = printedScore{Input: in.Path, Path: in.Key, Parts: []printing.Row{}}
	if in.Movements != nil {
		return r.workOf(ctx, w, in, result)
	}
	data, err := r.loadUndone(w, in, r.output, &result.source, func() bool { return r.isDone(&result) })
	if err != nil || data == nil {
		return result, err
	}
	score, err := r.readData(w, in, data, true)
	if err != nil {
		return result, err
	}
	defer releaseAfter(score, &err)
	job := &printJob{printRun: r, worker: w, score: score, input: in, stem: in.Stem(), result: &result}
	return result, job.work(ctx)
}

// printedRow is what the record says of a file, to be said again: the row of a part,
// or of the job behind all parts, and how many of them the score has.
type printedRow struct {
	Title string           `json:"title"`
	Place int              `json:"place"` // of the part, from 0
	Of    int              `json:"of"`
	More  bool             `json:"more,omitempty"` // a further page of a part
	Row   *printing.Row    `json:"row,omitempty"`
	Job   *printing.JobRow `json:"job,omitempty"`
	// NotFound is the score's. Default: none.
	NotFound []string `json:"not_found,omitempty"`
}

// note is the row as the record keeps it: without where its file lies, which is wherever
// the folder is now.
func (p printedRow) note() ([]byte, error) {
	if p.Row != nil {
		row := *p.Row
		row.File = ""
		p.Row = &row
	}
	if p.Job != nil {
		job := *p.Job
		job.File = ""
		p.Job = &job
	}
	return json.Marshal(p)
}

// lies says where a file is now.
func (p printedRow) lies(file string) {
	if p.Row != nil {
		p.Row.File = file
	}
	if p.Job != nil {
		p.Job.File = file
	}
}

// isDone reports whether an earlier run has printed all parts of the same source with
// the same settings, and fills in what it said of them.
func (r *printRun) isDone(s *printedScore) bool {
	if r.force {
		return false
	}
	var rows []printedRow
	for _, e := range r.output.Made(s.source) {
		var row printedRow
		if json.Unmarshal(e.Row, &row) != nil {
			return false
		}
		row.lies(path.Join(filepath.ToSlash(r.out), e.File))
		if !row.More {
			rows = append(rows, row)
		}
	}
	slices.SortFunc(rows, func(a, b printedRow) int { return a.Place - b.Place })
	done := printedScore{unchanged: len(rows) > 0}
	for i, row := range rows {
		switch {
		case row.Place != i || row.Of != len(rows):
			return false
		case row.Row != nil:
			done.Parts = append(done.Parts, *row.Row)
		}
		done.Title, done.Job, done.NotFound = row.Title, row.Job, row.NotFound
	}
	if done.unchanged {
		s.Title, s.Parts, s.Job, s.NotFound, s.unchanged = done.Title, done.Parts, done.Job, done.NotFound, true
	}
	return s.unchanged
}
