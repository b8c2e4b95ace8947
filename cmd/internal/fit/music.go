package fit

import (
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/octaves"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Music is what has to be known of a player's music to find another player for it.
type Music struct {
	Assignment parts.Assignment
	From       *instruments.Instrument // nil where it was not recognised
	Line       Line                    // sounding
	Fifths     int                     // sounding key at the start
	Unpitched  int                     // strokes of percussion without pitch
	Staves     int
	Lyrics     bool // has words to sing
	Bars       int
	planName   string   // what a plan calls it
	numbers    []string // of the bars
	marks      *octaves.Marks
}

// ReadMusic makes part file i of a job in memory, so that a player of a
// shared staff has the player's own notes, and reads it.
func ReadMusic(job *parts.Job, i int, w *parts.Workspace) (*Music, error) {
	sheet, err := job.MakeIn(w, i)
	if err != nil {
		return nil, err
	}
	a := job.Assignment(i)
	part, err := readPart(sheet)
	if err != nil {
		return nil, err
	}
	m := &Music{Assignment: a, planName: job.Names()[i], From: a.Instrument, Bars: len(part.Measures), marks: octaves.MarksOf(part)}
	for i := range part.Measures {
		m.numbers = append(m.numbers, part.Measures[i].Number)
	}
	unsaid := pitch.Interval{}
	if sheet.Report.Transpose == (transpose.Transposition{}) && a.Instrument != nil && a.Instrument.OctaveOnly() {
		unsaid = job.Surveyed().SourceTransposition(a.Part).Interval()
	}
	m.Line = lineOf(part, unsaid)
	m.Fifths = firstKey(part) + sheet.Report.Transpose.Interval().Fifths()
	m.survey(part)
	return m, nil
}

// survey counts staves, strokes and words.
func (m *Music) survey(part *music.Part) {
	m.Staves = 1
	for i := range part.Notes {
		n := &part.Notes[i]
		m.Staves = max(m.Staves, n.Staff)
		if !n.Sounds() {
			continue
		}
		if n.Unpitched {
			m.Unpitched++
		}
		m.Lyrics = m.Lyrics || n.Lyric != nil
	}
}

// silent reports whether the player has nothing to play.
func (m *Music) silent() bool { return len(m.Line) == 0 && m.Unpitched == 0 }

// lost is the share of notes that an instrument of one line would leave out: all
// but the upper one of those that begin together.
func (m *Music) lost() float64 {
	if len(m.Line) == 0 {
		return 0
	}
	begins := map[musicxml.Fraction]bool{}
	graces := 0
	for i := range m.Line {
		if n := &m.Line[i]; n.Duration.Sign() == 0 && !n.Chord {
			graces++
		} else {
			begins[n.Start] = true
		}
	}
	return max(0, 1-float64(len(begins)+graces)/float64(len(m.Line)))
}

// upper is the music as an instrument of one line plays it.
func (m *Music) upper() Line {
	highest := map[musicxml.Fraction]int{}
	for i := range m.Line {
		n := &m.Line[i]
		if k, ok := highest[n.Start]; n.Duration.Sign() > 0 && (!ok || m.Line[k].midi() < n.midi()) {
			highest[n.Start] = i
		}
	}
	var line Line
	for i, n := range m.Line {
		if n.Duration.Sign() == 0 || highest[n.Start] == i {
			line = append(line, n)
		}
	}
	return line
}
