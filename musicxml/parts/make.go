package parts

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/divided"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/sounding"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Part is a part that was made.
type Part struct {
	Document *etree.Document // nil where nothing is to be written
	Report   Report

	workspace *Workspace
}

// Bytes are the document as it is written, nil without one. They are valid until the
// part's workspace writes something else.
func (s *Part) Bytes(o musicxml.WriteOptions) []byte {
	if s.Document == nil {
		return nil
	}
	w := s.workspace
	w.text = musicxml.Append(slices.Grow(w.text[:0], w.size), s.Document, o)
	return w.text
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

	heard *draft.Heard
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
		AsSource: r.AsSource, AtSound: r.AtSound, Instruments: r.Instruments, ChangesInstrument: r.ChangesInstrument, Warnings: r.Warnings, heard: r.Heard}
	for _, c := range r.Octaves {
		report.Octaves = append(report.Octaves, OctaveChange(c))
	}
	return report
}

// Make makes part file i, in memory of its own.
func (j *Job) Make(i int) (*Part, error) { return j.MakeIn(nil, i) }

// MakeIn makes part file i in a workspace.
func (j *Job) MakeIn(w *Workspace, i int) (*Part, error) {
	if err := checkNumber("part file", i, len(j.assignments)); err != nil {
		return nil, err
	}
	if w == nil {
		w = new(Workspace)
	}
	if j.assignments[i].OneStaff != "" {
		return j.makeShared(w, i)
	}
	if j.desks[i] != nil {
		return j.makeDesk(w, i)
	}
	return j.make(w, j.assignments[i])
}

func (j *Job) make(w *Workspace, a assign.Assignment) (*Part, error) {
	w = w.begin(j.surveyed.score.Music)
	d := draft.New(&j.surveyed.score, a, &w.slabs, &w.timeline)
	if err := j.stages.Make(d, &w.stages, nil); err != nil {
		return nil, j.surveyed.score.Locate(err, a.Part)
	}
	made := &Part{workspace: w}
	if !d.Report.Tacet || j.surveyed.options.Tacet != TacetSkip {
		made.Document = header.Document(d, j.surveyed.options.Language)
		if len(a.Takes) > 0 {
			whole := joining.Stretch{To: musicxml.Position{Measure: len(d.Timeline.Measures)}}
			joining.WriteOrigins(musicxml.Descend(made.Document.Root(), "part-list", "score-part"),
				[]joining.Origin{{Part: a.ID, Label: a.StaffLabel, Staff: 1, Staves: 1, Some: true, Stretches: []joining.Stretch{whole}}})
		}
		if len(d.Divided) > 0 {
			joining.WriteDivided(musicxml.Descend(made.Document.Root(), "part-list", "score-part"), divided.Text(d.Timeline, d.Divided))
		}
		d.Warn(audit.Examine(finished(d, made.Document, w.stages.Page.ClefsRead(d)))...)
	}
	made.Report = reportOf(&d.Report)
	return made, nil
}

// finished is a part with what the audit needs to know of its player.
func finished(d *draft.Draft, doc *etree.Document, clefs []instruments.Clef) audit.Part {
	return audit.Part{Root: doc.Root(), Instrument: d.Assignment.Instrument, Given: d.OtherInstrument(), Clefs: clefs,
		Catalogue: d.Score.Catalogue, Said: d.Report.Warnings}
}

// Silent says where the players of a shared staff are silent together and the score
// sounds: warnings for the part file of the first of them, by its number. The reports
// are those of all part files of the job, in order. A staff of which not every player
// has a part file is not looked at.
func (j *Job) Silent(reports []Report) map[int][]musicxml.Warning {
	silent := map[int][]musicxml.Warning{}
	for i, a := range j.assignments {
		if a.Player != 1 || a.StandsFor != "" || i >= len(reports) || reports[i].heard == nil {
			continue
		}
		if all, together := j.together(a.Part, a.PlayerCount, a.Edition, reports); all {
			if w := draft.Silences(reports[i].heard.Score.Missing(together), "every player"); len(w) > 0 {
				silent[i] = w
			}
		}
	}
	return silent
}

// together is when any of the players of a part sounds, in one edition, and whether all of
// them have part files. Instruments that stand in do not count: what the part itself has
// lost they do not make good.
func (j *Job) together(part, players int, edition string, reports []Report) (all bool, together sounding.Times) {
	made := map[int]bool{}
	var times []sounding.Times
	for i, a := range j.assignments {
		if a.Part == part && a.Player > 0 && a.Edition == edition && a.StandsFor == "" && i < len(reports) && reports[i].heard != nil {
			made[a.Player] = true
			times = append(times, reports[i].heard.Part)
		}
	}
	return len(made) == players, sounding.Union(times...)
}

// Converted is a part of a score that stays a score.
type Converted struct {
	Part   *etree.Element
	Report Report

	workspace *Workspace
}

// Bytes are the <part> as it stands in a written score. They are valid until the
// part's workspace writes something else.
func (c *Converted) Bytes(o musicxml.WriteOptions) []byte {
	w := c.workspace
	w.text = musicxml.AppendPart(slices.Grow(w.text[:0], w.size), c.Part, o)
	return w.text
}

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
		links[i] = header.Link{File: musicxml.File{Name: m.Name, Data: m.Data}, PartIDs: partsOf(&m.Assignment), Label: m.Assignment.Label, Instruments: m.Report.Instruments}
	}
	return header.Bundle(&s.score, rootName, links, func(i int) (*etree.Element, error) { return w.ReadPart(s.score.Music, i) }, o)
}

// partsOf are the ids of the score's parts that a player has; none of a tacet sheet's.
func partsOf(a *Assignment) []string {
	if a.ID == "" {
		return nil
	}
	ids := []string{a.ID}
	for _, further := range a.With {
		ids = append(ids, further.ID)
	}
	return ids
}

// ReadClef reads a <clef> or <part-clef>.
func ReadClef(e *etree.Element) instruments.Clef { return staff.ReadClef(e) }
