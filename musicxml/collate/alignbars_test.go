package collate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// barsNamed makes bars out of words, one letter a quarter note: "ceg ddd" are two
// bars. A "-" is a bar of rest. Bars are numbered from 1.
func barsNamed(words string) []bar {
	var bars []bar
	for i, word := range strings.Fields(words) {
		b := bar{number: fmt.Sprint(i + 1), metre: "4/4"}
		for k, letter := range word {
			if letter == '-' {
				continue
			}
			p := pitch.Pitch{Step: pitch.Step(int(letter-'a'+5) % 7), Octave: 4}
			b.notes = append(b.notes, note{onset: whole(k), length: whole(1), height: heightOf(p, false), sounding: p, written: p, read: p})
		}
		b.length = whole(len(word))
		bars = append(bars, b)
	}
	return bars
}

// stepsText writes an alignment: "1=1" is a pair, "2-" a bar of the score alone,
// "+3" one of the part.
func stepsText(steps []step) string {
	var list []string
	for _, s := range steps {
		switch {
		case s.got < 0:
			list = append(list, fmt.Sprintf("%d-", s.want+1))
		case s.want < 0:
			list = append(list, fmt.Sprintf("+%d", s.got+1))
		default:
			list = append(list, fmt.Sprintf("%d=%d", s.want+1, s.got+1))
		}
	}
	return strings.Join(list, " ")
}

// The alignments were made by hand.
func TestAlignBars(t *testing.T) {
	for _, c := range []struct{ why, want, got, steps string }{
		{"equal: nothing to align", "ceg dfa", "ceg dfa", "1=1 2=2"},
		{"no bars: the edges", "", "", ""},
		{"part without bars: all are missing", "ceg dfa", "", "1- 2-"},
		{"score without bars: all are too many", "", "ceg dfa", "+1 +2"},
		{"missing first: the edge", "ceg dfa gbd", "dfa gbd", "1- 2=1 3=2"},
		{"missing last: the edge", "ceg dfa gbd", "ceg dfa", "1=1 2=2 3-"},
		{"missing in the middle: one gap", "ceg dfa gbd ace", "ceg gbd ace", "1=1 2- 3=2 4=3"},
		{"run missing: one gap, not several", "ceg dfa gbd ace bdf", "ceg bdf", "1=1 2- 3- 4- 5=2"},
		{"bar too many: a bar from elsewhere", "ceg dfa gbd", "ceg fff dfa gbd", "1=1 +2 2=3 3=4"},
		{"changed bar: one note of three: no gap", "ceg dfa gbd", "ceg dfb gbd", "1=1 2=2 3=3"},
		{"other bar: another bar in its place: no gaps", "ceg dfa gbd", "ceg bbc gbd", "1=1 2=2 3=3"},
		{"missing and changed: the gap is where the bar is missing, the change where it is", "ceg dfa gbd ace", "ceg gbd acf", "1=1 2- 3=2 4=3"},
		{"bars of rest: which of equal bars is missing cannot be known: the number at which they part tells", "ceg - - - dfa", "ceg - - dfa", "1=1 2=2 3=3 4- 5=4"},
	} {
		assert.Equal(t, c.steps, stepsText(alignBars(barsNamed(c.want), barsNamed(c.got), 0, false)), c.why)
	}
}

// TestAlignBarsInABand: a table too large is only filled near its diagonal, and
// faults near it are found all the same.
func TestAlignBarsInABand(t *testing.T) {
	var words []string
	for i := range 300 {
		words = append(words, string([]byte{'a' + byte(i%7), 'a' + byte(i/7%7), 'a' + byte(i/49%7)}))
	}
	want := barsNamed(strings.Join(words, " "))
	got := barsNamed(strings.Join(slices.Delete(slices.Clone(words), 150, 153), " "))
	got[0].notes, got[len(got)-1].notes = nil, nil // so that no bars at the ends are cut off
	a := barAligner{want: want, got: got, wantPrints: printsOf(want, 0), gotPrints: printsOf(got, 0), cells: 9000}
	var lost []int
	for _, s := range a.align() {
		if s.got < 0 {
			lost = append(lost, s.want)
		}
		assert.GreaterOrEqual(t, s.want, 0)
	}
	assert.Equal(t, []int{150, 151, 152}, lost)
}

// The pairs were made by hand; notes are written as letter, onset and length in
// quarter notes.
func TestPairNotes(t *testing.T) {
	for _, c := range []struct{ why, want, got, pairs string }{
		{"equal: each with its own", "c0-1 d1-1", "c0-1 d1-1", "1=1 2=2"},
		{"wrong note: another pitch at its place", "c0-1 d1-1 e2-1", "c0-1 f1-1 e2-1", "1=1 2=2 3=3"},
		{"lost, the rest early: what follows keeps its order", "c0-1 d1-1 e2-1 f3-1", "c0-1 e1-1 f2-1", "1=1 2- 3=2 4=3"},
		{"repeated note too short: the fourth c is the fourth, though the fifth should come there", "c0-1 c1-1 c2-1 c3-1/2 c7/2-1/2", "c0-1/2 c1/2-1 c3/2-1 c5/2-1/2 c3-1/2", "1=1 2=2 3=3 4=4 5=5"},
		{"tied otherwise: a half is two quarters tied", "c0-2", "c0-1~ ~c1-1", "1=1"},
		{"two lines: a chord note too many", "c0-1 e0-1", "c0-1 e0-1 g0-1", "1=1 2=2 +3"},
	} {
		var list []string
		for _, p := range pairNotes(notesNamed(c.want), notesNamed(c.got), 0) {
			list = append(list, stepsText([]step{{p.want, p.got}}))
		}
		assert.Equal(t, c.pairs, strings.Join(list, " "), c.why)
	}
}

// notesNamed reads notes written as letter, onset, length and "~" for ties.
func notesNamed(text string) []note {
	var notes []note
	for _, word := range strings.Fields(text) {
		n := note{tieStop: strings.HasPrefix(word, "~"), tieStart: strings.HasSuffix(word, "~")}
		word = strings.Trim(word, "~")
		p := pitch.Pitch{Step: pitch.Step(int(word[0]-'a'+5) % 7), Octave: 4}
		onset, length, _ := strings.Cut(word[1:], "-")
		n.onset, n.length, n.height, n.sounding = fraction(onset), fraction(length), heightOf(p, false), p
		notes = append(notes, n)
	}
	return notes
}

func fraction(text string) musicxml.Fraction {
	var n, d int64 = 0, 1
	if _, err := fmt.Sscanf(text, "%d/%d", &n, &d); err != nil {
		fmt.Sscanf(text, "%d", &n)
		d = 1
	}
	return musicxml.NewFraction(n, d)
}

func whole(n int) musicxml.Fraction { return musicxml.NewFraction(int64(n), 1) }
