package desks

import (
	"deskpart/musicxml"
)

// Tempo is a tempo from a place on, in quarter notes a minute.
type Tempo struct {
	musicxml.Position
	Quarters float64
}

// Clock tells how many seconds lie between two places, as the bars are written, and where
// the music leads back: it knows nothing of ritardandi and pauses.
type Clock struct {
	starts []musicxml.Fraction // of the measures, one more for the end
	tempos []Tempo
	way    []Stretch
}

// assumedTempo is taken where the score says none (MusicXML 4.0, sound: "the tempo
// attribute is expressed in quarter notes per minute", without a default; 120 is that of
// a standard MIDI file).
const assumedTempo = 120

// NewClock is for bars of these lengths, in quarter notes, and the tempos in order.
func NewClock(lengths []musicxml.Fraction, tempos []Tempo) *Clock {
	c := &Clock{starts: make([]musicxml.Fraction, 1, len(lengths)+1), tempos: tempos}
	for _, l := range lengths {
		c.starts = append(c.starts, c.starts[len(c.starts)-1].Add(l))
	}
	return c
}

// Stretch is music that is played as it stands, To excluded; bars as a rule, and less where
// the music leads on from inside a bar or to it.
type Stretch struct{ From, To musicxml.Position }

// Plays tells the clock in which order the bars are played, where that is another than they
// stand in.
func (c *Clock) Plays(way []Stretch) { c.way = way }

// At is how many quarter notes of the piece are over at a place.
func (c *Clock) At(p musicxml.Position) musicxml.Fraction {
	return c.starts[min(p.Measure, len(c.starts)-1)].Add(p.Onset)
}

// Settled is a place with the end of a bar taken for the beginning of the next.
func (c *Clock) Settled(p musicxml.Position) musicxml.Position {
	for p.Measure+1 < len(c.starts) && !c.At(p).Less(c.starts[p.Measure+1]) {
		p.Onset = c.At(p).Sub(c.starts[p.Measure+1])
		p.Measure++
	}
	return p
}

// Seconds is how long it is from one place to a later one. It is not said where some of
// that time has no tempo in the score; it is then counted at 120 quarter notes a minute.
func (c *Clock) Seconds(from, to musicxml.Position) (seconds float64, said bool) {
	at, end := c.At(from), c.At(to)
	tempo, said := float64(assumedTempo), true
	known := false
	for _, t := range c.tempos {
		begins := c.At(t.Position)
		if !begins.Less(end) {
			break
		}
		if at.Less(begins) {
			seconds += begins.Sub(at).Float() * 60 / tempo
			said = said && known
			at = begins
		}
		tempo, known = t.Quarters, true
	}
	if at.Less(end) {
		seconds += end.Sub(at).Float() * 60 / tempo
		said = said && known
	}
	return seconds, said
}

// Way is the order in which the bars are played, nothing where it was not told.
func (c *Clock) Way() []Stretch { return c.way }

// Over is the time from a place in one stretch of the way to a place in a later one.
func (c *Clock) Over(from musicxml.Position, a int, to musicxml.Position, b int) (seconds float64, said bool) {
	seconds, said = c.Seconds(from, c.way[a].To)
	for _, s := range c.way[a+1 : b] {
		more, known := c.Seconds(s.From, s.To)
		seconds, said = seconds+more, said && known
	}
	more, known := c.Seconds(c.way[b].From, to)
	return seconds + more, said && known
}
