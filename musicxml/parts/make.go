package parts

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/making"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Part is a part that was made.
type Part struct {
	Document *etree.Document // nil where nothing is to be written
	Report   Report

	workspace *stages.Workspace
}

// Bytes are the document as it is written, nil without one. They are valid until the
// part's workspace writes something else.
func (s *Part) Bytes(o musicxml.WriteOptions) []byte {
	if s.Document == nil {
		return nil
	}
	return s.workspace.Text(func(room []byte) []byte { return musicxml.Append(room, s.Document, o) })
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
	if err := checkNumber("part file", i, len(j.cast.Files)); err != nil {
		return nil, err
	}
	room := w.stages()
	made, err := j.maker.Make(room, &j.cast.Files[i], j.cast.Desks[i])
	return partOf(made, room, err)
}

func partOf(made making.Made, w *stages.Workspace, err error) (*Part, error) {
	if err != nil {
		return nil, err
	}
	return &Part{Document: made.Document, Report: reportOf(made.Report), workspace: w}, nil
}

// MakeTacet makes the sheet of a player of a work who has nothing in this movement: the
// bars, keys and marks of the score, and the word. The instrument is what the player
// would read it for, nil where that is not known. The error is that of Make.
func (j *Job) MakeTacet(w *Workspace, label string, in *instruments.Instrument) (*Part, error) {
	if len(j.assigner().Parts) == 0 {
		return nil, checkNumber("part", 0, 0)
	}
	room := w.stages()
	made, err := j.maker.Tacet(room, label, in)
	return partOf(made, room, err)
}

// Silent says where the players of a shared staff are silent together and the score
// sounds: warnings for the part file of the first of them, by its number. The reports
// are those of all part files of the job, in order. A staff of which not every player
// has a part file is not looked at.
func (j *Job) Silent(reports []Report) map[int][]musicxml.Warning {
	var heard []*draft.Heard
	for i := range reports {
		heard = append(heard, reports[i].heard)
	}
	return making.Silent(j.cast.Files, heard)
}
