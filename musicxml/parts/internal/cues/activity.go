package cues

import (
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// Activity is what one part does in one bar, as far as it matters to a player who
// listens for a cue: in the upper voice of its first staff, the upper note of
// chords.
type Activity struct {
	attacks int     // notes that are struck
	moves   int     // how often the pitch changes
	sum     int     // of the MIDI numbers that are struck, as they sound
	cover   float32 // share of the bar that sounds
	chords  bool
	known   bool // the source has cue notes here already
}

// mean is the height of the line as a MIDI number.
func (a Activity) mean() int {
	if a.attacks == 0 {
		return 0
	}
	return a.sum / a.attacks
}

// Gather reads what a part does, bar by bar.
func Gather(t *musicxml.Timeline, sounding func(musicxml.Position) pitch.Interval) ([]Activity, error) {
	bars := make([]Activity, len(t.Measures))
	last := 0
	for i := range t.Measures {
		m := &t.Measures[i]
		a := &bars[i]
		var filled musicxml.Fraction
		line, err := leadingLine(m)
		if err != nil {
			return nil, err
		}
		for _, n := range line {
			filled = filled.Add(n.Duration)
			height := sounding(musicxml.Position{Measure: i, Onset: n.Onset}).Apply(n.Pitch).NoteNumber()
			if n.Ties.Stop() {
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
func leadingLine(m *musicxml.Measure) ([]music.Note, error) {
	voice := ""
	var line []music.Note
	for i := range m.Events {
		ev := &m.Events[i]
		if !draft.Plays(ev) || ev.Staff != 1 || voice != "" && ev.Voice != voice {
			continue
		}
		n, err := music.ReadNote(ev)
		if err != nil {
			return nil, err
		}
		if n.Hidden || !n.Pitched() {
			continue
		}
		voice = ev.Voice
		if last := len(line) - 1; !ev.Chord || last < 0 {
			line = append(line, n)
		} else if n.Pitch.MIDI() > line[last].Pitch.MIDI() {
			top := *ev
			top.Onset, top.Duration = line[last].Onset, line[last].Duration
			n.Event = &top
			line[last] = n
		}
	}
	return line, nil
}
