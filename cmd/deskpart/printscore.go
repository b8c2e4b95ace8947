package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"path"
	"path/filepath"
	"sync/atomic"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// printJob is the work on one score.
type printJob struct {
	*printRun
	worker      *run.Worker
	score       *musicxml.Score
	sheets      *parts.Job
	assignments []parts.Assignment
	asIs        bool                // the score is a part file, or those of a player
	movements   *readWork           // of a work; nil for a score
	leaves      []printing.Movement // of a player of a work, the part files as they are
	input       files.Input
	stem        string
	names       files.Names
	paths       []string // of the parts, below the output, without their endings
	folder      *files.Folder
	result      *printedScore
	prints      []*printing.Printed // of a job, in order
	copies      []int               // of each, in the job
	written     atomic.Int64
}

func (j *printJob) work(ctx context.Context) error {
	var err error
	if j.sheets, err = j.assign(ctx, j.worker, j.score, j.Options); err != nil {
		return err
	}
	j.assignments = j.sheets.Assignments()
	j.result.Title = j.sheets.Surveyed().Title()
	missing := j.sheets.Missing()
	j.asIs = printing.AsItIs(j.score, j.Options)
	j.result.NotFound = wordsOf(missing)
	if !j.asIs {
		j.result.warnings = append(report.MissingWarnings(missing), report.ScoreWarnings(j.sheets.Surveyed())...)
	} else if err := j.leaveOut(); err != nil {
		return err
	}
	return j.printAll(ctx)
}

// printAll prints what is known to be printed.
func (j *printJob) printAll(ctx context.Context) error {
	if err := j.countCopies(); err != nil {
		return err
	}
	if len(j.assignments) == 0 && len(j.Only) > 0 {
		return nil
	}
	j.name()
	if err := j.printParts(ctx); err != nil {
		return err
	}
	if err := j.makeJob(); err != nil {
		return err
	}
	if err := j.folder.Sync(); err != nil {
		return err
	}
	return j.keep()
}

// name chooses the folder and the files: a part file has one of its own name.
func (j *printJob) name() {
	dir := j.stem
	if j.asIs {
		dir = path.Dir(j.stem)
	}
	j.result.dir = dir
	j.folder = j.output.Folder(filepath.Join(j.out, filepath.FromSlash(dir)))
	j.names = files.Names{Style: j.style()}
	j.paths = make([]string, len(j.assignments))
	for i, a := range j.assignments {
		name := report.PartName(a)
		if j.asIs {
			name = path.Base(j.stem)
		}
		j.paths[i] = path.Join(dir, j.names.Unique(name, ""))
	}
}

func (j *printJob) printParts(ctx context.Context) error {
	j.result.Parts = make([]printing.Row, len(j.assignments))
	j.prints = make([]*printing.Printed, len(j.assignments))
	errs := j.worker.Each(ctx, len(j.assignments), func(_ context.Context, worker, i int) error {
		return j.part(i, &j.spaces[worker])
	})
	j.result.written = int(j.written.Load())
	for i, row := range j.result.Parts {
		j.result.failed = j.result.failed || row.Failed
		j.result.unknown = j.result.unknown || j.assignments[i].RecognisedBy == parts.ByNone
	}
	return cmp.Or(errs...)
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

// part prints one part and fills its row. A part that cannot be printed is a row that
// says so; only what concerns the whole run is an error.
func (j *printJob) part(i int, space *parts.Workspace) error {
	a, row := &j.assignments[i], &j.result.Parts[i]
	*row = printing.NewRow(a.Label, a.ID)
	printed, err := j.print(i, space)
	if err != nil {
		j.fail(row, err)
		return nil
	}
	if printed == nil { // silent all through, and not wanted
		return nil
	}
	printed.SourcePart = a.ID
	contents, err := j.contents(i, printed)
	if err != nil {
		j.fail(row, err)
		return nil
	}
	printed.File = contents[0].path
	*row = printed.Row
	if err := j.write(contents, printedRow{Title: j.result.Title, Place: i, Of: j.files(), Row: row, NotFound: j.result.NotFound}); err != nil {
		if musicxml.ErrorCode(err) != notice.InTheWay {
			return err
		}
		j.fail(row, err)
		return nil
	}
	if j.job {
		j.prints[i] = printed
	}
	return nil
}

// fail says in a row why its part was not printed.
func (j *printJob) fail(row *printing.Row, err error) {
	warnings := append(row.Warnings, report.Failure(err))
	*row = printing.NewRow(row.Label, row.SourcePart)
	row.Failed, row.Warnings = true, warnings
}

// print lays out one part; nil where nothing is to be printed.
func (j *printJob) print(i int, space *parts.Workspace) (*printing.Printed, error) {
	switch {
	case j.movements != nil:
		return j.options.PrintPlayer(j.movements.Work, i, false)
	case j.leaves != nil:
		return j.options.PrintWork(printing.Player{Label: j.assignments[i].Label, Instrument: j.assignments[i].Instrument}, j.result.Title, j.leaves...)
	}
	player := printing.Player{Instrument: j.assignments[i].Instrument}
	root, warnings, err := printing.Document(j.sheets, i, j.asIs, space)
	if err != nil || root == nil {
		return nil, err
	}
	if !j.asIs {
		player.Label = j.assignments[i].Label
	}
	return j.options.Print(player, root, warnings...)
}

// content is a file to be written.
type content struct {
	path string
	data []byte
}

// contents are the files of a printed part: one, or a drawing for each page.
func (j *printJob) contents(i int, p *printing.Printed) ([]content, error) {
	at := path.Join(filepath.ToSlash(j.out), j.paths[i])
	if j.format != formatSVG {
		data, err := p.PDF()
		return []content{{at + ".pdf", data}}, err
	}
	drawings := make([]content, len(p.Drawings))
	for n, drawing := range p.Drawings {
		drawings[n] = content{fmt.Sprintf("%s %02d.svg", at, n+1), []byte(drawing)}
	}
	return drawings, nil
}

// files is how many notes on parts the record is to have of the score.
func (j *printJob) files() int {
	if j.job && !j.asIs {
		return len(j.assignments) + 1
	}
	return len(j.assignments)
}

// write writes the files of a part; the first carries what is to be said again.
func (j *printJob) write(contents []content, said printedRow) error {
	for n, c := range contents {
		if said.More = n > 0; said.More {
			said.Row = nil
		}
		note, err := said.note()
		if err != nil {
			return err
		}
		wrote, err := j.folder.Write(path.Base(c.path), c.data, files.Origin{Source: j.result.source, Row: note})
		if err != nil {
			return err
		}
		if wrote {
			j.written.Add(1)
		}
	}
	return nil
}
