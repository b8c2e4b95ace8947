package survey

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

// Score is what a survey tells of a score.
type Score struct {
	Path   string `json:"path"`
	Title  string `json:"title"`
	Format string `json:"format"` // musicxml or mxl
	// Version is that of MusicXML; Layout is partwise or timewise.
	Version string `json:"version"`
	Layout  string `json:"layout"`
	// Pitch is concert, written, mixed, or unsaid: it looks like one of them, and
	// Reason says why.
	Pitch    string             `json:"pitch"`
	Reason   string             `json:"pitch_reason"`
	ToldBy   string             `json:"pitch_told_by"`
	Sure     bool               `json:"pitch_sure"` // false: a person is asked
	Measures int                `json:"measures"`
	Parts    []Part             `json:"parts"`
	Warnings []musicxml.Warning `json:"warnings"` // of the score as a whole
	Players  []string           `json:"-"`        // proposed for a plan, beside the parts
}

// Part is what a survey tells of a part.
type Part struct {
	ID           string `json:"id"`
	Name         string `json:"name"`
	Instrument   string `json:"instrument"` // catalogue id, "" where not recognised
	RecognisedBy string `json:"recognised_by"`
	Assumed      bool   `json:"assumed"`
	// Transpose is what the source adds to its written pitch at the start of the
	// part; PartTranspose is what the extracted part will say.
	Transpose     transpose.Transposition `json:"transpose"`
	PartTranspose transpose.Transposition `json:"part_transpose"`
	Changes       []Change                `json:"transpose_changes,omitempty"` // of Transpose, later in the part
	Keys          []Key                   `json:"keys"`                        // signatures as in the source
	Measures      int                     `json:"measures"`
	Staves        int                     `json:"staves"`
	Notes         int                     `json:"notes"`
	// The outermost notes as they sound and as the player reads them, "" without
	// any; then the instrument's range as it is read.
	LowestSounding  string             `json:"lowest_sounding"`
	HighestSounding string             `json:"highest_sounding"`
	LowestWritten   string             `json:"lowest_written"`
	HighestWritten  string             `json:"highest_written"`
	RangeLow        string             `json:"range_low"`
	RangeHigh       string             `json:"range_high"`
	Warnings        []musicxml.Warning `json:"warnings"`
	planName        string             // what a plan calls the part
	changes         bool               // the player changes instrument on the way
}

// Key is a signature where it begins: sharps positive, flats negative.
type Key struct {
	Measure string `json:"measure"`
	Fifths  int    `json:"fifths"`
}

// Change is a change of the source's transposition.
type Change struct {
	Measure   string                  `json:"measure"`
	Transpose transpose.Transposition `json:"transpose"`
}

// changesOf lists where the upper staff's transposition changes.
func changesOf(s *parts.SurveyedPart, now transpose.Transposition) []Change {
	var changes []Change
	for _, said := range s.Source {
		if said.Staff < 2 && said.To != now {
			changes = append(changes, Change{s.Measures[said.Measure], said.To})
			now = said.To
		}
	}
	return changes
}

// OfScore tells of a score what does not belong to one part alone. data is its file,
// or HeadBytes of it.
func OfScore(surveyed *parts.Surveyed, score *musicxml.Score, path string, data []byte) Score {
	s := Score{Path: path, Title: surveyed.Title(), Format: "musicxml", Version: score.Version, Layout: "partwise",
		Parts: []Part{}, Warnings: []musicxml.Warning{}}
	if score.Compressed {
		s.Format = "mxl"
	}
	if score.Timewise {
		s.Layout = "timewise"
		s.Warnings = append(s.Warnings, musicxml.Warning{Code: notice.Timewise, Text: "the score is written bar by bar for all parts (timewise); it is read part by part"})
	}
	if encoding := unusualEncoding(data); encoding != "" {
		s.Warnings = append(s.Warnings, musicxml.Warning{Code: notice.OtherEncoding, Text: fmt.Sprintf("the file is in the encoding %s; what is made of it is in UTF-8", encoding)})
	}
	s.Pitch, s.Reason = surveyed.Pitch()
	s.ToldBy, s.Sure = surveyed.ToldBy(), !surveyed.Unsaid()
	declared := false
	for i := range score.Parts {
		p := surveyed.Part(i)
		s.Measures = max(s.Measures, len(p.Measures))
		declared = declared || declares(&p)
	}
	if surveyed.Unsaid() || s.Pitch == "written" && !declared {
		s.Pitch = "unsaid"
	}
	for _, w := range score.Warnings {
		s.Warnings = append(s.Warnings, w.Warning())
	}
	return s
}

// declares reports whether a part says how it is transposed.
func declares(p *parts.SurveyedPart) bool {
	return slices.ContainsFunc(p.Source, func(said transpose.Stretch) bool { return !said.To.OctaveOnly() })
}

// OfPart makes part file i in memory, as an extraction would, and tells what it met.
func OfPart(job *parts.Job, i int, w *parts.Workspace) Part {
	a := job.Assignment(i)
	s := job.Surveyed().Part(a.Part)
	p := Part{ID: a.ID, Name: a.Name, RecognisedBy: a.RecognisedBy, Assumed: a.Assumed, Keys: []Key{},
		Measures: len(s.Measures), Staves: s.Staves, Notes: s.Notes + s.Unpitched, planName: job.Names()[i]}
	for _, k := range s.Keys {
		p.Keys = append(p.Keys, Key{k.Measure, k.Fifths})
	}
	p.Transpose = job.Surveyed().SourceTransposition(a.Part)
	p.Changes = changesOf(&s, p.Transpose)
	sheet, err := job.MakeIn(w, i)
	if err != nil {
		p.Warnings = []musicxml.Warning{warningOf(err)}
		return p
	}
	p.PartTranspose = sheet.Report.Transpose
	p.Warnings = append([]musicxml.Warning{}, sheet.Report.Warnings...)
	p.changes = sheet.Report.ChangesInstrument || len(p.Changes) > 0 || transpositionsIn(sheet.Document) > 1
	p.compass(&s, sheet.Report)
	p.take(a.Instrument)
	return p
}

// transpositionsIn counts the different transpositions that a part says.
func transpositionsIn(document *etree.Document) int {
	different := map[transpose.Transposition]bool{}
	for _, e := range document.FindElements("score-partwise/part/measure/attributes/transpose") {
		if t, err := music.ReadTransposition(e, 0); err == nil {
			different[t] = true
		}
	}
	return len(different)
}

// compass fills in the outermost notes.
func (p *Part) compass(s *parts.SurveyedPart, made parts.Report) {
	if s.Notes == 0 {
		return
	}
	low, high := s.LowestSounding, s.HighestSounding
	if len(s.Source) == 0 {
		low, high = p.Transpose.Interval().Apply(s.Lowest), p.Transpose.Interval().Apply(s.Highest)
	}
	p.LowestSounding, p.HighestSounding = low.String(), high.String()
	p.LowestWritten, p.HighestWritten = made.Moved.Apply(s.Lowest).String(), made.Moved.Apply(s.Highest).String()
}

// take fills in the instrument and its range.
func (p *Part) take(in *instruments.Instrument) {
	if in == nil {
		return
	}
	p.Instrument = in.ID
	if r, ok := in.Range(instruments.Professional); ok {
		p.RangeLow, p.RangeHigh = r.Written.Low.String(), r.Written.High.String()
	}
}

// OwnStrings gives a survey strings of its own, so that it outlives the score's text
// and does not keep it.
func (s *Score) OwnStrings() {
	for i := range s.Players {
		s.Players[i] = strings.Clone(s.Players[i])
	}
	s.Title, s.Version, s.Reason, s.ToldBy = strings.Clone(s.Title), strings.Clone(s.Version), strings.Clone(s.Reason), strings.Clone(s.ToldBy)
	ownWarnings(s.Warnings)
	for i := range s.Parts {
		p := &s.Parts[i]
		p.ID, p.Name, p.planName = strings.Clone(p.ID), strings.Clone(p.Name), strings.Clone(p.planName)
		for k := range p.Keys {
			p.Keys[k].Measure = strings.Clone(p.Keys[k].Measure)
		}
		for k := range p.Changes {
			p.Changes[k].Measure = strings.Clone(p.Changes[k].Measure)
		}
		ownWarnings(p.Warnings)
	}
}

func ownWarnings(warnings []musicxml.Warning) {
	for i := range warnings {
		w := &warnings[i]
		w.Measure, w.Beat, w.Text = strings.Clone(w.Measure), strings.Clone(w.Beat), strings.Clone(w.Text)
	}
}

// warningOf makes an error a warning, with its place.
func warningOf(err error) musicxml.Warning {
	w := musicxml.Warning{Code: notice.Failed, Text: err.Error()}
	if known, ok := errors.AsType[*musicxml.Error](err); ok {
		known := known.Warning()
		w.Measure, w.Beat, w.Code, w.Text = known.Measure, known.Beat, cmp.Or(known.Code, w.Code), cmp.Or(known.Text, w.Text)
	}
	return w
}
