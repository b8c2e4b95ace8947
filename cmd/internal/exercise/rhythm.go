package exercise

import (
	"math/rand/v2"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/musicxml/engraving"
)

// Bars are filled from few cells of whole beats, so that they are right by
// construction. A cell is written as its values: w, h, q, e, s for whole to
// sixteenth, a dot after a dotted one, 3 before a note of a triplet, r before a
// rest.

// cell is a rhythm of whole beats.
type cell struct {
	beats  int
	values string
	level  int // the lowest level that has it
	weight int // how often it is taken
}

// simpleCells fill beats of a quarter note, halfCells of a half note,
// compoundCells of a dotted quarter note.
var (
	simpleCells = []cell{
		{1, "q", 1, 24}, {2, "h", 1, 14}, {3, "h.", 1, 4},
		{1, "e e", 2, 12}, {2, "q. e", 2, 9},
		{1, "s s s s", 3, 1}, {1, "e s s", 3, 2}, {1, "s s e", 3, 1}, {1, "e. s", 3, 4},
		{1, "3e 3e 3e", 4, 2}, {2, "e q e", 4, 5},
	}
	halfCells = []cell{
		{1, "h", 1, 9}, {1, "q q", 1, 9}, {1, "q. e", 2, 4}, {2, "h. q", 2, 3}, {1, "q e e", 3, 3}, {2, "q h q", 4, 2},
	}
	compoundCells = []cell{
		{1, "q.", 1, 8}, {1, "q e", 1, 9}, {1, "e e e", 1, 5}, {2, "h.", 1, 3}, {1, "e. s e", 4, 2}, {1, "s s e e", 4, 2}, {1, "e s s e", 4, 1}, {1, "s s s s e", 4, 1}, {1, "e q", 5, 2},
	}
)

// metre is a time signature with its beats.
type metre struct {
	beats, beatType string
	// groups are the beats of a bar as they are counted together: 4/4 is two and
	// two, 5/4 three and two.
	groups []int
	cells  []cell
	// final fills the last bar, its last note the longest; weak the bar of a weak
	// close. Several are choices.
	final, weak []string
	// upbeat is the value of an upbeat, "" for none; afterUpbeat then fills the
	// last bar.
	upbeat, afterUpbeat string
}

var metres = map[string]metre{
	"2/4":  {"2", "4", []int{2}, simpleCells, []string{"h"}, []string{"h", "q q"}, "e", "q."},
	"3/4":  {"3", "4", []int{3}, simpleCells, []string{"h."}, []string{"h.", "q h"}, "q", "h"},
	"4/4":  {"4", "4", []int{2, 2}, simpleCells, []string{"h. rq"}, []string{"q q h", "h h"}, "q", "h."},
	"5/4":  {"5", "4", []int{3, 2}, simpleCells, []string{"h. rh"}, []string{"q q q h"}, "q", "w"},
	"2/2":  {"2", "2", []int{2}, halfCells, []string{"h. rq"}, []string{"h h", "q q h"}, "", ""},
	"6/8":  {"6", "8", []int{2}, compoundCells, []string{"h."}, []string{"q. q.", "q e q."}, "e", "q. rq"},
	"3/8":  {"3", "8", []int{1}, compoundCells, []string{"q."}, []string{"q."}, "e", "q"},
	"9/8":  {"9", "8", []int{3}, compoundCells, []string{"h. rq."}, []string{"q. h.", "q e h."}, "e", "h. rq"},
	"12/8": {"12", "8", []int{2, 2}, compoundCells, []string{"h. rh."}, []string{"q. q. h."}, "e", "h. rq. rq"},
}

// rhythmNote is one head of a rhythm.
type rhythmNote struct {
	value   engraving.Value
	dots    int
	triplet bool
	rest    bool
}

var valueLetters = map[byte]engraving.Value{'w': engraving.Whole, 'h': engraving.Half, 'q': engraving.Quarter, 'e': engraving.Eighth, 's': engraving.Sixteenth}

// parseValues reads a cell or a bar.
func parseValues(text string) []rhythmNote {
	var notes []rhythmNote
	for _, word := range strings.Fields(text) {
		var n rhythmNote
		n.triplet, word = word[0] == '3', strings.TrimPrefix(word, "3")
		n.rest, word = word[0] == 'r', strings.TrimPrefix(word, "r")
		n.value, n.dots = valueLetters[word[0]], strings.Count(word, ".")
		notes = append(notes, n)
	}
	return notes
}

// head makes the note of a tune.
func (n rhythmNote) head() explain.Note {
	h := explain.Note{Value: n.value, Dots: n.dots}
	if n.triplet {
		h.Ratio = engraving.Ratio{Actual: 3, Normal: 2}
	}
	return h
}

// rhythm is a melody without its tones.
type rhythm struct {
	metre  metre
	upbeat bool
	bars   [][]rhythmNote
	// tied holds the bars, by index, whose last note is tied into the next bar.
	tied map[int]bool
}

// fillBar fills a bar with cells of the level.
func (m metre) fillBar(level int, rng *rand.Rand) []rhythmNote {
	var notes []rhythmNote
	for _, beats := range m.groups {
		for left := beats; left > 0; {
			c := pickCell(m.cells, level, left, rng)
			notes = append(notes, parseValues(c.values)...)
			left -= c.beats
		}
	}
	return notes
}

func pickCell(cells []cell, level, room int, rng *rand.Rand) cell {
	weights := make([]int, len(cells))
	for i, c := range cells {
		if c.level <= level && c.beats <= room {
			weights[i] = c.weight
		}
	}
	return cells[draw(weights, rng)]
}

// newRhythm makes the rhythm of a melody: few different bars, the fifth and
// sixth like the first and second, closes where phrases end.
func newRhythm(l *Level, m metre, bars int, rng *rand.Rand) rhythm {
	r := rhythm{metre: m, tied: map[int]bool{}, upbeat: l.Upbeat && m.upbeat != "" && rng.IntN(3) == 0}
	first, other := m.bar(l, 2, rng), m.bar(l, 2, rng)
	// The bars before a close have room for the accidentals.
	room := 1 + l.SignsFrom
	before, last := m.bar(l, room, rng), m.bar(l, room, rng)
	if r.upbeat {
		r.bars = append(r.bars, parseValues(m.upbeat))
	}
	for i := range bars {
		switch {
		case i == bars-1 && r.upbeat:
			r.bars = append(r.bars, parseValues(m.afterUpbeat))
		case i == bars-1:
			r.bars = append(r.bars, parseValues(m.final[rng.IntN(len(m.final))]))
		case i == 0 || i == 4:
			r.bars = append(r.bars, first)
		case i == 1 || i == 5:
			r.bars = append(r.bars, other)
		case i%4 == 3:
			r.bars = append(r.bars, parseValues(m.weak[rng.IntN(len(m.weak))]))
		case i == bars-2:
			r.bars = append(r.bars, last)
		case i == 2:
			r.bars = append(r.bars, before)
		default:
			r.bars = append(r.bars, [][]rhythmNote{first, other, last}[rng.IntN(3)])
		}
	}
	if l.Number >= 3 && bars > 4 && rng.IntN(3) == 0 {
		r.tie(bars, rng)
	}
	return r
}

// bar fills a bar that has at least so many notes.
func (m metre) bar(l *Level, notes int, rng *rand.Rand) []rhythmNote {
	for {
		if b := m.fillBar(l.Number, rng); len(b) >= notes {
			return b
		}
	}
}

// tie ties the last note of a bar that is not repeated over the barline.
func (r *rhythm) tie(bars int, rng *rand.Rand) {
	// The third bar of a phrase goes over into the close, but not of the last phrase.
	phrases := bars/4 - 1
	i := 4*rng.IntN(phrases) + 2 + r.offset()
	if a, b := r.bars[i], r.bars[i+1]; len(b) > 1 && !a[len(a)-1].rest && !b[0].rest && !b[0].triplet && !a[len(a)-1].triplet {
		r.tied[i] = true
	}
}

// offset is the number of bars before the first full one.
func (r *rhythm) offset() int {
	if r.upbeat {
		return 1
	}
	return 0
}
