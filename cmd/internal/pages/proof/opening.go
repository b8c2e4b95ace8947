package proof

import (
	"slices"

	"deskpart/musicxml/engraving"
)

// Opening is the line of music that the page shows of a part: its first, or the
// one with its first entry where a long rest comes before.
type Opening struct {
	First string `json:"first"` // numbers of the bars
	Last  string `json:"last"`
	// Entry tells whether bars of rest before the first entry were passed over.
	Entry bool `json:"entry"`
	// Both tells whether sounding and written pitch stand one above the other; a
	// part that sounds as written has one staff for both.
	Both bool `json:"both"`

	figure string
}

// openingBars is as many bars as may stand in one line, multi-bar rests being one.
const openingBars = 24

// drawOpening draws the opening in sounding pitch over written pitch.
func (e *examination) drawOpening(written *engraving.Music) error {
	entry := firstEntry(written)
	music := written
	if e.transposes() {
		sounding, err := e.soundingMusic()
		if err != nil {
			return err
		}
		if music, err = oneAboveTheOther(sounding, written, entry); err != nil {
			return err
		}
		e.part.Opening.Both = true
	}
	line, err := firstLine(music, 0)
	if err != nil || line == nil {
		return err
	}
	if entry >= line.Systems[0].Last {
		e.part.Opening.Entry = true
		if line, err = firstLine(music, entry); err != nil {
			return err
		}
	}
	e.takeOpening(music, line)
	return nil
}

// firstEntry is the first bar with a note, from 0; -1 where there is none.
func firstEntry(m *engraving.Music) int {
	for b := range m.Bars {
		for s := range m.Staves {
			if len(notesOf(&m.Staves[s].Measures[b])) > 0 {
				return b
			}
		}
	}
	return -1
}

func oneAboveTheOther(sounding, written *engraving.Music, entry int) (*engraving.Music, error) {
	fitClef(sounding, max(0, entry), max(0, entry)+openingBars)
	sounding.Staves[0].Name, written.Staves[0].Name = "Sounds", "Written"
	dropSystemMarks(written)
	both, err := engraving.Stack(sounding, written)
	if err == nil && len(both.Staves) == 2 {
		both.Groups = []engraving.Group{{From: 0, To: 1, Symbol: engraving.Bracket, Barlines: true}}
	}
	return both, err
}

// dropSystemMarks leaves out what holds for both staves and stands over the upper
// one: tempo, rehearsal marks, signs of repetition.
func dropSystemMarks(m *engraving.Music) {
	for s := range m.Staves {
		for b := range m.Staves[s].Measures {
			measure := &m.Staves[s].Measures[b]
			measure.Marks = slices.DeleteFunc(measure.Marks, func(mark engraving.Mark) bool {
				switch mark.Kind {
				case engraving.MarkTempo, engraving.MarkRehearsal, engraving.MarkSegno, engraving.MarkCoda:
					return true
				}
				return false
			})
		}
	}
}

// firstLine draws the line that begins with a bar; nil where there are no bars.
func firstLine(m *engraving.Music, from int) (*engraving.Drawing, error) {
	if len(m.Bars) == 0 {
		return nil, nil
	}
	d, err := engraving.Draw(m, engraving.Options{Width: lineWidth, From: from + 1, To: min(from+openingBars, len(m.Bars))})
	if err == nil {
		d.Systems = d.Systems[:1]
	}
	return d, err
}

func (e *examination) takeOpening(m *engraving.Music, d *engraving.Drawing) {
	o := &e.part.Opening
	first, last := m.Bars[d.Systems[0].First-1], m.Bars[d.Systems[0].Last-1]
	o.First = e.part.numbers[first.Source-1]
	end := last.Source - 1 + max(0, last.RestBars-1)
	o.Last = e.part.numbers[min(end, len(e.part.numbers)-1)]
	o.figure = d.Figures()
	e.keepGlyphs(d)
}
