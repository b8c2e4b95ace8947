package cues

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose/pitch"
)

// What a listener hears of a part, bar by bar, counted by hand: middle C is 60 (MIDI 1.0).
func TestActivity(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, music string
		octaves    int
		want       []Activity
	}{
		{"a line", "C5 C5 D5:h", 0, []Activity{{attacks: 3, moves: 2, sum: 72 + 72 + 74, cover: 1}}},
		{"as it sounds", "C5 C5 D5:h", 1, []Activity{{attacks: 3, moves: 2, sum: 84 + 84 + 86, cover: 1}}},
		{"a held note is not struck again, and sounds", "C5:h D5:h~ | D5:h^ r:h | D5:w", 0, []Activity{{attacks: 2, moves: 2, sum: 146, cover: 1}, {cover: 0.5}, {attacks: 1, sum: 74, cover: 1}}},
		{"silence", "R | r:h C5:h", 0, []Activity{{}, {attacks: 1, moves: 1, sum: 72, cover: 0.5}}},
		{"the upper note of a chord", "E5:h +C5:h C5+G5:h", 0, []Activity{{attacks: 2, moves: 2, sum: 76 + 79, cover: 1, chords: true}}},
		{"a chord whose upper note is shorter: the lower one sounds on", "C5:h <note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>24</duration><voice>1</voice><type>quarter</type></note> r:h", 0, []Activity{{attacks: 1, moves: 1, sum: 76, cover: 0.5, chords: true}}},
		{"the upper voice", "E5:h r:h / C5:w", 0, []Activity{{attacks: 1, moves: 1, sum: 76, cover: 0.5}}},
		{"the first staff", "E5:h r:h // C3:w", 0, []Activity{{attacks: 1, moves: 1, sum: 76, cover: 0.5}}},
		{"grace notes lead", "g!D5:e C5:w", 0, []Activity{{attacks: 1, moves: 1, sum: 72, cover: 1}}},
		{"hidden notes are not heard for sure", "C5:h* D5:h", 0, []Activity{{attacks: 1, moves: 1, sum: 74, cover: 0.5}}},
		{"strokes have no height", "u!C5:h D5:h", 0, []Activity{{attacks: 1, moves: 1, sum: 74, cover: 0.5}}},
	} {
		timeline, err := musicxml.NewTimeline(shorthand.Part(t, row.music))
		require.NoError(t, err)
		got, err := Gather(timeline, func(musicxml.Position) pitch.Interval { return pitch.Octaves(row.octaves) })
		require.NoError(t, err)
		assert.Equal(t, row.want, got, row.why)
	}
	assert.Equal(t, 73, Activity{attacks: 2, sum: 147}.mean())
	assert.Zero(t, Activity{}.mean())
}

// Who leads to an entry, in points added up by hand (cuesource.go): of a part what sounds of the
// bar, how much it moves, how much is struck, how high it lies among others, how near to where
// the player enters; taken away for chords, figuration, voices, keyboards and plucked strings.
func TestWhoLeads(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const full, half = 1, 0.5
	line := func(attacks, moves, height int, cover float32) Activity {
		return Activity{attacks: attacks, moves: moves, sum: attacks * height, cover: cover}
	}
	chords := line(4, 2, 72, full)
	chords.chords = true
	for _, row := range []struct {
		why    string
		first  string // the instrument of the first line
		bars   [2][]Activity
		entry  int
		points int // of the first line
		leads  int // line, from which of the bars; -1: nobody
		from   int
	}{
		{"alone: the highest", "flute", [2][]Activity{{line(4, 2, 72, full)}, nil}, 0, 300 + 125 + 133 + 250, 1, 0},
		{"all that moves, all that is struck", "flute", [2][]Activity{{line(6, 6, 72, full)}, nil}, 0, 300 + 250 + 200 + 250, 1, 0},
		{"more than is heard counts no more", "flute", [2][]Activity{{line(8, 8, 72, 1.5)}, nil}, 0, 300 + 250 + 200 + 250, 1, 0},
		{"half of the bar", "flute", [2][]Activity{{line(3, 0, 72, half)}, nil}, 0, 150 + 0 + 100 + 250, 1, 0},
		{"too little of it", "flute", [2][]Activity{{line(3, 0, 72, 0.39)}, nil}, 0, 0, -1, 0},
		{"just enough", "flute", [2][]Activity{{line(3, 3, 72, leastCover)}, nil}, 0, 120 + 250 + 100 + 250, 1, 0},
		{"ten semitones above the entry", "flute", [2][]Activity{{line(4, 2, 72, full)}, nil}, 62, 300 + 125 + 133 + 250 - 60, 1, 0},
		{"and below", "flute", [2][]Activity{{line(4, 2, 52, full)}, nil}, 62, 300 + 125 + 133 + 250 - 60, 1, 0},
		{"chords", "flute", [2][]Activity{{chords}, nil}, 0, 300 + 125 + 133 + 250 - 60, 1, 0},
		{"sixteen notes", "flute", [2][]Activity{{line(16, 16, 72, full)}, nil}, 0, 300 + 250 + 200 + 250, 1, 0},
		{"figuration", "flute", [2][]Activity{{line(17, 17, 72, full)}, nil}, 0, 300 + 250 + 200 + 250 - 200, 1, 0},
		{"a voice", "soprano-voice", [2][]Activity{{line(4, 2, 72, full)}, nil}, 0, 300 + 125 + 133 + 250 - 600, 1, 0},
		{"a keyboard", "piano", [2][]Activity{{line(4, 2, 72, full)}, nil}, 0, 300 + 125 + 133 + 250 - 600, 1, 0},
		{"a harp, though less than nothing, if nobody else", "harp", [2][]Activity{{line(1, 0, 72, half)}, nil}, 0, 150 + 33 + 250 - 600, 1, 0},
		{"what nobody knows", "", [2][]Activity{{line(4, 2, 72, full)}, nil}, 0, 300 + 125 + 133 + 250, 1, 0},
		{"above another", "flute", [2][]Activity{{line(4, 2, 72, full)}, {line(4, 2, 60, full)}}, 0, 300 + 125 + 133 + 250, 1, 0},
		{"as high as another: of equals the first", "flute", [2][]Activity{{line(4, 2, 72, full)}, {line(4, 2, 72, full)}}, 0, 300 + 125 + 133, 1, 0},
		{"below another", "flute", [2][]Activity{{line(4, 2, 60, full)}, {line(4, 2, 61, full)}}, 0, 300 + 125 + 133, 2, 0},
		{"in two bars, by halves", "flute", [2][]Activity{{line(4, 2, 72, full), line(2, 2, 66, half)}, nil}, 0, 150 + 75 + 62 + 125 + 66 + 33 + 250, 1, 0},
		{"the second bar alone, where the other rests in the first", "flute", [2][]Activity{{{}, line(4, 2, 72, full)}, {{}, line(4, 2, 60, full)}}, 0, -1, 1, 1},
		{"who goes on from the bar before goes before who is louder", "flute", [2][]Activity{{{}, line(6, 6, 72, full)}, {line(1, 0, 60, full), line(1, 0, 60, full)}}, 0, -1, 2, 0},
		{"nobody", "flute", [2][]Activity{{{}}, {{}}}, 0, 0, -1, 0},
	} {
		score := &survey.Score{Parts: make([]survey.Part, 4)} // the player's own, two lines, one that nobody plays
		n := len(row.bars[0])
		own := musicxml.Timeline{Measures: make([]musicxml.Measure, n)}
		for i := range score.Parts {
			score.Parts[i].Measures = make([]survey.Measure, n)
		}
		score.Parts[1].Match.Instrument = catalogue.ByID(row.first)
		loud := make([]Activity, n)
		for i := range loud {
			loud[i] = line(6, 6, 90, full)
		}
		l := &listening{cuer: &cuer{Draft: &draft.Draft{Score: score, Timeline: &own}, Cues: &Cues{Activity: [][]Activity{loud, row.bars[0], row.bars[1], loud}, Labels: []string{"Own", "First", "Second", ""}}}, entry: row.entry}
		for i := range n {
			l.bars = append(l.bars, i)
		}
		if row.points >= 0 && row.leads > 0 {
			assert.Equal(t, row.points, l.weigh(1, l.bars), row.why)
		}
		part, from, ok := l.leader()
		assert.Equal(t, row.leads > 0, ok, row.why)
		if ok {
			assert.Equal(t, []int{row.leads, row.from}, []int{part, from}, row.why)
		}
		own.Measures[n-1].Length = musicxml.NewFraction(3, 1) // than theirs
		_, _, ok = l.leader()
		assert.False(t, ok, "bars of another length: %s", row.why)
	}
}

// Of three lines the middle one has half of what the highest has; cue notes take a voice that
// the bar does not have.
func TestHeightAndVoice(t *testing.T) {
	t.Parallel()
	l := &listening{cuer: &cuer{Draft: &draft.Draft{Score: &survey.Score{Parts: make([]survey.Part, 4)}, Timeline: &musicxml.Timeline{Measures: make([]musicxml.Measure, 1)}}, Cues: &Cues{Labels: []string{"", "a", "b", "c"}}}}
	l.Activity = [][]Activity{nil}
	for i := range l.Score.Parts {
		l.Score.Parts[i].Measures = make([]survey.Measure, 1)
		if i > 0 {
			l.Activity = append(l.Activity, []Activity{{attacks: 2, sum: 120 + 4*i, cover: 1}})
		}
	}
	assert.Equal(t, []int{0, 125, 250}, []int{l.height(1, []int{0}, 62), l.height(2, []int{0}, 64), l.height(3, []int{0}, 66)})
	for music, want := range map[string]string{"R": "2", "R / R": "3", "R / _:w / R": "2", "R / R / R": "4", `"x" R`: "2"} {
		timeline, err := musicxml.NewTimeline(shorthand.Part(t, music))
		require.NoError(t, err)
		assert.Equal(t, want, new(cueWriter).freeVoice(&timeline.Measures[0]), music)
	}
}

// A rest stands on a line three places or more below the lowest cue note.
func TestRestPlace(t *testing.T) {
	t.Parallel()
	for lowest, want := range map[int]int{-2: -6, 4: 0, 5: 2, 3: 0, 2: -2, 0: -4, -1: -4, 7: 4} {
		assert.Equal(t, want, restPlace(lowest), "%d", lowest)
	}
}
