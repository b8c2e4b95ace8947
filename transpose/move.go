package transpose

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Spelling says how altered notes are written for the reader.
type Spelling int

const (
	// Exact moves every note by the interval, so that the way back is exact.
	Exact Spelling = iota
	// Readable takes double accidentals, and letters foreign to the key, by
	// their simple neighbour where no tie, chord or ornament forbids it.
	Readable
)

// Options says how a part is to be moved.
type Options struct {
	// Stretches are what the part's <transpose> is to be, from which place on.
	// Default: sounding pitch throughout.
	Stretches []Stretch
	// MaxSignature is the most sharps or flats before the enharmonic twin is
	// taken. Default: 6.
	MaxSignature int
	// Spelling of altered notes. Default: Exact.
	Spelling Spelling
	// FreshAccidentals works the printed accidentals out anew, for a part that lost a
	// voice: a sign that nothing on the page calls for any more goes, unless it
	// is marked as cautionary, editorial or bracketed. Default: false.
	FreshAccidentals bool
	// Courtesies are signs that FreshAccidentals lets stand, though nothing calls for
	// them: see [Courtesies]. Default: none.
	Courtesies map[*etree.Element]bool
	// AsPrinted moves the page as it is, its omissions and contradictions with
	// it: a sign that the source's page lacks stays lacking, a wrong one stays
	// wrong. For whole scores, whose way back is to be exact. Default: false, the
	// page is made such that a player who reads it plays what is meant.
	AsPrinted bool
	// ConcertScore writes the part as one of a concert score: <transpose> holds
	// whole octaves alone, and <for-part> says from place to place what leads
	// back (MusicXML 4.0, concert-score). Default: false, <transpose> says all
	// and a <for-part> goes.
	ConcertScore bool
	// Memory to work in. Default: memory of its own.
	Memory *Memory
}

// DefaultOptions returns the defaults.
func DefaultOptions() Options { return Options{MaxSignature: 6} }

// Result says what was done.
type Result struct {
	// Written is the <transpose> at the start of the part's first staff; Moved
	// is what was added to the source's written notes there.
	Written Transposition
	Moved   pitch.Interval
	// Passages says the same for every staff and place where it changes.
	Passages []Passage
	// Notes counts the pitched notes but cues, Respelled those that are spelled another way
	// than the interval does: by Readable, or because no sign stands for the exact
	// alteration.
	Notes, Respelled int
	Warnings         []musicxml.Warning
}

// Passage is what was done on a staff from a place on.
type Passage struct {
	Measure int               // index of the measure, from 0
	Onset   musicxml.Fraction // in quarter notes from the start of that measure
	Staff   int               // counted from 1 at the top
	Source  Transposition     // what the source's <transpose> said
	Moved   pitch.Interval    // what was added to the source's written notes
	Written Transposition     // what the part's <transpose> is now
	// Twin is true where the signature was taken by its enharmonic twin.
	Twin bool
}

// mover is the work on one part.
type mover struct {
	timeline *musicxml.Timeline
	options  Options
	states   *states
	bars     []bar
	result   Result
}

// Move rewrites a part, laid out in time, so that it is written as the options
// say and sounds as before. The timeline's tree is changed in place; events
// added to it (a restated <attributes>) are not in the timeline. The error is
// an *musicxml.Error with measure and beat.
func Move(t *musicxml.Timeline, o Options) (Result, error) {
	if o.Memory == nil {
		o.Memory = new(Memory)
	}
	m := &mover{timeline: t, options: o}
	if len(t.Measures) == 0 {
		return m.result, nil
	}
	var err error
	if m.states, err = readStates(t, o); err != nil {
		return m.result, err
	}
	if m.bars, err = readNotes(t, m.states, o.Memory); err != nil {
		return m.result, err
	}
	start := &m.states.staves[0][0]
	m.result.Written, m.result.Moved = start.written, start.move
	m.result.Passages = m.states.passages()
	m.warnOfSteps()
	m.readSourceAccidentals()
	if err := m.movePitches(); err != nil {
		return m.result, err
	}
	if !m.states.unmoved() {
		m.moveMarks()
		m.writeAttributes()
	}
	m.placeAccidentals()
	if !o.ConcertScore {
		m.removeForParts()
	}
	return m.result, nil
}

// warnOfSteps tells of a <transpose> whose letter steps were not believed.
func (m *mover) warnOfSteps() {
	for _, ch := range m.states.changes {
		if !ch.is("transpose") {
			continue
		}
		t, err := music.ReadTransposition(ch.element, 0)
		said, err2 := musicxml.ParseFraction(musicxml.ChildText(ch.element, "diatonic"))
		if err == nil && err2 == nil && said != musicxml.NewFraction(int64(t.Diatonic), 1) {
			m.warn(ch.position, notice.TransposeSteps, fmt.Sprintf(
				"a <transpose> of %d semitones says %s letter steps, which cannot be meant; the usual interval of that size was taken",
				t.Chromatic, said))
		}
	}
}

// removeForParts takes out what a concert score says of the part to be made: it
// is made now.
func (m *mover) removeForParts() {
	for _, ch := range m.states.changes {
		if ch.is("for-part") {
			m.removeFromAttributes(ch.element)
		}
	}
}

// movePitches moves every note and writes it.
func (m *mover) movePitches() error {
	if m.states.changesInterval() {
		m.moveAcrossChanges()
	} else {
		m.eachNote(func(n *note) { n.pitch = n.state.move.Apply(n.source) })
	}
	if !m.options.AsPrinted {
		m.respellUnsayable()
	}
	if m.options.Spelling == Readable {
		m.respell()
	}
	var failed error
	m.eachNote(func(n *note) {
		if !n.event.Cue {
			m.result.Notes++
		}
		if failed == nil && n.pitch != n.source {
			failed = m.write(n)
		}
	})
	return failed
}

func (m *mover) write(n *note) error {
	if err := music.WritePitch(n.pitchIn, n.pitch); err != nil {
		measure := &m.timeline.Measures[n.place.measure]
		return &musicxml.Error{Measure: measure.Number, Beat: measure.Beat(n.place.onset), Code: notice.OutOfOctaves,
			Hint: "give the part to another instrument, or another octave", Err: err}
	}
	return nil
}

func (m *mover) eachNote(do func(*note)) {
	for i := range m.bars {
		for k := range m.bars[i].notes {
			do(&m.bars[i].notes[k])
		}
	}
}

// warn notes something that a person should look at.
func (m *mover) warn(at position, code notice.Code, text string) {
	measure := &m.timeline.Measures[at.measure]
	m.result.Warnings = append(m.result.Warnings, musicxml.Warning{
		Code: code, Measure: measure.Number, Beat: measure.Beat(at.onset), Text: text})
}

// staffMove returns the interval for an event that is not a note.
func (m *mover) staffMove(ev *musicxml.Event, at position) *state {
	return m.states.at(ev.Staff, at.last())
}

// moveMarks moves what is tied to written pitch beside the notes themselves.
func (m *mover) moveMarks() {
	m.eachNote(func(n *note) {
		m.moveAccidentalMarks(n)
		m.moveNoteheadText(n)
	})
	for i := range m.timeline.Measures {
		for order := range m.timeline.Measures[i].Events {
			ev := &m.timeline.Measures[i].Events[order]
			at := position{i, ev.Onset, order}
			switch ev.Kind {
			case musicxml.Harmony:
				m.moveHarmony(ev, at)
			case musicxml.FiguredBass:
				m.moveFigures(ev, at)
			case musicxml.Direction:
				m.moveHarpPedals(ev, at)
			}
		}
	}
}
