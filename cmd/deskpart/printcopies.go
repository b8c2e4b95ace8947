package main

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/naming"
)

// copiesOf is a number of prints for the parts that words name.
type copiesOf struct {
	words  string
	number int
}

// mostCopies bounds how many prints of a part may be asked for.
const mostCopies = 999

// parseCopies reads "violin 1=6, violin 2=5".
func parseCopies(texts []string) (all []copiesOf, err error) {
	for _, item := range texts {
		at := strings.LastIndexByte(item, '=')
		if at < 0 {
			return nil, fmt.Errorf("--copies %q says no number; say it as in \"violin 1=6\"", strings.TrimSpace(item))
		}
		n, err := strconv.Atoi(strings.TrimSpace(item[at+1:]))
		if err != nil || n < 0 || n > mostCopies {
			return nil, fmt.Errorf("--copies %q: the number is one from 0 to %d", strings.TrimSpace(item), mostCopies)
		}
		all = append(all, copiesOf{strings.TrimSpace(item[:at]), n})
	}
	return all, nil
}

// countCopies says how many prints of each part the job has: what the flag says, then
// the plan, then one.
func (j *printJob) countCopies() error {
	j.copies = make([]int, len(j.assignments))
	for i, a := range j.assignments {
		j.copies[i] = max(1, a.Copies)
	}
	names, err := j.called()
	if err != nil {
		return err
	}
	for _, c := range j.printOptions.copies {
		if missing := names.Missing(c.words); missing != nil {
			j.lack("--copies: ", missing)
		}
		for _, i := range names.Find(c.words) {
			if i < len(j.copies) {
				j.copies[i] = c.number
			}
		}
	}
	return nil
}

// lack notes words that name no part. Of a part file, where they mean another one as a
// rule, it is said at the end if none of them has it.
func (j *printJob) lack(flag string, missing *naming.NotFound) {
	if !slices.Contains(j.result.NotFound, missing.Words) {
		j.result.NotFound = append(j.result.NotFound, missing.Words)
	}
	if !j.asIs {
		j.result.warnings = append(j.result.warnings, musicxml.Warning{Code: notice.NoSuchPart, Text: flag + missing.Error()})
	}
}

// jobName is the file of a job, before all parts.
const jobName = "00 print job"

// makeJob writes what is to be printed of a score as one document. That of part files
// waits for the other files of their folder.
func (j *printJob) makeJob() error {
	if !j.job {
		return nil
	}
	all := printing.Job{Title: j.result.Title, Language: string(j.Language), OneSided: j.oneSided}
	for i, p := range j.prints {
		if p == nil {
			continue
		}
		copies := j.copies[i]
		if j.asIs {
			j.result.prints, j.result.copies = append(j.result.prints, p), append(j.result.copies, copies)
		}
		all.Add(p, copies)
	}
	if j.asIs || all.Row().Copies == 0 {
		return nil
	}
	row := all.Row()
	j.result.Job = &row
	name := j.names.Unique(jobName, ".pdf")
	row.File = path.Join(filepath.ToSlash(j.out), j.result.dir, name)
	said, err := printedRow{Title: j.result.Title, Place: len(j.assignments), Of: j.files(), Job: &row, NotFound: j.result.NotFound}.note()
	if err != nil {
		return err
	}
	wrote, err := writeJob(j.folder, name, &all, files.Origin{Source: j.result.source, Row: said})
	if wrote {
		j.result.written++
	}
	return err
}

func writeJob(folder *files.Folder, name string, job *printing.Job, of files.Origin) (wrote bool, err error) {
	data, err := job.PDF()
	if err != nil {
		return false, err
	}
	return folder.Write(name, data, of)
}

// folderJob is the job of the part files of one folder.
type folderJob struct {
	printing.Job
	dir string
}

// intoFolder takes a part file into the job of its folder.
func (r *printRun) intoFolder(s *printedScore) {
	if len(s.prints) == 0 {
		return
	}
	if r.folder != nil && r.folder.dir != s.dir {
		r.failed = r.endFolder()
	}
	if r.folder == nil {
		r.folder = &folderJob{printing.Job{Title: s.Title, Language: string(r.Language), OneSided: r.oneSided}, s.dir}
	}
	for i, p := range s.prints {
		r.folder.Add(p, s.copies[i])
	}
	s.prints = nil
}

// endFolder writes the job of a folder's part files.
func (r *printRun) endFolder() error {
	if r.folder == nil || r.failed != nil {
		return r.failed
	}
	job := r.folder
	r.folder = nil
	row := job.Row()
	if row.Copies == 0 {
		return nil
	}
	folder := r.output.Folder(filepath.Join(r.out, filepath.FromSlash(job.dir)))
	wrote, err := writeJob(folder, jobName+".pdf", &job.Job, files.Origin{})
	if err != nil {
		return err
	}
	if wrote {
		r.summary.Written++
	}
	row.File = path.Join(filepath.ToSlash(r.out), job.dir, jobName+".pdf")
	r.scores[len(r.scores)-1].Job = &row
	if !r.flags.json && !r.flags.quiet {
		fmt.Fprintf(r.program.streams.Out, "%s %s\n", report.Visible(row.File), row.InWords())
	}
	return folder.Sync()
}
