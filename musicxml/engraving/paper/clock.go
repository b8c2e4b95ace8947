package paper

import (
	"math"
	"regexp"
	"slices"
	"strconv"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/lexicon"
)

// usualTempo is what is believed where nothing says how fast the music goes, in
// quarter notes a minute (common practice, no source).
const usualTempo = 100

// Times works out when there is time to turn in each bar, from metronome marks,
// tempo words and rests. Cue notes are read, so that their bars count as played.
func Times(m *engraving.Music) []BarTime {
	times := make([]BarTime, len(m.Bars))
	tempo := float64(usualTempo)
	for i := range m.Bars {
		length := m.BarLength(i)
		quarters := length.Float()
		if math.IsNaN(quarters) {
			quarters = 0
		}
		before, after := quarters, quarters
		for s := range m.Staves {
			measure := &m.Staves[s].Measures[i]
			tempo = tempoFrom(measure.Marks, tempo)
			times[i].Pause = times[i].Pause || saysPause(measure.Marks)
			first, last := sounding(measure, quarters)
			before, after = min(before, first), min(after, quarters-last)
		}
		t := &times[i]
		seconds := 60 / tempo
		if n := m.Bars[i].RestBars; n > 0 {
			seconds *= float64(n)
			before, after = quarters, quarters
		}
		t.Seconds, t.Before, t.After = quarters*seconds, before*seconds, after*seconds
	}
	return times
}

// sounding returns where the first note of a measure begins and where the last
// ends, in quarter notes; the whole length and 0 where there is none.
func sounding(measure *engraving.Measure, length float64) (first, last float64) {
	first = length
	for e := range measure.Events() {
		if !e.IsRest() && !e.Hidden {
			first = min(first, e.Onset.Float())
			last = max(last, e.Onset.Add(e.Duration).Float())
		}
	}
	return first, min(last, length)
}

func saysPause(marks []engraving.Mark) bool {
	return slices.ContainsFunc(marks, func(m engraving.Mark) bool {
		return (m.Kind == engraving.MarkWords || m.Kind == engraving.MarkTempo) && lexicon.OnlySays(textOf(&m), "general pause")
	})
}

// beats finds the number in "= 96" and "= 96–104" (the first is taken).
var beats = regexp.MustCompile(`^\s*=[^\d]*(\d+(?:\.\d+)?)`)

// tempoFrom is the tempo after a bar's marks, in quarter notes a minute. What a
// metronome mark says is believed before words.
func tempoFrom(marks []engraving.Mark, tempo float64) float64 {
	for i := range marks {
		if m := &marks[i]; m.Kind == engraving.MarkTempo {
			if said, ok := metronome(m.Pieces); ok {
				tempo = said
			} else if said, ok := wordTempo(textOf(m)); ok {
				tempo = said
			}
		}
	}
	return tempo
}

// The tempos that are believed, in quarter notes a minute.
const slowest, fastest = 15, 600

// metronome reads a note and what stands behind it.
func metronome(pieces []engraving.Piece) (tempo float64, ok bool) {
	for i := range pieces {
		note := pieces[i].Note
		if note == nil || i+1 == len(pieces) {
			continue
		}
		found := beats.FindStringSubmatch(pieces[i+1].Text)
		if found == nil {
			continue
		}
		if n, err := strconv.ParseFloat(found[1], 64); err == nil && n > 0 {
			return min(max(n*engraving.Length(note.Value, note.Dots, engraving.Ratio{}).Float(), slowest), fastest), true
		}
	}
	return 0, false
}

// textOf is what a mark says in letters.
func textOf(m *engraving.Mark) string {
	text := m.Text
	for _, p := range m.Pieces {
		text += p.Text
	}
	return text
}
