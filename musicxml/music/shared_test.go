package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// On every part of the shared scores and of the test suite, the notes are those of
// package reading, which works them out by code of its own: the same pitches,
// durations, ties, grace notes and sounds at the same places.
func TestAgainstReading(t *testing.T) {
	t.Parallel()
	notes, tied, moved := 0, 0, 0
	files := append(musicxmltest.SharedSpread(t, "scores/*/*.mxl"), musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*")...)
	for _, file := range files {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		if err != nil {
			continue
		}
		for i := range score.Parts {
			part, err := score.ReadPart(i, nil)
			if err != nil {
				continue
			}
			timeline, err := musicxml.NewTimeline(part)
			if err != nil {
				continue
			}
			page, err := reading.Read(part)
			if err != nil {
				continue
			}
			p, err := music.Read(timeline)
			require.NoError(t, err, "%s, part %s", file, score.Parts[i].ID)
			n, ties, shifted := assertAsRead(t, file, p, page)
			notes, tied, moved = notes+n, tied+ties, moved+shifted
		}
	}
	assert.Greater(t, notes, 30_000)
	assert.Greater(t, tied, 1000)
	assert.Greater(t, moved, 1000)
}

func assertAsRead(t *testing.T, file string, p *music.Part, page *reading.Page) (notes, tied, moved int) {
	t.Helper()
	read := map[any]int{}
	for i := range page.Notes {
		read[page.Notes[i].Element] = i
	}
	var sounds []reading.Sound
	for _, s := range page.Sounding() {
		if !s.Doubling {
			sounds = append(sounds, s)
		}
	}
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.Rest {
			continue
		}
		k, known := read[n.Element]
		if !assert.True(t, known, "%s: a note in bar %s that is not read", file, p.Measures[n.Measure].Number) {
			return
		}
		r := page.Notes[k]
		where := []any{"%s, bar %s, %s", file, r.Measure, r.Written}
		assert.Equal(t, r.MeasureIndex, n.Measure, where...)
		assert.Equal(t, r.Onset, n.Onset, where...)
		assert.Equal(t, r.Start, n.Start, where...)
		assert.Equal(t, r.Duration, n.Duration, where...)
		assert.Equal(t, r.Grace, n.GraceOrder, where...)
		assert.Equal(t, []bool{r.Chord, r.Cue, r.Hidden, r.Unpitched, r.TieStart, r.TieStop},
			[]bool{n.Chord, n.Cue, n.Hidden, n.Unpitched, n.Ties.Start(), n.Ties.Stop()}, where...)
		assert.Equal(t, r.Sign, n.Sign(), where...)
		assert.Equal(t, r.Written, asReading(n.Pitch), where...)
		if !n.Unpitched {
			assert.Equal(t, sounds[k].Pitch, asReading(n.Sounding()), where...)
		}
		delete(read, n.Element)
		notes++
		if n.TiedTo != nil {
			tied++
		}
		if n.Sounding() != n.Pitch {
			moved++
		}
	}
	assert.Empty(t, read, "%s: notes that were read and are not here", file)
	return notes, tied, moved
}

func asReading(p pitch.Pitch) reading.Pitch {
	return reading.Pitch{Step: int(p.Step), Octave: p.Octave, Alter: musicxml.NewFraction(int64(p.Alter), int64(pitch.Semitone))}
}

// Nearly every tie and slur of the shared scores, which people edited, has both ends.
func TestEndsOfTheSharedScoresMeet(t *testing.T) {
	t.Parallel()
	ends := map[bool]int{}
	lone := map[string]int{}
	whole := map[string]int{}
	for _, file := range musicxmltest.SharedSpread(t, "scores/*/*.mxl") {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		for _, part := range shorthand.PartsOf(t, score) {
			p, err := music.ReadPart(part)
			require.NoError(t, err)
			for k := range p.Notes {
				if n := &p.Notes[k]; n.Ties.Start() {
					ends[n.TiedTo != nil]++
				}
			}
			for k := range p.Spans {
				if s := &p.Spans[k]; s.Start == nil || s.Stop == nil {
					lone[s.Kind]++
				} else {
					whole[s.Kind]++
				}
			}
		}
	}
	t.Logf("ties %v, spans with both ends %v, with one %v", ends, whole, lone)
	assert.Less(t, ends[false]*100, ends[true], "of a hundred ties not one leads nowhere")
	for _, kind := range []string{"slur", "wedge", "tuplet"} {
		assert.Less(t, lone[kind]*50, whole[kind], kind)
	}
}
