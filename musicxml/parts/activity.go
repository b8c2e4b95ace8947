package parts

import (
	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// activity is what one part does in one bar, as far as it matters to a player who
// listens for a cue: in the upper voice of its first staff, the upper note of
// chords.
type activity struct {
	attacks int     // notes that are struck
	moves   int     // how often the pitch changes
	sum     int     // of the MIDI numbers that are struck, as they sound
	cover   float32 // share of the bar that sounds
	chords  bool
	known   bool // the source has cue notes here already
}

// mean is the height of the line as a MIDI number.
func (a activity) mean() int {
	if a.attacks == 0 {
		return 0
	}
	return a.sum / a.attacks
}

// gatherActivity reads what a part does, bar by bar.
func gatherActivity(t *musicxml.Timeline, sounding func(point) pitch.Interval) ([]activity, error) {
	bars := make([]activity, len(t.Measures))
	last := 0
	for i := range t.Measures {
		m := &t.Measures[i]
		a := &bars[i]
		var filled musicxml.Fraction
		for _, n := range leadingLine(m) {
			p, err := transpose.ReadPitch(musicxml.Child(n.Element, "pitch"))
			if err != nil {
				return nil, err
			}
			filled = filled.Add(n.Duration)
			height := sounding(point{i, n.Onset}).Apply(p).NoteNumber()
			if tieStops(n.Element) {
				continue
			}
			a.attacks++
			a.sum += height
			if height != last {
				a.moves++
			}
			last = height
		}
		if m.Length.Sign() > 0 {
			a.cover = float32(filled.Div(m.Length).Float())
		}
		for k := range m.Events {
			a.chords = a.chords || m.Events[k].Chord
			a.known = a.known || m.Events[k].Cue
		}
	}
	return bars, nil
}

// leadingLine is the line that is heard most of a bar: the upper voice of the
// first staff, of chords the upper note, without grace notes, cue notes and
// what is hidden.
func leadingLine(m *musicxml.Measure) []musicxml.Event {
	voice := ""
	var line []musicxml.Event
	for i := range m.Events {
		ev := &m.Events[i]
		if !plays(ev) || ev.Staff != 1 || hidden(ev) || musicxml.Child(ev.Element, "pitch") == nil || voice != "" && ev.Voice != voice {
			continue
		}
		voice = ev.Voice
		if n := len(line); !ev.Chord || n == 0 {
			line = append(line, *ev)
		} else if higher(ev, &line[n-1]) {
			top := *ev
			top.Onset, top.Duration = line[n-1].Onset, line[n-1].Duration
			line[n-1] = top
		}
	}
	return line
}

func higher(a, b *musicxml.Event) bool {
	p, err := transpose.ReadPitch(musicxml.Child(a.Element, "pitch"))
	q, err2 := transpose.ReadPitch(musicxml.Child(b.Element, "pitch"))
	return err == nil && err2 == nil && p.MIDI() > q.MIDI()
}

// soundingAt is what is added to the written pitch of a part of the score, at a
// place, to get what sounds.
func (c *Copyist) soundingAt(part int, at point) pitch.Interval {
	s := &c.surveys[part]
	if len(s.Source) == 0 {
		if c.reading.silent == Written && transposes(s.Match.Instrument) && s.ForPart == nil {
			return soundingOf(s.Match.Instrument)
		}
		return pitch.Interval{}
	}
	return s.saidAt(at)
}

// saidAt is the <transpose> in force at a place of the first staff.
func (s *Survey) saidAt(at point) pitch.Interval {
	var now pitch.Interval
	for i := range s.Source {
		own := &s.Source[i]
		if own.Staff <= 1 && (point{own.Measure, own.Onset}).compare(at) <= 0 {
			now = own.To.Interval()
		}
	}
	return now
}
