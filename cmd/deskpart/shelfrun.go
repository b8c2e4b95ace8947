package main

import (
	"cmp"
	"context"
	"errors"
	"strings"
	"sync"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// shelfRun is what a command that works through many scores shares with the
// others of its kind: workers, reading, messages, the summary.
type shelfRun struct {
	program  *program
	flags    *runFlags
	pool     *run.Pool
	spaces   []parts.Workspace // one a worker
	buffers  musicxml.Buffers
	shard    files.Shard
	progress *run.Progress
	summary  report.Summary
	document *report.Document // of --json. nil: text
	rejected []report.Rejection
	badPlan  bool         // a score was refused because the plan cannot be played from it
	rest     func()       // ends the tuning of the collector
	said     *texts.Texts // the language of warnings, refusals and the summary. nil: English
	prepare  func()       // loads, beside, the tables that scores are read with. Where nothing is left to do, nobody needs them
	// withFiles reads what came with the scores of a work, too, such as pictures.
	withFiles bool
}

// newShelfRun finds the inputs and gathers the workers. A run that writes to out begins
// to prepare when it finds a score that is not done yet.
func newShelfRun(ctx context.Context, p *program, flags *runFlags, paths []string, out string, style files.NameStyle) (
	*shelfRun, []files.Input, []files.Problem, error) {
	pool, err := flags.pool()
	if err != nil {
		return nil, nil, nil, err
	}
	rest := flags.tuneCollector(pool)
	prepare := sync.OnceFunc(func() {
		go func() {
			p.catalogue()
			parts.Prepare()
		}()
	})
	if out == "" { // while the inputs are found and the first is read
		prepare()
	}
	inputs, problems, err := flags.inputs(ctx, p, paths, out, style)
	if err != nil {
		rest()
		return nil, nil, nil, err
	}
	r := &shelfRun{program: p, flags: flags, pool: pool, rest: rest, prepare: prepare}
	r.shard, _ = files.ParseShard(flags.shard) // inputs has checked it
	r.spaces = make([]parts.Workspace, pool.Jobs())
	r.buffers.Keep = pool.Jobs() + 1 // a score for each worker, and a packed one
	r.progress = run.NewProgress(p.streams, "scores", len(inputs), flags.quiet || flags.json)
	return r, inputs, problems, nil
}

// workThrough runs do on every input and hands what it made to deliver, in the
// order of the inputs. A score that cannot be read is reported and does not stop
// the rest; an output that cannot be written does.
func workThrough[R any](ctx context.Context, r *shelfRun, inputs []files.Input, problems []files.Problem,
	do func(context.Context, *run.Worker, files.Input) (R, error), deliver func(files.Input, R)) error {
	for _, problem := range problems {
		r.reject(problem.Path, problem.Err)
	}
	failed := run.All(ctx, r.pool, inputs, run.Work[files.Input, R]{Cost: r.flags.scoreCost, Do: do,
		Deliver: func(result run.Result[files.Input, R]) error {
			r.progress.Step(1)
			switch {
			case result.Err == nil:
				r.summary.Files++
				deliver(result.Item, result.Value)
			case stopsRun(ctx, result.Err):
				return result.Err
			default:
				r.reject(result.Item.Path, result.Err)
			}
			if r.summary.ReadOnly && r.flags.onlyPrints && r.program.streams.Gone() {
				return errReaderGone
			}
			return nil
		}})
	r.progress.Done()
	if errors.Is(failed, errReaderGone) {
		failed = nil
	}
	return failed
}

// errReaderGone ends a run that has nothing to do but to print, once nobody reads.
var errReaderGone = errors.New("nobody reads the results any more")

// stopsRun tells trouble of the whole run from trouble with one score.
func stopsRun(ctx context.Context, err error) bool {
	var unwritable *report.OutputError
	return errors.As(err, &unwritable) || ctx.Err() != nil && errors.Is(err, context.Cause(ctx))
}

// read reads a score whole, without what came with it. Whoever needs its text no longer
// releases it; results that outlive it must hold copies.
func (r *shelfRun) read(w *run.Worker, in files.Input) (*musicxml.Score, error) {
	data, err := r.load(w, in)
	if err != nil {
		return nil, err
	}
	return r.readData(w, in, data, true)
}

// releaseAfter gives back the memory of a score, or of a work, when what is done with it
// has ended well. An error keeps it: it may be worded with pieces of the text.
func releaseAfter(read interface{ Release() }, err *error) {
	if *err == nil {
		read.Release()
	}
}

// load reads a file into one of the buffers, to which it is to be given back.
func (r *shelfRun) load(w *run.Worker, in files.Input) ([]byte, error) {
	if err := r.flags.reserve(w, run.Cost{Whole: in.Size}, nil); err != nil {
		return nil, err
	}
	limit := r.flags.limits.InputBytes
	var buffer []byte
	if in.Size <= limit {
		buffer = r.buffers.Take(int(in.Size) + 1)
	}
	data, err := r.flags.readInput(w, in, buffer)
	if err != nil {
		r.buffers.Give(buffer)
	}
	return data, err
}

// loadUndone reads a file and takes down its sums; nil where an earlier run has made what
// is to be made of it.
func (r *shelfRun) loadUndone(w *run.Worker, in files.Input, output *files.Output, source *files.Source, isDone func() bool) ([]byte, error) {
	var known bool
	if *source, known = output.Known(in); known && isDone() {
		return nil, nil
	}
	r.prepare()
	data, err := r.load(w, in)
	if err != nil {
		return nil, err
	}
	*source = files.NewSource(in.Key, data)
	if !known && isDone() { // the record has no quick sums
		r.buffers.Give(data)
		return nil, nil
	}
	return data, nil
}

// readData reads a score out of a buffer, which from then on is the score's.
func (r *shelfRun) readData(w *run.Worker, in files.Input, data []byte, skipFiles bool) (*musicxml.Score, error) {
	return r.flags.readWithin(w, data, musicxml.ReadOptions{Name: in.Path, Limits: r.flags.limits, Buffers: &r.buffers, Owned: true, SkipFiles: skipFiles})
}

// survey reads every part of a score for the first time.
func (r *shelfRun) survey(ctx context.Context, w *run.Worker, score *musicxml.Score, o parts.Options) (*parts.Surveyed, error) {
	catalogue, err := r.program.catalogue()
	if err != nil {
		return nil, err
	}
	o.Each = r.each(ctx, w)
	return parts.Survey(score, catalogue, o)
}

// assign surveys a score and tells which parts it is to have.
func (r *shelfRun) assign(ctx context.Context, w *run.Worker, score *musicxml.Score, o parts.Options) (*parts.Job, error) {
	surveyed, err := r.survey(ctx, w, score, o)
	if err != nil {
		return nil, err
	}
	return surveyed.Assign()
}

// each hands pieces of work to the worker's helpers, each with its own memory.
func (r *shelfRun) each(ctx context.Context, w *run.Worker) parts.Each {
	return func(n int, do func(*parts.Workspace, int) error) error {
		return cmp.Or(w.Each(ctx, n, func(_ context.Context, worker, i int) error { return do(&r.spaces[worker], i) })...)
	}
}

// speak has warnings, refusals and the summary said in a language.
func (r *shelfRun) speak(l pitch.Language) (err error) {
	if l != pitch.English {
		r.said, err = texts.In(l)
	}
	return err
}

// reject says why a file was refused, and keeps it.
func (r *shelfRun) reject(input string, err error) {
	if plan, ok := errors.AsType[*parts.PlanError](err); ok {
		r.rejectPlan(input, plan)
		return
	}
	code := codeOf(err)
	err = musicxml.Locate(err, musicxml.Error{File: input, Code: code})
	r.progress.Say(texts.Line(r.said, err))
	r.summary.Reject(code)
	r.rejected = append(r.rejected, report.NewRejection(input, code, err))
}

// rejectPlan says of every row of the plan why it cannot be played from a score.
func (r *shelfRun) rejectPlan(input string, plan *parts.PlanError) {
	r.badPlan = true
	r.summary.Reject(notice.PlanNotPlayable)
	for _, row := range plan.Rows {
		if !strings.HasPrefix(row, "--") {
			row = "the plan, " + row
		}
		err := &musicxml.Error{File: input, Err: errors.New(row)}
		said := *err
		if r.said != nil {
			said.Code = notice.PlanNotPlayable
		}
		r.progress.Say(texts.Line(r.said, &said))
		r.rejected = append(r.rejected, report.NewRejection(input, notice.PlanNotPlayable, err))
	}
}

// codeOf is why a file was refused.
func codeOf(err error) notice.Code {
	var fault *run.Fault
	switch code := musicxml.ErrorCode(err); {
	case code != "":
		return code
	case errors.As(err, &fault):
		return notice.Fault
	}
	return notice.Unreadable
}

// rows begins the rows of the document of --json, before the first is delivered.
func (r *shelfRun) rows(list string) {
	if r.flags.json {
		r.document = report.NewDocument(r.program.streams.Out, list)
	}
}

// row prints a row of the document.
func (r *shelfRun) row(value any) {
	if r.document != nil {
		r.document.Row(value) // the stream remembers what goes wrong
	}
}

// finish prints what the run came to, fields being a struct of what --json shows
// beside the rows, nil for nothing, and settles the exit status.
func (r *shelfRun) finish(failed error, inputs int, fields any) error {
	defer r.rest()
	if stopped, ok := errors.AsType[run.Interrupted](failed); ok {
		r.summary.Stopped = stopped.Error()
		r.summary.Left = inputs - r.summary.Files - r.summary.Rejected.Total()
	}
	if err := r.print(fields); err != nil {
		return err
	}
	switch {
	case failed != nil:
		return failed
	case inputs == 0 && r.flags.shard == "":
		r.progress.Say(r.flags.noScoreFound())
		return errNeedsPerson
	case r.badPlan && r.summary.Files == 0:
		return errBadPlan
	case r.summary.NeedsPerson():
		return errNeedsPerson
	}
	return nil
}

// noScoreFound is said where there was nothing to work on; the status is then 1.
func (f *runFlags) noScoreFound() string {
	if f.made {
		return "there are only parts there that deskpart made of a score; to take them for scores, name their folder itself"
	}
	return "no score was found there; scores end in .musicxml, .xml or .mxl"
}

// print prints the results as JSON, or the summary as text.
func (r *shelfRun) print(fields any) error {
	switch {
	case r.flags.json:
		if r.document == nil {
			r.rows("")
		}
		return r.document.Close(fields, r.rejected, &r.summary)
	case r.flags.quiet:
		return nil
	}
	return r.summary.WriteText(r.program.streams.Out, r.said)
}
