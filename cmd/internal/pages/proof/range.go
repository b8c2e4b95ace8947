package proof

import (
	"cmp"

	"deskpart/cmd/internal/pages"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// Range is how the notes of a part lie in its instrument's range. All pitches are
// as the player reads them.
type Range struct {
	Level instruments.Level `json:"level"`
	// Low to High can be played, ComfortableLow to ComfortableHigh comfortably.
	Low             string `json:"low"`
	High            string `json:"high"`
	ComfortableLow  string `json:"comfortable_low"`
	ComfortableHigh string `json:"comfortable_high"`
	// Lowest and Highest are the outermost notes, and where they are.
	Lowest  Outermost `json:"lowest"`
	Highest Outermost `json:"highest"`
	// Notes counts those held against the range; Uncomfortable of them lie outside
	// its comfortable part, Beyond outside all of it.
	Notes         int `json:"notes"`
	Uncomfortable int `json:"uncomfortable"`
	Beyond        int `json:"beyond"`
	// Elsewhere counts notes under another transposition, where another instrument
	// is played.
	Elsewhere int `json:"elsewhere"`

	full, comfortable [2]float64 // MIDI numbers as read
	edges             [4]pitch.Pitch
	dots              []dot
	length            float64 // of the piece, in quarter notes
	starts            []float64
}

// Outermost is the lowest or the highest note.
type Outermost struct {
	Pitch   string `json:"pitch"`
	Measure string `json:"measure"`
	Beat    string `json:"beat"`

	midi float64
}

// dot is a note on the plot: a stretch of time at a height.
type dot struct {
	start, length float64 // in quarter notes
	midi          float64 // as read
	place         place
}

// place is where a note lies.
type place uint8

const (
	comfortable place = iota
	uncomfortable
	beyond
	elsewhere
)

// measureRange holds the part's notes against the range of its players.
func (e *examination) measureRange() {
	in := e.assignment.Instrument
	if in == nil || in.Flags.Unpitched {
		return
	}
	compass, ok := in.Range(cmp.Or(e.Level, instruments.Professional))
	if !ok {
		return
	}
	r := &Range{Level: compass.Level}
	r.setEdges(e.edges(in, compass))
	for i := range e.page.Notes {
		e.addNote(r, &e.page.Notes[i])
	}
	if len(r.dots) == 0 {
		return
	}
	for i := range e.timeline.Measures {
		m := &e.timeline.Measures[i]
		r.starts = append(r.starts, m.Start.Float())
		r.length = m.Start.Add(m.Length).Float()
	}
	e.part.Range = r
}

// edges are the ends of the range and of its comfortable part, from the lowest
// up, as the player of this part reads them.
func (e *examination) edges(in *instruments.Instrument, r instruments.Range) [4]pitch.Pitch {
	compass, back := r.Sounding, e.part.Transpose.Interval().Negate()
	if in.OctaveOnly() && in.Transposes() && !e.transposes() && e.fits(r.Written) >= e.fits(r.Sounding) {
		compass = r.Written // an octave instrument whose part does not say its octave
	}
	edges := [4]pitch.Pitch{compass.Low, compass.ComfortableLow, compass.ComfortableHigh, compass.High}
	for i := range edges {
		edges[i] = back.Apply(edges[i])
	}
	return edges
}

// fits counts the notes within a compass.
func (e *examination) fits(c instruments.Compass) int {
	n := 0
	for i := range e.page.Notes {
		if midi := e.page.Notes[i].Written.MIDI().Float(); played(&e.page.Notes[i]) && midi >= float64(c.Low.NoteNumber()) && midi <= float64(c.High.NoteNumber()) {
			n++
		}
	}
	return n
}

func (r *Range) setEdges(edges [4]pitch.Pitch) {
	r.edges = edges
	r.Low, r.ComfortableLow = edges[0].String(), edges[1].String()
	r.ComfortableHigh, r.High = edges[2].String(), edges[3].String()
	r.full = [2]float64{float64(edges[0].NoteNumber()), float64(edges[3].NoteNumber())}
	r.comfortable = [2]float64{float64(edges[1].NoteNumber()), float64(edges[2].NoteNumber())}
}

// played tells the notes that lie somewhere in the range: a harmonic sounds
// elsewhere than it is stopped.
func played(n *reading.Note) bool {
	return !n.Cue && !n.Hidden && !n.Unpitched && musicxml.Descend(n.Element, "notations", "technical", "harmonic") == nil
}

func (e *examination) addNote(r *Range, n *reading.Note) {
	if !played(n) {
		return
	}
	d := dot{start: n.Start.Float(), length: n.Duration.Float(), midi: n.Written.MIDI().Float()}
	switch {
	case inForce(e.said, e.timeline, n.Start, n.Staff).Chromatic != e.part.Transpose.Interval().Chromatic:
		d.place = elsewhere
		r.Elsewhere++
	case d.midi < r.full[0] || d.midi > r.full[1]:
		d.place = beyond
		r.Beyond++
	case d.midi < r.comfortable[0] || d.midi > r.comfortable[1]:
		d.place = uncomfortable
		r.Uncomfortable++
	}
	r.dots = append(r.dots, d)
	if d.place == elsewhere {
		return
	}
	r.Notes++
	here := Outermost{Pitch: n.Written.String(), Measure: n.Measure, Beat: n.Beat, midi: d.midi}
	if r.Notes == 1 || here.midi < r.Lowest.midi {
		r.Lowest = here
	}
	if r.Notes == 1 || here.midi > r.Highest.midi {
		r.Highest = here
	}
}

// printed writes a pitch as print has it.
func printed(pitch string) string { return pages.PrettyText(pitch) }
