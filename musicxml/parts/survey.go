package parts

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Survey is what a first reading tells of one part of the score.
type Survey struct {
	ID, Name string
	Match    instruments.Match // what the names say
	Staves   int
	Measures []SurveyedMeasure
	Notes    int // pitched notes, without cue notes
	// Unpitched counts the notes of percussion without pitch.
	Unpitched int
	// Keys are the signatures in the order of the part, first staff.
	Keys []SurveyedKey
	// Source is what <transpose> says from where on; empty where the part says
	// nothing of its pitch.
	Source []transpose.Stretch
	// ForPart is the first <for-part> of a concert score, nil without.
	ForPart *etree.Element
	// Lowest and Highest are the outermost pitches as the source writes them;
	// the Sounding ones have its <transpose> added.
	Lowest, Highest                 pitch.Pitch
	LowestSounding, HighestSounding pitch.Pitch
	// inSounding and inWritten count notes within the matched instrument's range,
	// the source read as it sounds and as the player reads it.
	inSounding, inWritten int
	marks                 *partMarks
	evidence              evidence   // of several players
	activity              []activity // bar by bar, where cues are wanted
	done                  bool
}

// SurveyedMeasure is a measure's frame, which all parts share.
type SurveyedMeasure struct {
	Number        string
	Start, Length musicxml.Fraction
	Notes         bool // something is played
}

// SurveyedKey is a key signature where it begins.
type SurveyedKey struct {
	Measure string
	// At is counted in quarter notes from the start of the piece.
	At     musicxml.Fraction
	Fifths int
	// Traditional is false for a key given tone by tone.
	Traditional bool
}

// skimmed leaves out, for the first reading, what cannot matter to other parts.
func skimmed(parent, tag string) bool {
	switch parent {
	case "measure":
		return tag != "figured-bass"
	case "direction-type":
		return tag != "dynamics" && tag != "wedge" && tag != "pedal"
	case "note":
		switch tag {
		case "lyric", "beam", "stem", "type", "dot", "notehead", "notehead-text", "time-modification",
			"play", "listen", "accidental", "footnote", "level":
			return false
		}
	case "notations":
		return tag == "fermata" || tag == "articulations"
	case "articulations":
		return tag == "caesura"
	}
	return true
}

// Survey reads part i for the first time. It is safe to call for several parts
// at once, at a desk each.
func (c *Copyist) Survey(i int, desk *Desk) error {
	desk = desk.of(c)
	part, err := c.score.SkimPart(i, &desk.Slabs, musicxml.Skim{Element: skimmed, Attribute: notDrawn, Remember: true})
	if err != nil {
		return c.locate(err, i)
	}
	timeline := &desk.timeline
	if err := timeline.LayOut(part); err != nil {
		return c.locate(err, i)
	}
	s := &c.surveys[i]
	*s = Survey{ID: c.scoreParts[i].ID, Name: c.scoreParts[i].Name, Match: c.matches[i], Staves: 1}
	reader := surveyor{Survey: s, level: instruments.Professional}
	if err := reader.read(timeline); err != nil {
		return c.locate(err, i)
	}
	s.marks = gatherMarks(timeline, c.words, false)
	if c.players != nil {
		s.evidence = gatherEvidence(timeline, c.players)
	}
	if c.options.Cues > 0 {
		if s.activity, err = gatherActivity(timeline, s.saidAt); err != nil {
			return c.locate(err, i)
		}
	}
	s.done = true
	return nil
}

// Surveys returns the first readings, beside the score's parts.
func (c *Copyist) Surveys() []Survey { return c.surveys }

// surveyor fills a Survey.
type surveyor struct {
	*Survey
	level   string
	source  pitch.Interval
	started bool
	compass func(midi int) (sounding, written bool)
}

func (r *surveyor) read(t *musicxml.Timeline) error {
	r.compass = compassOf(r.Match.Instrument, r.level)
	r.Measures = make([]SurveyedMeasure, 0, len(t.Measures))
	for i := range t.Measures {
		m := &t.Measures[i]
		sm := SurveyedMeasure{Number: m.Number, Start: m.Start, Length: m.Length}
		for k := range m.Events {
			ev := &m.Events[k]
			r.Staves = max(r.Staves, ev.Staff)
			var err error
			switch ev.Kind {
			case musicxml.Attributes:
				err = r.attributes(m, ev)
			case musicxml.Note:
				sm.Notes = sm.Notes || !ev.Rest && !ev.Cue
				err = r.note(ev)
			}
			if err != nil {
				return musicxml.Locate(err, musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: "no-music"})
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
		case "key":
			if n := musicxml.Attr(e, "number"); n == "" || n == "1" {
				fifths, traditional, err := transpose.ReadKey(e)
				if err != nil {
					return err
				}
				r.Keys = append(r.Keys, SurveyedKey{m.Number, m.Start.Add(ev.Onset), fifths, traditional})
			}
		case "transpose":
			t, err := transpose.ReadTransposition(e, r.fifths())
			if err != nil {
				return err
			}
			r.source = t.Interval()
			r.Source = append(r.Source, transpose.Stretch{Measure: m.Index, Onset: ev.Onset, Staff: staffOf(e), To: t})
		case "for-part":
			if r.ForPart == nil {
				r.ForPart = e.Copy()
			}
		}
	}
	return nil
}

// fifths is the signature that was read last.
func (s *Survey) fifths() int {
	if len(s.Keys) == 0 {
		return 0
	}
	return s.Keys[len(s.Keys)-1].Fifths
}

// note counts a note and widens the compass.
func (r *surveyor) note(ev *musicxml.Event) error {
	if ev.Rest || ev.Cue {
		return nil
	}
	e := musicxml.Child(ev.Element, "pitch")
	if e == nil {
		r.Unpitched++
		return nil
	}
	written, err := transpose.ReadPitch(e)
	if err != nil {
		return err
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
	midi := int(written.MIDI() / pitch.Semitone)
	in, out := r.compass(midi)
	if in {
		r.inSounding++
	}
	if out {
		r.inWritten++
	}
	return nil
}

// compassOf tells whether a note lies in an instrument's range when it is read
// as sounding and as written.
func compassOf(i *instruments.Instrument, level string) func(int) (bool, bool) {
	if i == nil {
		return func(int) (bool, bool) { return false, false }
	}
	r, ok := i.Range(level)
	if !ok {
		return func(int) (bool, bool) { return false, false }
	}
	return func(midi int) (bool, bool) { return r.Sounding.Contains(midi), r.Written.Contains(midi) }
}

// lengths finds for each measure how long it is in the part that fills it most.
func lengths(surveys []Survey) []musicxml.Fraction {
	var all []musicxml.Fraction
	for i := range surveys {
		for k, m := range surveys[i].Measures {
			if k == len(all) {
				all = append(all, m.Length)
			} else if all[k].Less(m.Length) {
				all[k] = m.Length
			}
		}
	}
	return all
}
