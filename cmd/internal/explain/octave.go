package explain

import (
	"errors"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

var errOctaves = errors.New("a note would leave the octaves 0 to 9 that MusicXML has; choose another --octave")

// mostOctaves bounds how far music is moved to suit a player.
const mostOctaves = 4

// SuitableOctave is by how many octaves given notes are moved so that the player
// has them: none where they suit as they are, else the fewest that bring most of them
// into the range.
func (t Task) SuitableOctave(given []pitch.Pitch) int {
	if t.Instrument == nil {
		return 0
	}
	r, ok := t.Instrument.Range(instruments.Professional)
	if !ok {
		return 0
	}
	best, least := 0, -1
	for _, octaves := range []int{0, -1, 1, -2, 2, -3, 3, -mostOctaves, mostOctaves} {
		cost := 0
		if octaves != 0 {
			cost = len(given) / 3 // where it stands is where it was meant
		}
		for _, p := range given {
			if t.From == Sounding {
				p = t.Interval().Apply(p)
			}
			p.Octave += octaves
			switch n := p.NoteNumber(); {
			case !r.Written.Contains(n):
				cost += 10
			case !r.Written.Comfortable(n):
				cost++
			}
		}
		if least < 0 || cost < least {
			best, least = octaves, cost
		}
	}
	return best
}

// MoveOctaves moves all notes of a part by whole octaves. The error names an octave
// that MusicXML does not have.
func MoveOctaves(part *etree.Element, octaves int) error {
	if octaves == 0 {
		return nil
	}
	for _, e := range part.FindElements("measure/note/pitch/octave") {
		n, err := strconv.Atoi(musicxml.Text(e))
		if err != nil || n+octaves < 0 || n+octaves > 9 {
			return errOctaves
		}
		e.SetText(strconv.Itoa(n + octaves))
	}
	return nil
}
