package fit

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Note is a pitched note of a part, as it is written and as it sounds. A note that
// is tied on is one note, as long as all its pieces.
type Note struct {
	Index         int // of the measure, from 0
	Onset         musicxml.Fraction
	Measure, Beat string
	Start         musicxml.Fraction // in quarter notes from the start of the piece
	Duration      musicxml.Fraction // in quarter notes, 0 for a grace note
	Written       pitch.Pitch
	Sounding      pitch.Pitch
	Chord         bool // stands on one stem with the note before
	Elsewhere     bool // a harmonic, which is not fingered at its pitch
}

// midi is the note's MIDI number as it sounds, fractions cut off.
func (n *Note) midi() int { return int(n.Sounding.MIDI() / pitch.Semitone) }

// end is where the note stops sounding.
func (n *Note) end() musicxml.Fraction { return n.Start.Add(n.Duration) }

// Line is the pitched notes of a part in document order, cue notes left out.
type Line []Note

// lineOf takes the line out of a part. unsaid is added to the sound of a part that has
// no <transpose>.
func lineOf(part *music.Part, unsaid pitch.Interval) Line {
	var line Line
	for i := range part.Notes {
		n := &part.Notes[i]
		if !n.Pitched() || n.Cue || !n.Struck() && !n.TiedFrom.Cue {
			continue
		}
		by := n.By
		if by == (pitch.Interval{}) {
			by = unsaid
		}
		m := &part.Measures[n.Measure]
		line = append(line, Note{Index: n.Measure, Onset: n.Onset, Measure: m.Number, Beat: m.Beat(n.Onset), Start: n.Start,
			Duration: n.Held(), Written: n.Pitch, Sounding: by.Apply(n.Pitch), Chord: n.Chord,
			Elsewhere: isHarmonic(n)})
	}
	return line
}

func isHarmonic(n *music.Note) bool {
	return slices.ContainsFunc(n.Marks, func(m music.Mark) bool { return m.Element.Tag == "harmonic" })
}

// readPart reads the part of a document that was made.
func readPart(sheet *parts.Part) (*music.Part, error) {
	return music.ReadPart(musicxml.Child(sheet.Document.Root(), "part"))
}

// Tessitura is where the line lies as it sounds.
func (l Line) Tessitura() Tessitura {
	return tessituraOf(l, func(n *Note) pitch.Pitch { return n.Sounding })
}
