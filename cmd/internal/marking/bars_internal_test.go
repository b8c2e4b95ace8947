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
