package survey

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/hearing"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Part is what a first reading tells of one part of the score.
type Part struct {
	ID, Name string
	Match    instruments.Match // what the names say
	Staves   int
	Measures []Measure
	Notes    int // pitched notes, without cue notes
	// Unpitched counts the notes of percussion without pitch.
	Unpitched int
	// Keys are the signatures in the order of the part, first staff.
	Keys []Key
	// Source is what <transpose> says from where on; empty where the part says
	// nothing of its pitch.
	Source []transpose.Stretch
	// ForPart is the first <for-part> of a concert score, nil without.
	ForPart *etree.Element
	// Lowest and Highest are the outermost pitches as the source writes them;
	// the Sounding ones have its <transpose> added.
	Lowest, Highest                 pitch.Pitch
	LowestSounding, HighestSounding pitch.Pitch
	// InSounding and InWritten count notes within the matched instrument's range,
	// the source read as it sounds and as the player reads it.
	InSounding, InWritten int
	// Sound is what the part plays, with what its <transpose> says.
	Sound hearing.Part
	// Doubt asks about another transposition with which the part would sound better with the
	// others, "" without; it is there once the score is settled.
	Doubt string
	// facts are what in the notes tells of the instrument.
	facts facts
}

// Measure is a measure's frame, which all parts share.
type Measure struct {
	Number        string
	Start, Length musicxml.Fraction
	Notes         bool // something is played
}

// Key is a key signature where it begins.
type Key struct {
	Measure string
	// At is counted in quarter notes from the start of the piece.
	At     musicxml.Fraction
	Fifths int
	// Traditional is false for a key given tone by tone.
	Traditional bool
}

// Skim leaves out, for the first reading, what cannot matter to other parts.
var Skim = musicxml.Skim{Element: skimmed, Attribute: NotDrawn, Remember: true}

// skimmed leaves out, for the first reading, what cannot matter to other parts.
func skimmed(parent, tag string) bool {
	switch parent {
	case "measure":
		return tag != "figured-bass"
	case "direction-type":
		return tag != "dynamics" && tag != "wedge" && tag != "pedal"
	case "note":
		switch tag {
		case "beam", "stem", "type", "dot", "notehead", "notehead-text", "time-modification",
			"play", "listen", "accidental", "footnote", "level":
			return false
		}
	case "notations":
		return tag == "fermata" || tag == "articulations" || tag == "technical"
	case "articulations":
		return tag == "caesura"
	case "technical":
		return tag == "string" || tag == "fret"
	case "lyric": // that there is one is all that counts
		return false
	}
	return true
}

// Read reads what a part, laid out in time, tells of itself.
func (c *Score) Read(i int, t *musicxml.Timeline) (Part, error) {
	s := Part{ID: c.ScoreParts[i].ID, Name: c.ScoreParts[i].Name, Staves: 1}
	reader := surveyor{Part: &s}
	err := reader.read(t)
	return s, err
}

// surveyor fills a Survey.
type surveyor struct {
	*Part
	source  pitch.Interval
	started bool
}

func (r *surveyor) read(t *musicxml.Timeline) error {
	r.Measures = make([]Measure, 0, len(t.Measures))
	for i := range t.Measures {
		m := &t.Measures[i]
		sm := Measure{Number: m.Number, Start: m.Start, Length: m.Length}
		for k := range m.Events {
			ev := &m.Events[k]
			r.Staves = max(r.Staves, ev.Staff)
			var err error
			switch ev.Kind {
			case musicxml.Attributes:
				err = r.attributes(m, ev)
			case musicxml.Note:
				sm.Notes = sm.Notes || !ev.Rest && !ev.Cue
				err = r.note(m, ev)
			}
			if err != nil {
				return musicxml.Locate(err, musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: notice.NoMusic})
			}
		}
		r.Measures = append(r.Measures, sm)
	}
	return nil
}

// attributes reads keys, transpositions and for-parts.
func (r *surveyor) attributes(m *musicxml.Measure, ev *musicxml.Event) error {
	for _, e := range ev.Element.ChildElements() {
		switch e.Tag {
		case "clef":
			if !music.IsAdditional(e) {
				r.facts.takeClef(e)
			}
		case "staff-details":
			r.facts.tuning(e)
		case "key":
			if n := musicxml.Attr(e, "number"); n == "" || n == "1" {
				k, err := music.ReadKey(e)
				if err != nil {
					return err
				}
				r.Keys = append(r.Keys, Key{m.Number, m.Start.Add(ev.Onset), k.Fifths, k.Traditional})
			}
		case "transpose":
			t, err := music.ReadTransposition(e, r.fifths())
			if err != nil {
				return err
			}
			r.source = t.Interval()
			r.Source = append(r.Source, transpose.Stretch{Measure: m.Index, Onset: ev.Onset, Staff: music.StaffNumber(e), To: t})
		case "for-part":
			if r.ForPart == nil {
				r.ForPart = e.Copy()
			}
		}
	}
	return nil
}

// fifths is the signature that was read last.
func (s *Part) fifths() int {
	if len(s.Keys) == 0 {
		return 0
	}
	return s.Keys[len(s.Keys)-1].Fifths
}

// note counts a note, hears it and widens the compass.
func (r *surveyor) note(m *musicxml.Measure, ev *musicxml.Event) error {
	if ev.Rest || ev.Cue {
		return nil
	}
	written, pitched, err := music.PitchOf(ev.Element)
	if err != nil {
		return err
	}
	if !pitched {
		r.Unpitched++
		return nil
	}
	r.Notes++
	sounding := r.source.Apply(written)
	if !r.started || written.MIDI() < r.Lowest.MIDI() {
		r.Lowest, r.LowestSounding = written, sounding
	}
	if !r.started || written.MIDI() > r.Highest.MIDI() {
		r.Highest, r.HighestSounding = written, sounding
	}
	r.started = true
	start := m.Start.Add(ev.Onset)
	r.Sound.Add(start, start.Add(ev.Duration), sounding.NoteNumber())
	r.facts.note(ev, written.NoteNumber())
	return nil
}
