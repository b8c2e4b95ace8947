package fit

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Note is a pitched note of a part, as it is written and as it sounds. A note that
// is tied on is one note, as long as all its pieces.
type Note struct {
	Index         int // of the measure, from 0
	Onset         musicxml.Fraction
	Measure, Beat string
	Start         musicxml.Fraction // in quarter notes from the start of the piece
	Duration      musicxml.Fraction // in quarter notes, 0 for a grace note
	Written       pitch.Pitch
	Sounding      pitch.Pitch
	Chord         bool // stands on one stem with the note before
	Staff         int
	Voice         string
}

// midi is the note's MIDI number as it sounds, fractions cut off.
func (n *Note) midi() int { return int(n.Sounding.MIDI() / pitch.Semitone) }

// end is where the note stops sounding.
func (n *Note) end() musicxml.Fraction { return n.Start.Add(n.Duration) }

// Line is the pitched notes of a part in document order, cue notes left out.
type Line []Note

// ReadLine reads a part laid out in time. unsaid is added to the sound of a part
// that has no <transpose>. The error is an *musicxml.Error with measure and beat.
func ReadLine(t *musicxml.Timeline, unsaid pitch.Interval) (Line, error) {
	said, err := transpose.Stretches(t)
	if err != nil {
		return nil, err
	}
	r := lineReader{said: said, unsaid: unsaid, held: map[heldNote]int{}}
	for i := range t.Measures {
		m := &t.Measures[i]
		for k := range m.Events {
			if ev := &m.Events[k]; ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue {
				if err := r.note(m, ev); err != nil {
					return nil, musicxml.Locate(err, musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: notice.NoMusic})
				}
			}
		}
	}
	return r.line, nil
}

// heldNote is where and at what pitch a tied note goes on.
type heldNote struct {
	at    musicxml.Fraction
	sound pitch.Alter
}

type lineReader struct {
	line   Line
	said   []transpose.Stretch
	unsaid pitch.Interval
	held   map[heldNote]int // index in line of the note that goes on there
}

func (r *lineReader) note(m *musicxml.Measure, ev *musicxml.Event) error {
	e := musicxml.Child(ev.Element, "pitch")
	if e == nil {
		return nil
	}
	written, err := transpose.ReadPitch(e)
	if err != nil {
		return err
	}
	n := Note{Index: m.Index, Onset: ev.Onset, Measure: m.Number, Beat: m.Beat(ev.Onset), Start: m.Start.Add(ev.Onset),
		Duration: ev.Duration, Written: written, Chord: ev.Chord, Staff: ev.Staff, Voice: ev.Voice}
	n.Sounding = r.soundingAt(m.Index, ev).Apply(written)
	stops, starts := ties(ev)
	at := heldNote{n.Start, n.Sounding.MIDI()}
	place := len(r.line)
	if before, ok := r.held[at]; ok && stops {
		delete(r.held, at)
		r.line[before].Duration = r.line[before].Duration.Add(n.Duration)
		place = before
	} else {
		r.line = append(r.line, n)
	}
	if starts {
		r.held[heldNote{n.end(), n.Sounding.MIDI()}] = place
	}
	return nil
}

// ties tells whether a note is tied to one before it and on to one behind it, by
// <tie>, which sounds, or by <tied>, which is drawn: files have either alone.
func ties(ev *musicxml.Event) (stops, starts bool) {
	read := func(all []*etree.Element) {
		for _, e := range all {
			kind := musicxml.Attr(e, "type")
			stops, starts = stops || kind == "stop" || kind == "continue", starts || kind == "start" || kind == "continue"
		}
	}
	read(musicxml.Children(ev.Element, "tie"))
	for _, notations := range musicxml.Children(ev.Element, "notations") {
		read(musicxml.Children(notations, "tied"))
	}
	return stops, starts
}

// soundingAt is what is added to a note's written pitch.
func (r *lineReader) soundingAt(measure int, ev *musicxml.Event) pitch.Interval {
	now := r.unsaid
	for i := range r.said {
		t := &r.said[i]
		before := t.Measure < measure || t.Measure == measure && t.Onset.Cmp(ev.Onset) <= 0
		if before && (t.Staff == 0 || t.Staff == ev.Staff) && (t.To != transpose.Transposition{} || r.unsaid == pitch.Interval{}) {
			now = t.To.Interval()
		}
	}
	return now
}

// Tessitura is where the line lies as it sounds.
func (l Line) Tessitura() Tessitura {
	return tessituraOf(l, func(n *Note) pitch.Pitch { return n.Sounding })
}
