package draft

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Draft is a part in the making: the tree that it is written in, and the same laid
// out in time. Who changes the tree says so ([Draft.Rearranged], [Draft.Rewritten]; the
// draft's own methods do it themselves), and [Draft.Settle] brings the timeline up to
// date before the next stage begins.
type Draft struct {
	Score      *survey.Score
	Assignment assign.Assignment
	Survey     *survey.Part // what the first reading told of the part, or of the staff that was taken
	Slabs      *musicxml.Slabs
	Part       *etree.Element
	Timeline   *musicxml.Timeline
	Report     Report
	Staves     int // that the part is on, from the order of its rests on
	// Elsewhere: notes may stand on other letters than in the score, because they were
	// moved to be read, or are cue notes that were set by octaves.
	Elsewhere bool
	// Changes are the places where the player changes instrument, in order.
	Changes []InstrumentChange

	// Entries are the <score-part>s of the staves that were joined to this part, with the
	// instruments that they keep; none for a part of one staff of the score.
	Entries []*etree.Element

	// Divided are the passages that were set on two staves, because one cannot hold what
	// the players have when they divide.
	Divided []Bars

	named map[*etree.Element]bool // see MarkWords
	state state
	// divided is, for each measure of the timeline, the last one that says divisions. See
	// lastDivisions.
	divided []int32
}

// Bars are a passage by its bars, both included; Added and United say that words for the
// players were added where they divide, and where they come together again.
type Bars struct {
	First, Last   int
	Added, United bool
}

// state says how far the timeline is behind the tree.
type state uint8

const (
	upToDate   state = iota
	rearranged       // measures have other children, or the same in another order
	rewritten        // anything may be otherwise
)

// New begins a part out of what is known of the score and who is to play it, in a
// worker's memory.
func New(score *survey.Score, a assign.Assignment, slabs *musicxml.Slabs, timeline *musicxml.Timeline) *Draft {
	return &Draft{Score: score, Assignment: a, Survey: &score.Parts[a.Part], Slabs: slabs, Timeline: timeline}
}

// Read reads the part without what describes the score's page.
func (s *Draft) Read() error {
	var err error
	if s.Part, err = s.Score.Music.SkimPart(s.Assignment.Part, s.Slabs, musicxml.Skim{Attribute: survey.NotDrawn}); err != nil {
		return err
	}
	s.stripPage()
	s.Rewritten()
	return s.Settle()
}

// ReadWhole reads the part as the score has it.
func (s *Draft) ReadWhole() error {
	var err error
	if s.Part, err = s.Score.Music.ReadPart(s.Assignment.Part, s.Slabs); err != nil {
		return err
	}
	s.Rewritten()
	return s.Settle()
}

// Rearranged says that children of measures were added, taken out or put elsewhere,
// and that the others are what they were: their voice, staff, duration and offset, and
// whether they have notations.
func (s *Draft) Rearranged() { s.state = max(s.state, rearranged) }

// Rewritten says that the part may be otherwise in any way.
func (s *Draft) Rewritten() { s.state = rewritten }

// Settle lays the part out in time as it now is.
func (s *Draft) Settle() error {
	state := s.state
	s.state = upToDate
	if state != upToDate {
		s.divided = nil
	}
	switch state {
	case rearranged:
		return s.Timeline.Renew(s.Part)
	case rewritten:
		return s.Timeline.LayOut(s.Part)
	}
	return nil
}

// Warn adds to the report.
func (s *Draft) Warn(w ...musicxml.Warning) { s.Report.Warnings = append(s.Report.Warnings, w...) }

// WarnAt adds a warning of what is at a place of the part.
func (s *Draft) WarnAt(at musicxml.Position, code notice.Code, format string, args ...any) {
	m := &s.Timeline.Measures[at.Measure]
	s.Warn(musicxml.Warning{Code: code, Measure: m.Number, Beat: m.Beat(at.Onset), Text: fmt.Sprintf(format, args...)})
}

// StandOn goes on with a part of which one staff was taken: what was surveyed of
// the others no longer concerns it.
func (s *Draft) StandOn(staff int) {
	own := *s.Survey
	own.Staves, own.Source = 1, nil
	for _, said := range s.Survey.Source {
		if said.Staff == 0 || said.Staff == staff {
			said.Staff = 0
			own.Source = append(own.Source, said)
		}
	}
	s.Survey = &own
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
	Heard             *Heard // nil where nothing may be lost
	Warnings          []musicxml.Warning
}

// OctaveChange is an octave that a part takes from a place on, because the plan
// gives it to another instrument or another octave.
type OctaveChange struct {
	At            musicxml.Position
	Measure, Beat string // the place as musicians name it
	Octave        int    // whole octaves added to the sound of the score
}
