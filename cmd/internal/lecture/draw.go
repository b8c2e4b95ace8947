package lecture

import (
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/pages"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/transpose/pitch"
)

// staff is a row of notes to be drawn.
type staff struct {
	name string
	tune explain.Tune
	// under are words under the notes, one after another.
	under []string
}

// lineWidth is the length of a line in staff spaces.
const lineWidth = 84

// draw adds staves to a step, one under the other.
func (s *Step) draw(staves ...staff) error {
	var parts []*engraving.Music
	for _, of := range staves {
		part, err := of.tune.Part()
		if err != nil {
			return err
		}
		m, err := notate.Part(part, notate.Options{Name: of.name})
		if err != nil {
			return err
		}
		of.label(m)
		parts = append(parts, m)
	}
	return s.stack(parts)
}

// stack draws parts one under the other.
func (s *Step) stack(parts []*engraving.Music) error {
	all, err := engraving.Stack(parts...)
	if err != nil {
		return err
	}
	figure, err := pages.Draw(all, engraving.Options{Width: lineWidth, Ragged: true, Unnumbered: true, Language: s.language})
	s.Figures = append(s.Figures, figure)
	return err
}

// label writes the words under the notes.
func (s staff) label(m *engraving.Music) {
	n := 0
	for i, bar := range s.tune.Bars {
		var at musicxml.Fraction
		for _, note := range bar.Notes {
			if n < len(s.under) {
				measure := &m.Staves[0].Measures[i]
				measure.Marks = append(measure.Marks, engraving.Mark{Onset: at, Kind: engraving.MarkNote, Text: s.under[n]})
			}
			n++
			at = at.Add(note.Length())
		}
	}
}

// row is a tune of notes without rhythm.
func row(clef instruments.Clef, key *pitch.Key, pitches ...pitch.Pitch) explain.Tune {
	return explain.FromPitches(pitches, key, clef)
}

// drawPlayers draws what each player reads under what sounds.
func (m *maker) drawPlayers(s *Step, solutions []*explain.Solution) error {
	sounding, err := notate.Part(solutions[0].Given, notate.Options{Name: m.t.Say("exercise.staff-sounding", nil)})
	if err != nil {
		return err
	}
	parts := []*engraving.Music{sounding}
	for _, of := range solutions {
		part, err := notate.Part(of.Answer, notate.Options{Name: m.t.InstrumentTitle(of.Instrument)})
		if err != nil {
			return err
		}
		parts = append(parts, part)
	}
	return s.stack(parts)
}
