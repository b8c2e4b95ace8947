package parts

import (
	"fmt"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/cues"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/rests"
	"deskpart/musicxml/parts/internal/sharing"
	"deskpart/musicxml/parts/internal/technique"
	"deskpart/musicxml/parts/internal/written"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Sheet is a part that was made.
type Sheet struct {
	Document *etree.Document // nil where nothing is to be written
	Report   Report

	workspace *Workspace
}

// Bytes are the document as it is written, nil without one. They are valid until the
// sheet's workspace writes something else.
func (s *Sheet) Bytes(o musicxml.WriteOptions) []byte {
	if s.Document == nil {
		return nil
	}
	return s.workspace.document(s.Document, o)
}

// Report says what was done for one part.
type Report struct {
	Transpose transpose.Transposition // at the start of the part
	Moved     pitch.Interval          // what was added to the source's notes
	Measures  int
	Notes     int
	Respelled int
	Tacet     bool
	// AsSource: converted to written, the part was left at sounding pitch as in the
	// score that its concert score was made of.
	AsSource bool
	// AtSound: converted to concert, the part stood at sounding pitch in the source,
	// unsaid.
	AtSound bool
	// Instruments are the ids of the score-instruments that the part keeps.
	Instruments []string
	Octaves     []OctaveChange // where the sound was moved by octaves, in order
	// ChangesInstrument: the player changes instrument on the way.
	ChangesInstrument bool
	Warnings          []musicxml.Warning
}

// OctaveChange is an octave that a part takes from a place on, because the plan
// gives it to another instrument or another octave.
type OctaveChange struct {
	At            musicxml.Position
	Measure, Beat string // the place as musicians name it
	Octave        int    // whole octaves added to the sound of the score
}

func reportOf(r *draft.Report) Report {
	report := Report{Transpose: r.Transpose, Moved: r.Moved, Measures: r.Measures, Notes: r.Notes, Respelled: r.Respelled, Tacet: r.Tacet,
		AsSource: r.AsSource, AtSound: r.AtSound, Instruments: r.Instruments, ChangesInstrument: r.ChangesInstrument, Warnings: r.Warnings}
	for _, c := range r.Octaves {
		report.Octaves = append(report.Octaves, OctaveChange(c))
	}
	return report
}

// Make makes part file i, in memory of its own.
func (j *Job) Make(i int) (*Sheet, error) { return j.MakeIn(nil, i) }

// MakeIn makes part file i in a workspace.
func (j *Job) MakeIn(w *Workspace, i int) (*Sheet, error) {
	if err := j.check(i); err != nil {
		return nil, err
	}
	a := j.assignments[i]
	w = w.begin(j.surveyed.score.Music, a.Part)
	m := maker{job: j, Draft: draft.New(&j.surveyed.score, a, &w.slabs, &w.timeline), workspace: w}
	if err := m.make(); err != nil {
		return nil, j.surveyed.score.Locate(err, a.Part)
	}
	sheet := &Sheet{workspace: w}
	if !m.Report.Tacet || j.surveyed.options.Tacet != TacetSkip {
		sheet.Document = header.Document(m.Draft, string(j.surveyed.options.Language))
	}
	sheet.Report = reportOf(&m.Report)
	return sheet, nil
}

// maker makes one part.
type maker struct {
	job *Job
	*draft.Draft
	workspace  *Workspace
	reduced    bool                    // a line was taken out of fuller music
	courtesies map[*etree.Element]bool // printed signs that stay on a part taken off a shared staff
	cued       []cues.Cue
	moved      bool // notes of it are written otherwise than in the score
}

// stages are the steps by which a part is made, in order. After each one the draft is
// settled.
var stages = []struct {
	name string
	do   func(*maker) error
}{
	{"take one player's music off the shared staff", func(m *maker) (err error) {
		m.courtesies, err = sharing.TakePlayersMusic(m.Draft, m.job.surveyed.players)
		return err
	}},
	{"leave one line to an instrument of one", func(m *maker) (err error) {
		m.reduced, err = sharing.KeepOneLine(m.Draft, m.job.surveyed.players)
		return err
	}},
	{"find the changes of instrument", func(m *maker) error { return m.job.surveyed.changes.Find(m.Draft) }},
	{"put the rests in order", func(m *maker) error { return rests.Order(m.Draft, m.job.lengths) }},
	{"add the marks of the whole system", func(m *maker) error { return m.job.marks.Add(m.Draft, m.job.surveyed.words) }},
	{"name the instruments that are changed to", func(m *maker) error { return changes.Name(m.Draft, m.language()) }},
	{"add cue notes", func(m *maker) (err error) {
		m.cued, err = m.job.cues.Add(m.Draft)
		return err
	}},
	{"leave out another instrument's techniques", func(m *maker) error { return technique.RemoveForeign(m.Draft) }},
	{"see how the score stands on its staves", func(m *maker) error { return m.workspace.page.Read(m.Draft) }},
	{"write for the player's instrument", (*maker).write},
	{"set the cue notes on the staff", func(m *maker) error { return cues.Seat(m.Draft, m.cued) }},
	{"choose the clefs", func(m *maker) error { return m.workspace.page.ChooseClefs(m.Draft, m.mayStandElsewhere()) }},
	{"turn the stems", func(m *maker) error { return m.workspace.page.TurnStems(m.Assignment.Player > 0) }},
	{"settle the marks at the stems", func(m *maker) error { return m.workspace.page.SettlePlacement(m.Assignment.Player > 0) }},
	{"look for texts that name pitches", func(m *maker) error { return m.workspace.page.ReportPitchTexts(m.Draft) }},
	{"hold the notes against the range", func(m *maker) error {
		return m.workspace.page.CheckRange(m.Draft, string(m.job.surveyed.options.Level))
	}},
	{"mark a silent part", func(m *maker) error { return rests.MarkTacet(m.Draft) }},
	{"draw multi-bar rests", func(m *maker) error { return rests.DrawBars(m.Draft, m.job.lengths, m.job.surveyed.options.RestBars) }},
}

func (m *maker) make() error {
	if err := m.Read(); err != nil {
		return err
	}
	m.Report.Measures = len(m.Timeline.Measures)
	m.Warn(m.Assignment.Warnings...)
	for _, stage := range stages {
		err := stage.do(m)
		if err == nil {
			err = m.Settle()
		}
		if err != nil {
			return fmt.Errorf("cannot %s: %w", stage.name, err)
		}
	}
	return nil
}

func (m *maker) write() (err error) {
	o := m.job.surveyed.writing(&m.workspace.move)
	o.Page, o.Courtesies, o.Reduced = &m.workspace.page, m.courtesies, m.reduced
	m.moved, err = written.Write(m.Draft, o)
	return err
}

// mayStandElsewhere reports whether notes may be written otherwise than when the page
// was taken down: they were moved to be read, or are cue notes that were seated.
func (m *maker) mayStandElsewhere() bool { return m.moved || len(m.cued) > 0 }

func (m *maker) language() string { return string(m.job.surveyed.options.Language) }

// Converted is a part of a score that stays a score.
type Converted struct {
	Part   *etree.Element
	Report Report

	workspace *Workspace
}

// Bytes are the <part> as it stands in a written score. They are valid until the
// part's workspace writes something else.
func (c *Converted) Bytes(o musicxml.WriteOptions) []byte { return c.workspace.part(c.Part, o) }

// ConvertedScore is the document of a converted score, in which an empty <part>
// holds the place of each part: its header says that the score is in concert
// pitch, or no longer does. The reports are those of all parts, in order.
func (s *Surveyed) ConvertedScore(to Input, reports []Report) (doc *etree.Document, places []*etree.Element) {
	atSound := make([]bool, len(s.score.Parts))
	for i := range min(len(reports), len(atSound)) {
		atSound[i] = reports[i].AtSound
	}
	return header.Converted(&s.score, to == Concert, atSound)
}

// BundledPart is a part file that travels with its score in one container.
type BundledPart struct {
	Assignment Assignment
	Report     Report
	Name       string // of the file inside the container, with slashes
	Data       []byte // the part as written
}

// Bundle returns the files of a container that holds the score under rootName and
// its parts, each linked from its <score-part> (MusicXML 4.0, part-link). The
// score itself is as it was but for the links; files that it came with, such as
// pictures, come along, those of an earlier bundle's parts do not. The score's
// parts are read one by one.
func (s *Surveyed) Bundle(w *Workspace, rootName string, made []BundledPart, o musicxml.WriteOptions) ([]musicxml.File, error) {
	links := make([]header.Link, len(made))
	for i, m := range made {
		links[i] = header.Link{Name: m.Name, PartID: m.Assignment.ID, Label: m.Assignment.Label, Instruments: m.Report.Instruments}
	}
	score, linked, err := header.LinkedScore(&s.score, links, func(i int) (*etree.Element, error) { return w.ReadPart(s.score.Music, i) }, o)
	if err != nil {
		return nil, err
	}
	files := []musicxml.File{{Name: rootName, Data: score}}
	for _, m := range made {
		files = append(files, musicxml.File{Name: m.Name, Data: m.Data})
	}
	for _, f := range s.score.Music.Files {
		taken := slices.ContainsFunc(files[:len(made)+1], func(t musicxml.File) bool { return t.Name == f.Name })
		if !taken && !linked[f.Name] {
			files = append(files, f)
		}
	}
	return files, nil
}
