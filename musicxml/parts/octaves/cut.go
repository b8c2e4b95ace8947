package octaves

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// Note is a note of a line whose octaves are to be chosen. A note that is tied on is
// one note, as long as all its pieces.
type Note struct {
	At         musicxml.Position
	Start, End musicxml.Fraction // in quarter notes from the start of the piece
	Sound      int               // MIDI number at the score's octave
	// Elsewhere: it is not fingered at its pitch, as a harmonic, so that it has no say.
	Elsewhere bool
}

// instant is the notes of a line that begin together.
type instant struct {
	at    musicxml.Position
	start musicxml.Fraction
	notes []int // in the line
}

// Cut cuts a line of the part where its octave may change. places are where the phrases
// begin.
func (m *Marks) Cut(line []Note) (phrases []Phrase, places []musicxml.Position) {
	bound := m.reaches()
	var reach musicxml.Fraction // where the notes so far have ended
	var last *instant
	instants := instantsOf(line)
	for i := range instants {
		now := &instants[i]
		before, free := AtBar, true
		if last != nil {
			before, free = m.breakBefore(now, last, reach)
			free = free && !now.start.Less(reach) && !bound.hold(now.start)
		}
		if free {
			phrases, places = append(phrases, Phrase{Before: before, Leap: leap(line, last, now)}), append(places, now.at)
		}
		phrase := &phrases[len(phrases)-1]
		for _, k := range now.notes {
			if !line[k].Elsewhere {
				phrase.Sounds = append(phrase.Sounds, line[k].Sound)
			}
			reach = reach.Max(line[k].End)
		}
		last = now
	}
	return phrases, places
}

// leap is from the highest note of an instant up to that of the next, 0 where there is none
// before or one is not fingered at its pitch.
func leap(line []Note, last, now *instant) int {
	if last == nil {
		return 0
	}
	from, to := highest(line, last), highest(line, now)
	if line[from].Elsewhere || line[to].Elsewhere {
		return 0
	}
	return line[to].Sound - line[from].Sound
}

func highest(line []Note, in *instant) int {
	return slices.MaxFunc(in.notes, func(a, b int) int { return line[a].Sound - line[b].Sound })
}

// instantsOf gathers a line's notes by the moments at which they begin, in order.
func instantsOf(line []Note) []instant {
	order := make([]int, len(line))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return line[a].Start.Cmp(line[b].Start) })
	var all []instant
	for _, k := range order {
		if n := len(all); n > 0 && all[n-1].start == line[k].Start {
			all[n-1].notes = append(all[n-1].notes, k)
			continue
		}
		all = append(all, instant{line[k].At, line[k].Start, []int{k}})
	}
	return all
}

// breakBefore tells how well an octave changes before an instant, and whether it may
// at all.
func (m *Marks) breakBefore(now, last *instant, reach musicxml.Fraction) (Break, bool) {
	switch {
	case reach.Less(now.start) && now.at.Measure > 0 && !m.busy[now.at.Measure-1]:
		return AtRest, true
	case reach.Less(now.start):
		return AtGap, true
	case m.breathes(last.start, now.start):
		return AtBreath, true
	}
	return AtBar, now.at.Onset.Sign() == 0 || m.slurs[now.start]
}

// Marks are what is bound together in a part, where its phrases begin and end, and in
// which bars something is played.
type Marks struct {
	bindings []binding
	slurs    map[musicxml.Fraction]bool // a slur begins
	breaths  []musicxml.Fraction        // where notes begin that end a phrase, in order
	busy     []bool                     // of each bar
}

// binding is a stretch of time within which no octave changes: a slur, a beam, a
// tuplet or another mark from note to note.
type binding struct{ from, until musicxml.Fraction }

// MarksOf reads them.
func MarksOf(part *music.Part) *Marks {
	m := &Marks{slurs: map[musicxml.Fraction]bool{}, busy: make([]bool, len(part.Measures))}
	beams := map[string]musicxml.Fraction{} // where those begin that are open, by voice
	for i := range part.Notes {
		n := &part.Notes[i]
		if !n.Sounds() {
			continue
		}
		m.busy[n.Measure] = true
		m.beam(n, beams)
		for k := range n.Marks {
			m.mark(&n.Marks[k])
		}
	}
	for i := range part.Spans {
		m.span(&part.Spans[i])
	}
	slices.SortFunc(m.breaths, musicxml.Fraction.Cmp)
	return m
}

// BusyBars counts the bars in which anything is played.
func (m *Marks) BusyBars() int {
	n := 0
	for _, busy := range m.busy {
		if busy {
			n++
		}
	}
	return n
}

// breathes reports whether a phrase ends with a note that begins at a moment or later,
// before another moment.
func (m *Marks) breathes(from, before musicxml.Fraction) bool {
	i, _ := slices.BinarySearchFunc(m.breaths, from, musicxml.Fraction.Cmp)
	return i < len(m.breaths) && m.breaths[i].Less(before)
}

// beam binds what the eighth notes' beam holds together.
func (m *Marks) beam(n *music.Note, open map[string]musicxml.Fraction) {
	for level, does := range n.Beams() {
		if level != 1 {
			continue
		}
		switch does {
		case "begin":
			open[n.Voice] = n.Start
		case "end":
			if from, ok := open[n.Voice]; ok {
				delete(open, n.Voice)
				m.bindings = append(m.bindings, binding{from, n.Start})
			}
		}
	}
}

// mark notes where a phrase begins or ends.
func (m *Marks) mark(at *music.Mark) {
	switch at.Element.Tag {
	case "slur":
		m.slurs[at.Note.Start] = m.slurs[at.Note.Start] || at.Role == music.Starts
		if at.Role == music.Stops {
			m.breaths = append(m.breaths, at.Note.Start)
		}
	case "fermata", "breath-mark", "caesura":
		m.breaths = append(m.breaths, at.Note.Start)
	}
}

// span binds what a mark reaches over from note to note.
func (m *Marks) span(s *music.Span) {
	if s.Start == nil || s.Stop == nil || s.Start.Note == nil || s.Stop.Note == nil {
		return
	}
	switch s.Kind {
	case "slur", "tuplet", "glissando", "slide", "tremolo":
		if s.Start.Note.Sounds() && s.Stop.Note.Sounds() {
			m.bindings = append(m.bindings, binding{s.Start.Note.Start, s.Stop.Note.Start})
		}
	}
}

// reaches are bindings in the order of their beginnings, each reaching as far as any
// before it.
type reaches []binding

func (m *Marks) reaches() *reaches {
	all := reaches(slices.Clone(m.bindings))
	slices.SortFunc(all, func(a, b binding) int { return a.from.Cmp(b.from) })
	for i := 1; i < len(all); i++ {
		all[i].until = all[i].until.Max(all[i-1].until)
	}
	return &all
}

// hold reports whether a binding that began before a moment ends there or later.
// Moments are asked for in order.
func (r *reaches) hold(at musicxml.Fraction) bool {
	for len(*r) > 1 && (*r)[1].from.Less(at) {
		*r = (*r)[1:]
	}
	return len(*r) > 0 && (*r)[0].from.Less(at) && !(*r)[0].until.Less(at)
}
