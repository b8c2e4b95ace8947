package transpose

import (
	"slices"
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// note is a pitched note of the part while it is being moved.
type note struct {
	event      *musicxml.Event
	place      position
	pitchIn    *etree.Element // <pitch>
	accidental *etree.Element // <accidental>, nil where none is printed
	notations  *etree.Element // the first <notations>
	source     pitch.Pitch
	pitch      pitch.Pitch // as it will be written
	state      *state
	start      musicxml.Fraction // onset from the start of the piece
	tieStart   bool
	tieStop    bool
	hidden     bool
	proposed   bool // an editor's sign explains it, see explained
	printed    bool // a sign stood at the note when its moment was read
	needed     bool // the source's page needed a sign here; see readSourceAccidentals
	// auxiliaries are the notes that an ornament adds, where they are needed.
	auxiliaries *auxiliaries
	respelled   bool // not as the interval has it; see Result.Respelled
}

// bar is the pitched notes of one measure in document order, and in the order
// in which they are read.
type bar struct {
	notes   []note
	reading []int // indices of notes by onset, grace notes first
}

// Memory is what Move works in, used again for part after part. The zero value is
// ready. It serves one goroutine at a time.
type Memory struct {
	bars    []bar
	notes   []note // one array each for all bars: a long part has tens of thousands
	reading []int
}

// Forget lets go of the part that was moved last, for memory that goes on to
// another score.
func (m *Memory) Forget() {
	clear(m.bars[:cap(m.bars)])
	clear(m.notes[:cap(m.notes)])
}

// readNotes parses the pitches of a part, bar by bar.
func readNotes(t *musicxml.Timeline, c *states, memory *Memory) ([]bar, error) {
	count := countNotes(t)
	memory.bars = slices.Grow(memory.bars[:0], len(t.Measures))[:len(t.Measures)]
	memory.notes, memory.reading = slices.Grow(memory.notes[:0], count), slices.Grow(memory.reading[:0], count)
	bars, notes, reading := memory.bars, memory.notes, memory.reading
	for i := range t.Measures {
		from := len(notes)
		var err error
		if notes, err = appendNotes(notes, &t.Measures[i], i, c); err != nil {
			return nil, err
		}
		to := len(notes)
		bars[i].notes = notes[from:to:to]
		reading = reading[:to]
		bars[i].reading = reading[from:to:to]
		bars[i].order()
	}
	return bars, nil
}

// countNotes is the most pitched notes that a part can have.
func countNotes(t *musicxml.Timeline) int {
	count := 0
	for i := range t.Measures {
		for k := range t.Measures[i].Events {
			if ev := &t.Measures[i].Events[k]; ev.Kind == musicxml.Note && !ev.Rest {
				count++
			}
		}
	}
	return count
}

// appendNotes parses the pitched notes of one measure.
func appendNotes(notes []note, m *musicxml.Measure, measure int, c *states) ([]note, error) {
	for order := range m.Events {
		ev := &m.Events[order]
		if ev.Kind != musicxml.Note || ev.Rest {
			continue
		}
		read, err := music.ReadNote(ev)
		if err != nil {
			return notes, &musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: notice.NoMusic,
				Hint: "correct the note and export the score again", Err: err}
		}
		if !read.Pitched() {
			continue
		}
		at := position{measure, ev.Onset, order}
		holds := at
		if !ev.Grace {
			holds = at.last()
		}
		notes = append(notes, note{
			event: ev, place: at, start: m.Start.Add(ev.Onset), state: c.at(ev.Staff, holds),
			pitchIn: read.Head, accidental: read.Accidental, notations: read.Notations, source: read.Pitch, pitch: read.Pitch,
			tieStart: read.Ties.Start(), tieStop: read.Ties.Stop(), hidden: read.Hidden,
		})
		n := &notes[len(notes)-1]
		n.proposed = n.explained()
	}
	return notes, nil
}

// explained reports whether the note has no sign of its own and an editor's sign
// above or below that says what it is (MusicXML 4.0, accidental-mark as a separate
// notation). It holds for this note alone.
func (n *note) explained() bool {
	if n.notations == nil || n.accidental != nil {
		return false
	}
	value, known := AccidentalValue(musicxml.ChildText(n.notations, "accidental-mark"))
	return known && value == n.source.Alter
}

// order fills reading: by onset, at one onset grace notes before the others, and
// else as written.
func (b *bar) order() {
	sorted := true
	for i := range b.notes {
		b.reading[i] = i
		if i > 0 && b.readBefore(i, i-1) {
			sorted = false
		}
	}
	if !sorted {
		sort.SliceStable(b.reading, func(i, j int) bool { return b.readBefore(b.reading[i], b.reading[j]) })
	}
}

func (b *bar) readBefore(i, j int) bool {
	x, y := b.notes[i].event, b.notes[j].event
	if x.Onset != y.Onset {
		return x.Onset.Less(y.Onset)
	}
	return x.Grace && !y.Grace
}
