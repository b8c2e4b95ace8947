package hearing

import (
	"math/bits"

	"deskpart/musicxml"
)

// perQuarter is how many moments of a quarter note are listened to. On the shared
// scores every quarter, eighth and sixteenth tell the same; eighths leave passing
// notes out and still hear enough of a short piece.
const perQuarter = 2

// mostMoments bounds how far the ear listens: 8192 bars of four quarters.
const mostMoments = 8192 * 4 * perQuarter

// chord is a set of pitch classes, one bit each.
type chord uint16

// Part is what is written in a part, as the ear takes it. The zero value is a silent
// one.
type Part struct {
	moments []chord // what sounds at each eighth of time
}

// Add adds a note that is played from start until end, both in quarter notes from the
// start of the piece. semitones is its pitch from any C. A note between two moments,
// a time before the start and one past the bound are not heard.
func (p *Part) Add(start, end musicxml.Fraction, semitones int) {
	from, ok := momentAt(start)
	until, okEnd := momentAt(end)
	if !ok || !okEnd || from >= until {
		return
	}
	for len(p.moments) < until {
		p.moments = append(p.moments, 0)
	}
	note := chord(1) << class(semitones)
	for i := from; i < until; i++ {
		p.moments[i] |= note
	}
}

// finest bounds the denominators of times that are heard, so that nothing overflows.
const finest = 1 << 40

// momentAt is the first moment that is not before a time.
func momentAt(at musicxml.Fraction) (int, bool) {
	if !at.Valid() || at.Sign() < 0 || at.Den() > finest {
		return 0, false
	}
	quarters, rest := at.Num()/at.Den(), at.Num()%at.Den()
	if quarters >= mostMoments/perQuarter {
		return mostMoments, true
	}
	return int(quarters*perQuarter + (rest*perQuarter+at.Den()-1)/at.Den()), true
}

// at is what sounds at a moment.
func (p *Part) at(moment int) chord {
	if moment >= len(p.moments) {
		return 0
	}
	return p.moments[moment]
}

// moved moves all notes up by 0 to 11 semitones.
func (c chord) moved(semitones int) chord { return (c<<semitones | c>>(12-semitones)) & everyPitch }

// everyPitch is all twelve pitch classes.
const everyPitch = 1<<12 - 1

// longest is the number of moments that the longest part lasts.
func longest(parts []*Part) int {
	n := 0
	for _, p := range parts {
		n = max(n, len(p.moments))
	}
	return n
}

// census counts how many parts play each pitch class at a moment.
type census [12]int

// add counts a chord, each of its notes moved.
func (c *census) add(notes chord, shift int) {
	notes = notes.moved(class(shift))
	for notes != 0 {
		c[bits.TrailingZeros16(uint16(notes))]++
		notes &= notes - 1
	}
}
