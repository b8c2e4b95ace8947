package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"sync/atomic"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// printRun is one run of print.
type printRun struct {
	*printOptions
	*shelfRun
	output  *files.Output
	options printing.Options
	scores  []printedScore
	done    []string // the sources that were printed, now or before
	sought  sought
	failed  bool // a part was not printed
	unknown bool // a part was not recognised
}

// printedScore is what became of one score, or of one part file.
type printedScore struct {
	Input string         `json:"input"`
	Path  string         `json:"path"`
	Title string         `json:"title"`
	Parts []printing.Row `json:"parts"`
	// NotFound are the names of parts that were asked for and that the score has not.
	// Default: none.
	NotFound  []string `json:"not_found,omitempty"`
	source    files.Source
	unchanged bool
	written   int
	unknown   bool
	failed    bool
	unmatched bool               // the score has none of the parts asked for
	warnings  []musicxml.Warning // of the score as a whole
}

func runPrint(ctx context.Context, p *program, o *printOptions, paths []string) error {
	if err := o.settle(p); err != nil {
		return err
	}
	making, err := o.making()
	if err != nil {
		return err
	}
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, paths, o.out, o.style())
	if err != nil {
		return err
	}
	making.Shard = shelf.shard
	r := &printRun{printOptions: o, shelfRun: shelf, output: files.NewOutput(making, inputs...),
		options: o.paperFlags.options(string(o.Language), o.RestBars)}
	failed := workThrough(ctx, shelf, inputs, problems, r.score, r.deliver)
	if failed == nil && len(o.Only) == 0 {
		_, failed = r.output.RemoveOthers(r.done)
	}
	if err := r.output.Close(); err != nil && failed == nil {
		failed = err
	}
	err = r.finish(failed, len(inputs)+len(problems), struct {
		Scores []printedScore `json:"scores"`
	}{list(r.scores)})
	if err == nil && (r.failed || r.strict && r.unknown || r.sought.anyAbsent()) {
		return errNeedsPerson
	}
	return err
}

// deliver says what became of a score.
func (r *printRun) deliver(in files.Input, s printedScore) {
	r.summary.Written += s.written
	r.sought.note(s.NotFound)
	r.warn(in.Path, "", "", s.warnings...)
	if s.unmatched {
		r.scores = append(r.scores, s)
		return
	}
	if s.unchanged {
		r.summary.Unchanged++
	}
	r.failed, r.unknown = r.failed || s.failed, r.unknown || s.unknown
	for _, row := range s.Parts {
		r.summary.Parts++
		r.warn(in.Path, row.Label, row.SourcePart, row.Warnings...)
	}
	r.scores = append(r.scores, s)
	r.done = append(r.done, s.source.Path)
	if !r.flags.json && !r.flags.quiet {
		r.describe(in, s)
	}
}

func (r *printRun) describe(in files.Input, s printedScore) {
	out := r.program.streams.Out
	if s.unchanged {
		fmt.Fprintf(out, "%s: nothing to do, its %d parts are printed already\n", report.Visible(in.Path), len(s.Parts))
		return
	}
	fmt.Fprintf(out, "%s → %s\n", report.Visible(in.Path), report.Visible(r.out))
	for _, row := range s.Parts {
		if row.File == "" {
			fmt.Fprintf(out, "  %-48s not printed: %s\n", report.Visible(row.Label), report.Visible(row.Warnings[len(row.Warnings)-1].Text))
			continue
		}
		fmt.Fprintf(out, "  %-48s %s\n", report.Visible(path.Base(row.File)), row.InWords())
	}
}

// score prints the parts of one score.
func (r *printRun) score(ctx context.Context, w *run.Worker, in files.Input) (printedScore, error) {
	result := printedScore{Input: in.Path, Path: in.Key, Parts: []printing.Row{}}
	data, err := r.load(in)
	if err != nil {
		return result, err
	}
	result.source = files.Source{Path: in.Key, SHA256: report.Sum(data)}
	if r.isDone(&result) {
		r.buffers.Give(data)
		return result, nil
	}
	score, err := r.readData(in, data, true)
	if err != nil {
		return result, err
	}
	defer score.Release()
	job := &printJob{printRun: r, worker: w, score: score, stem: in.Stem(), result: &result}
	return result, job.work(ctx)
}

// printedRow is what the record says of a part: its row, and how many there are.
type printedRow struct {
	Title string       `json:"title"`
	Place int          `json:"place"` // of the part, from 0
	Of    int          `json:"of"`
	Row   printing.Row `json:"row"`
	// NotFound is the score's. Default: none.
	NotFound []string `json:"not_found,omitempty"`
}

// isDone reports whether an earlier run has printed all parts of the same source with
// the same settings, and fills in what it said of them.
func (r *printRun) isDone(s *printedScore) bool {
	if r.force {
		return false
	}
	entries := r.output.Made(s.source)
	rows := make([]printedRow, len(entries))
	for i, e := range entries {
		if json.Unmarshal(e.Row, &rows[i]) != nil || rows[i].Of != len(entries) {
			return false
		}
	}
	slices.SortFunc(rows, func(a, b printedRow) int { return a.Place - b.Place })
	for i, row := range rows {
		if row.Place != i {
			return false
		}
		s.Title, s.NotFound = row.Title, row.NotFound
		s.Parts = append(s.Parts, row.Row)
	}
	s.unchanged = len(rows) > 0
	return s.unchanged
}

// printJob is the work on one score.
type printJob struct {
	*printRun
	worker      *run.Worker
	score       *musicxml.Score
	sheets      *parts.Job
	assignments []parts.Assignment
	asIs        bool // the score is a part file
	stem        string
	files       []string // of the parts, below the output
	folder      *files.Folder
	result      *printedScore
	written     atomic.Int64
}

func (j *printJob) work(ctx context.Context) error {
	surveyed, err := j.survey(ctx, j.worker, j.score, j.Options)
	if err != nil {
		return err
	}
	if j.sheets, err = surveyed.Assign(); err != nil {
		return err
	}
	j.assignments = j.sheets.Assignments()
	j.result.Title = surveyed.Title()
	missing := j.sheets.Missing()
	j.result.NotFound, j.result.warnings = wordsOf(missing), missingWarnings(missing)
	if len(j.assignments) == 0 && len(j.Only) > 0 {
		j.result.unmatched = true
		return nil
	}
	j.asIs = len(j.score.Parts) == 1 && len(j.Plan) == 0 && j.Input == parts.Auto
	j.name()
	j.result.Parts = make([]printing.Row, len(j.assignments))
	errs := j.worker.Each(ctx, len(j.assignments), func(_ context.Context, worker, i int) error {
		return j.part(i, &j.spaces[worker])
	})
	j.result.written = int(j.written.Load())
	if err := firstError(errs); err != nil {
		return err
	}
	for i, row := range j.result.Parts {
		j.result.failed = j.result.failed || row.File == "" && row.Pages == nil
		j.result.unknown = j.result.unknown || j.assignments[i].RecognisedBy == parts.ByNone
	}
	if err := j.folder.Sync(); err != nil {
		return err
	}
	return j.keep()
}

// keep makes the result outlive the score, pieces of whose text are in it.
func (j *printJob) keep() error {
	document, err := json.Marshal(j.result)
	if err != nil {
		return err
	}
	kept := printedScore{}
	if err := json.Unmarshal(document, &kept); err != nil {
		return err
	}
	j.result.Title, j.result.Parts = kept.Title, kept.Parts
	return nil
}

// name chooses the folder and the files: a part file has one of its own name.
func (j *printJob) name() {
	dir := j.stem
	if j.asIs {
		dir = path.Dir(j.stem)
	}
	j.folder = j.output.Folder(filepath.Join(j.out, filepath.FromSlash(dir)))
	names := files.Names{Style: j.style()}
	j.files = make([]string, len(j.assignments))
	for i, a := range j.assignments {
		name := fmt.Sprintf("%02d %s", a.Number, a.Label)
		if j.asIs {
			name = path.Base(j.stem)
		}
		j.files[i] = path.Join(dir, names.Unique(name, ".pdf"))
	}
}

// part prints one part and fills its row. A part that cannot be printed is a row that
// says so; only what concerns the whole run is an error.
func (j *printJob) part(i int, space *parts.Workspace) error {
	a := &j.assignments[i]
	row := &j.result.Parts[i]
	printed, err := j.print(i, space)
	var data []byte
	if err == nil && printed != nil {
		data, err = printed.PDF()
	}
	if err != nil {
		*row = printing.Row{Label: a.Label, SourcePart: a.ID, Warnings: []musicxml.Warning{failure(err)}}
		return nil
	}
	if printed == nil {
		*row = printing.Row{Label: a.Label, SourcePart: a.ID, Pages: []printing.Page{}}
		return nil
	}
	printed.SourcePart, printed.File = a.ID, path.Join(filepath.ToSlash(j.out), j.files[i])
	*row = printed.Row
	return j.write(i, data, row)
}

func (j *printJob) write(i int, data []byte, row *printing.Row) error {
	note, err := json.Marshal(printedRow{j.result.Title, i, len(j.assignments), *row, j.result.NotFound})
	if err != nil {
		return err
	}
	wrote, err := j.folder.Write(path.Base(j.files[i]), data, files.Origin{Source: j.result.source, Row: note})
	if wrote {
		j.written.Add(1)
	}
	if musicxml.ErrorCode(err) == notice.InTheWay {
		*row = printing.Row{Label: row.Label, SourcePart: row.SourcePart, Warnings: append(row.Warnings, failure(err))}
		return nil
	}
	return err
}

// print lays out one part; nil where nothing is to be printed.
func (j *printJob) print(i int, space *parts.Workspace) (*printing.Printed, error) {
	player := printing.Player{Instrument: j.assignments[i].Instrument}
	root, warnings, err := j.document(i, space)
	if err != nil || root == nil {
		return nil, err
	}
	if !j.asIs {
		player.Label = j.assignments[i].Label
	}
	printed, err := j.options.Print(player, root)
	if err != nil {
		return nil, err
	}
	printed.Warnings = slices.Concat([]musicxml.Warning{}, warnings, printed.Warnings)
	return printed, nil
}

// document is the part's document, made or as it is, and what is to be said of it.
func (j *printJob) document(i int, space *parts.Workspace) (*etree.Element, []musicxml.Warning, error) {
	if j.asIs {
		part, err := space.ReadPart(j.score, j.assignments[i].Part)
		if err != nil {
			return nil, nil, err
		}
		return j.score.Assemble([]*etree.Element{part}).Root(), nil, nil
	}
	sheet, err := j.sheets.MakeIn(space, i)
	if err != nil {
		return nil, nil, err
	}
	if sheet.Document == nil {
		return nil, sheet.Report.Warnings, nil
	}
	return sheet.Document.Root(), sheet.Report.Warnings, nil
}
