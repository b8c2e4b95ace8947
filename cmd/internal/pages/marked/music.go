package marked

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/transpose/pitch"
)

// The classes of marked heads in the drawings.
const classWrong, classRight = "wrong", "right"

// draw draws an answer: the question, what was handed in and what is right, one above
// the other where they have the same bars; or else what was handed in first.
func draw(t *texts.Texts, d *marking.Drawn) ([]pages.Figure, error) {
	name := t.Say("marked.staff-answer", nil)
	if d.Several {
		name = d.Part
	}
	var answer []*engraving.Music
	for _, part := range d.Answer {
		staff, err := notate.Part(part, notate.Options{Name: name})
		if err != nil {
			return nil, err
		}
		answer = append(answer, staff)
		name = ""
	}
	right, err := notate.Part(d.Right, notate.Options{Name: t.Say("marked.staff-right", nil)})
	if err != nil {
		return nil, err
	}
	number(answer, d.Wrong)
	for _, notes := range d.Wanted {
		if len(notes) <= mostPainted {
			paint(right, notes, classRight)
		}
	}
	groups := append(evenly(answer), []*engraving.Music{right})
	if d.Aligned {
		groups = evenly(append(answer, right))
	}
	if d.Given != nil && !d.Several {
		given, err := notate.Part(d.Given, notate.Options{Name: t.Say("marked.staff-given", nil)})
		if err != nil {
			return nil, err
		}
		last := len(groups) - 1
		groups[last] = append([]*engraving.Music{given}, groups[last]...)
	}
	return figures(groups, t.Language)
}

// evenly puts staves under one another, one that has another number of bars by itself.
func evenly(staves []*engraving.Music) [][]*engraving.Music {
	var groups [][]*engraving.Music
	for _, s := range staves {
		if n := len(groups); n > 0 && len(groups[n-1][0].Bars) == len(s.Bars) {
			groups[n-1] = append(groups[n-1], s)
		} else {
			groups = append(groups, []*engraving.Music{s})
		}
	}
	return groups
}

// mostPainted bounds the notes of a mistake that are painted: of more it would show nothing.
const mostPainted = 12

// lineWidth is that of a page of A4 or Letter, in staff spaces of the usual size.
const lineWidth, lineSpace = 92, 1.9

func figures(groups [][]*engraving.Music, language pitch.Language) ([]pages.Figure, error) {
	var list []pages.Figure
	for _, group := range groups {
		stacked, err := engraving.Stack(group...)
		if err != nil {
			return nil, err
		}
		f, err := pages.Draw(stacked, engraving.Options{Width: lineWidth, Space: lineSpace, Unnumbered: len(stacked.Bars) < 2, AsWritten: true, Language: language})
		if err != nil {
			return nil, err
		}
		list = append(list, f)
	}
	return list, nil
}

// number puts the mistakes' numbers under the notes that they are about: at the first
// note of each run, on the staff that has it.
func number(staves []*engraving.Music, wrong [][]marking.DrawnNote) {
	type place struct {
		staff, bar int
		onset      musicxml.Fraction
	}
	at := map[place][]string{}
	for n, notes := range wrong {
		for _, m := range staves {
			paint(m, notes, classWrong)
		}
		last := -2
		for _, note := range notes {
			bar := staves[0].BarOf(note.Measure+1) - 1
			if bar < 0 {
				continue
			}
			if last != bar && last != bar-1 || last == -2 {
				staff := max(slices.IndexFunc(staves, func(m *engraving.Music) bool { return len(headsOf(m, note)) > 0 }), 0)
				p := place{staff, bar, onsetAt(&staves[staff].Staves[0].Measures[bar], note)}
				at[p] = append(at[p], strconv.Itoa(n+1))
			}
			last = bar
		}
	}
	for _, p := range slices.SortedFunc(maps.Keys(at), func(a, b place) int { return cmp.Or(a.staff-b.staff, a.bar-b.bar, a.onset.Cmp(b.onset)) }) {
		slices.Sort(at[p])
		numbers := "[" + strings.Join(slices.Compact(at[p]), ",") + "]"
		measure := &staves[p.staff].Staves[0].Measures[p.bar]
		measure.Marks = append(measure.Marks, engraving.Mark{Onset: p.onset, Kind: engraving.MarkNote, Text: numbers})
	}
}

// onsetAt is a note's onset where an event begins with it, else that of the first event.
func onsetAt(m *engraving.Measure, note marking.DrawnNote) (first musicxml.Fraction) {
	begun := false
	for e := range m.Events() {
		if e.Onset == note.Onset && !e.Grace {
			return note.Onset
		}
		if !begun {
			first, begun = e.Onset, true
		}
	}
	return first
}

// paint gives the heads of notes a class.
func paint(m *engraving.Music, notes []marking.DrawnNote, class string) {
	for _, note := range notes {
		for _, head := range headsOf(m, note) {
			head.Class = class
		}
	}
}

// headsOf are the heads of a note in the music.
func headsOf(m *engraving.Music, note marking.DrawnNote) (heads []*engraving.Note) {
	bar := m.BarOf(note.Measure+1) - 1
	if bar < 0 || !note.HasPitch {
		return nil
	}
	for e := range m.Staves[0].Measures[bar].Events() {
		for i := range e.Notes {
			if h := &e.Notes[i]; e.Onset == note.Onset && h.Step == int(note.Pitch.Step) && h.Octave == note.Pitch.Octave {
				heads = append(heads, h)
			}
		}
	}
	return heads
}
