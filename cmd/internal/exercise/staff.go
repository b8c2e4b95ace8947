package exercise

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// Band is what the topics with several staves, and that of signatures, ask.
type Band struct {
	// Key is the concert key; Offered are those of which one suits the band best,
	// which is Best.
	Key     pitch.Key
	Offered []pitch.Key
	Best    pitch.Key
	// Keys are those that a sheet of signatures asks for, bar by bar.
	Keys []pitch.Key
	// Chords are those of a score, bar by bar.
	Chords []Chord
	// Shown says that the question shows keys by their signatures, not their names.
	Shown bool
}

// Staves are all staves of an exercise.
func (e *Exercise) Staves() []*explain.Solution {
	return append([]*explain.Solution{e.Solution}, e.Others...)
}

// keyBars is a staff on which each bar has a signature and its key note.
func keyBars(keys []pitch.Key, octave func(pitch.Step) int, clef instruments.Clef) (*etree.Element, error) {
	t := explain.Tune{Key: &keys[0], Beats: "4", BeatType: "4", Clef: clef}
	for i := range keys {
		step := keys[i].TonicStep()
		tonic := pitch.Pitch{Step: step, Octave: octave(step), Alter: pitch.Semitones(pitch.SignatureAlter(keys[i].Fifths, step))}
		bar := explain.Bar{Notes: []explain.Note{{Pitches: []pitch.Pitch{tonic}, Value: engraving.Whole}}}
		if i > 0 {
			bar.Key = &keys[i]
		}
		t.Bars = append(t.Bars, bar)
	}
	return t.Part()
}

// onStaff puts a letter into the octave in which it lies nearest to the middle line of
// a clef.
func onStaff(c instruments.Clef) func(pitch.Step) int {
	middle := explain.MiddleLine(c)
	return func(s pitch.Step) int {
		octave := pitch.FloorDiv(middle, 7)
		best := octave
		for _, o := range []int{octave - 1, octave, octave + 1} {
			if pitch.Abs(7*o+int(s)-middle) < pitch.Abs(7*best+int(s)-middle) {
				best = o
			}
		}
		return best
	}
}

// empty leaves the bars of a staff and takes the music away: a rest for each.
func empty(part *etree.Element) *etree.Element {
	blank := part.Copy()
	for _, m := range blank.SelectElements("measure") {
		musicxml.RemoveChildren(m, "note", "harmony", "backup", "forward")
		rest := m.CreateElement("note")
		rest.CreateElement("rest").CreateAttr("measure", "yes")
		rest.CreateElement("duration").SetText(strconv.Itoa(4))
		if b := m.SelectElement("barline"); b != nil {
			m.RemoveChild(b)
			m.AddChild(b)
		}
	}
	return blank
}
