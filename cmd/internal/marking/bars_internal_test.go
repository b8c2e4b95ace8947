package marking

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// TestNothingCheaperIsPassedOver: what the bounds leave out is never the cheapest alignment.
// The other way is the whole table of every shift.
func TestNothingCheaperIsPassedOver(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 12))
	for round := range 300 {
		key := randomMusic(rng, 1+rng.IntN(30))
		answer := spoilt(rng, key)
		got, _ := alignBars(key, answer, never)
		want := wholeTable(key, answer)
		if !assert.Equal(t, want, got, "round %d", round) {
			return
		}
	}
}

func wholeTable(key, answer *music) barAlignment {
	a := newBarAligner(key, answer)
	best, main := barAlignment{cost: never}, 0
	for n := range a.shifts {
		a.turnTo(n)
		if b := a.walk(a.fill(len(a.given)+len(a.got), never-1)); b.cost < best.cost {
			best, main = b, n
		}
	}
	a.turnTo(main)
	a.reorder(&best)
	return best
}

// TestOutOfOrder: bars of the answer in the order of the key's, as they are told.
func TestOutOfOrder(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name      string
		to        []int
		exchanged []exchange
		moved     []move
	}{
		{"in order, one left out", []int{0, 1, -1, 2, 3}, nil, nil},
		{"neighbours", []int{0, 2, 1, 3}, []exchange{{[]int{1}, []int{2}}}, nil},
		{"far apart", []int{0, 5, 2, 3, 4, 1, 6}, []exchange{{[]int{1}, []int{5}}}, nil},
		{"two and two", []int{0, 3, 4, 1, 2, 5}, []exchange{{[]int{1, 2}, []int{3, 4}}}, nil},
		{"two pairs", []int{1, 0, 3, 2}, []exchange{{[]int{0}, []int{1}}, {[]int{2}, []int{3}}}, nil},
		{"one written later", []int{0, 4, 1, 2, 3, 5}, nil, []move{{[]int{1}, 4}}},
		{"two written earlier", []int{0, 3, 4, 5, 1, 2, 6}, nil, []move{{[]int{4, 5}, 0}}},
		{"the last one first", []int{1, 2, 3, 0}, nil, []move{{[]int{3}, -1}}},
		{"one written later, another left out", []int{3, -1, 0, 1, 2, 4}, nil, []move{{[]int{0}, 4}}},
	} {
		a := &barAligner{given: make([][]head, len(row.to))}
		for i := range a.given {
			a.given[i] = make([]head, 1)
		}
		exchanged, moved := a.outOfOrder(&barAlignment{to: row.to, role: make([]role, len(row.to))})
		assert.Equal(t, row.exchanged, exchanged, row.name)
		assert.Equal(t, row.moved, moved, row.name)
	}
}

// randomMusic is a staff of so many bars of up to four quarter notes.
func randomMusic(rng *rand.Rand, bars int) *music {
	m := &music{}
	for i := range bars {
		m.bars = append(m.bars, bar{index: i, length: musicxml.NewFraction(4, 1)})
		for k := range rng.IntN(5) {
			m.heads = append(m.heads, head{bar: i, onset: musicxml.NewFraction(int64(k), 1), length: one, pitch: pitch.Pitch{Step: pitch.Step(rng.IntN(7)), Octave: 4}})
		}
	}
	return m
}

// spoilt is the music with bars left out, written again and left blank, notes wrong, and
// now and then all moved.
func spoilt(rng *rand.Rand, key *music) *music {
	m := &music{}
	put := func(i int) {
		heads, _ := key.inBar(i)
		for _, h := range heads {
			if h.bar = len(m.bars); rng.IntN(8) == 0 {
				h.pitch.Step = pitch.Step(rng.IntN(7))
			}
			m.heads = append(m.heads, h)
		}
		m.bars = append(m.bars, key.bars[i])
	}
	for i := range key.bars {
		switch rng.IntN(12) {
		case 0:
		case 1:
			m.bars = append(m.bars, key.bars[i])
		case 2:
			for k := max(i-rng.IntN(15), 0); k < i; k++ {
				put(k)
			}
			put(i)
		default:
			put(i)
		}
	}
	if rng.IntN(3) == 0 {
		for i := range m.heads {
			m.heads[i].pitch.Octave++
		}
	}
	return m
}

// Every row of the table of words in files' names says something that the code knows.
func TestWordsOfFileNames(t *testing.T) {
	t.Parallel()
	require.NotEmpty(t, wordsOfFiles().says)
	for word, says := range wordsOfFiles().says {
		assert.Contains(t, []string{"exercise", "answer", "number", "class", "pupil", "other"}, says, word)
		assert.Equal(t, strings.ToLower(word), word)
	}
	assert.Equal(t, []int{3, 12}, numbersIn("Übungen 3 von 12.musicxml"), "the exercise's number first")
	assert.Equal(t, []int{4, 2}, numbersIn("2 Lösung nr. 4.mxl"))
}
