package engraving_test

import (
	"cmp"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/engraving/svgread"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// readStaves reads the notes of each staff of the first line.
func readStaves(t testing.TB, d *engraving.Drawing) [][]svgread.Note {
	t.Helper()
	lines, err := svgread.Read(d.Figures())
	require.NoError(t, err)
	var staves [][]svgread.Note
	for _, staff := range lines[0].Staves {
		var notes []svgread.Note
		for _, bar := range staff.Bars {
			notes = append(notes, bar.Notes...)
		}
		staves = append(staves, notes)
	}
	return staves
}

// Lines fill the width and pass it only where one bar alone is wider.
func TestLinesKeepToTheWidth(t *testing.T) {
	t.Parallel()
	for seed := range uint64(100) {
		m := tune{rand.New(rand.NewPCG(seed, 3))}.music()
		for _, width := range []display.Spaces{60, 100} {
			d, err := engraving.Draw(m, engraving.Options{Width: width})
			require.NoError(t, err)
			next := 1
			for _, s := range d.Systems {
				assert.Equal(t, next, s.First, "lines follow one another")
				next = s.Last + 1
				if s.First < s.Last {
					assert.LessOrEqual(t, s.Width, width+0.5, "seed %d", seed)
				}
			}
			assert.Equal(t, len(m.Bars)+1, next)
		}
	}
}

// TestTiedOverTheLine: the accidental of a note whose tie comes from the line before stands
// there again, in parentheses (common practice, no source).
func TestTiedOverTheLine(t *testing.T) {
	t.Parallel()
	q := engraving.Quarter
	tied := func(step, octave int, alter float64) engraving.Event {
		e := event(q, step, octave, alter)
		e.Notes[0].TieFrom = true
		return e
	}
	for _, row := range []struct {
		name      string
		events    []engraving.Event
		want      string
		asWritten bool
	}{
		{"a learner's own", []engraving.Event{tied(6, 4, 0), event(q, 0, 5, 0)}, "- -", true},
		{"against one flat", []engraving.Event{tied(6, 4, 0), event(q, 0, 5, 0)}, "(natural) -", false},
		{"sharpened", []engraving.Event{tied(3, 5, 1)}, "(sharp)", false},
		{"as the signature has it", []engraving.Event{tied(6, 4, -1)}, "-", false},
		{"its line is read by the signature later", []engraving.Event{tied(6, 4, 0), event(q, 6, 4, -1)}, "- -", false},
		{"another octave later", []engraving.Event{tied(6, 4, 0), event(q, 6, 5, -1)}, "(natural) -", false},
		{"tied on", []engraving.Event{tied(6, 4, 0), tied(6, 4, 0)}, "(natural) -", false},
	} {
		m := engraving.NewMusic("", engraving.Treble(), engraving.Key{Fifths: -1}, engraving.Time{Beats: "2", BeatType: "4"})
		begin := row.events[0].Notes[0]
		for range 2 {
			from := event(engraving.Half, begin.Step, begin.Octave, begin.Alter)
			from.Notes[0].TieTo, from.Notes[0].TieFrom = true, len(m.Bars) > 0
			m.AddBar(from)
		}
		m.AddBar(row.events...)
		m.PrintAccidentals()
		m.Bars[2].NewLine = true
		d, err := engraving.Draw(m, engraving.Options{AsWritten: row.asWritten})
		require.NoError(t, err)
		lines, err := svgread.Read(d.Figures())
		require.NoError(t, err)
		require.Len(t, lines, 2, row.name)
		assert.Empty(t, lines[0].Staves[0].Bars[1].Notes[0].Printed, "%s: the tie is in sight", row.name)
		var signs []string
		for i, n := range lines[1].Staves[0].Bars[0].Notes {
			sign := cmp.Or(n.Printed, "-")
			if i == 0 && strings.Contains(d.Figures(), `class="fence"`) {
				sign = "(" + sign + ")"
			}
			signs = append(signs, sign)
			assert.InDelta(t, row.events[i].Notes[0].Alter, n.Alter, 0, "%s: as it sounds", row.name)
		}
		assert.Equal(t, row.want, strings.Join(signs, " "), row.name)
	}
}

// TestTiesArriveAtTheirSigns: where signs stand in two columns each tie from the line before
// still ends at its own, and begins clear of the clef (common practice, no source).
func TestTiesArriveAtTheirSigns(t *testing.T) {
	t.Parallel()
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, treble44)
	for bar := range 2 {
		e := event(engraving.Whole, 0, 4, 1)
		e.Notes = append(e.Notes, event(engraving.Whole, 3, 4, 1).Notes[0], event(engraving.Whole, 1, 5, 1).Notes[0])
		for i := range e.Notes {
			e.Notes[i].TieTo, e.Notes[i].TieFrom = bar == 0, bar == 1
		}
		m.AddBar(e)
	}
	m.PrintAccidentals()
	m.Bars[1].NewLine = true
	clef := drawn(t, m, engraving.Options{}, display.RoleClef)[1]
	signs := map[int32]display.Rect{}
	for _, fence := range drawn(t, m, engraving.Options{}, display.RoleAccidentalFence) {
		if left, told := signs[fence.Owner.Note]; !told || fence.box.Left < left.Left {
			signs[fence.Owner.Note] = fence.box
		}
	}
	assert.Less(t, signs[2].Left, signs[1].Left, "the middle one stands farther out")
	ties := drawn(t, m, engraving.Options{}, display.RoleTie)
	require.Len(t, ties, 6)
	for _, tie := range ties[3:] {
		bow := tie.Shape.(display.Bow)
		assert.InDelta(t, float64(signs[tie.Owner.Note].Left), float64(bow.To.X), 0.4)
		assert.Greater(t, bow.From.X, clef.box.Right)
	}
}

// TestNothingRestatedOnTablature: it has no accidentals, so that a line that begins with a
// tie is as wide as another.
func TestNothingRestatedOnTablature(t *testing.T) {
	t.Parallel()
	lines := func(alter float64) []engraving.Line {
		m := engraving.NewMusic("", engraving.Clef{Sign: engraving.ClefTab, Line: 5}, engraving.Key{}, treble44)
		for bar := range 2 {
			e := event(engraving.Whole, 3, 5, alter)
			e.Notes[0].TieTo, e.Notes[0].TieFrom, e.Notes[0].String = bar == 0, bar == 1, 1
			m.AddBar(e)
		}
		l, err := engraving.NewLayout(m, engraving.Options{})
		require.NoError(t, err)
		return l.LinesTo(2)
	}
	assert.Equal(t, lines(0), lines(1))
}

// A stretch of bars is drawn with the clef, key and time in force, so that pages
// may draw on demand.
func TestDrawSomeBars(t *testing.T) {
	t.Parallel()
	m := changes()
	m.AddBar(event(engraving.Whole, 0, 4, 0))
	d, err := engraving.Draw(m, engraving.Options{From: 4, To: 4})
	require.NoError(t, err)
	require.Len(t, d.Systems, 1)
	assert.Equal(t, "C4", readStaves(t, d)[0][0].String(), "read in the tenor clef of bar 2")
	assert.Contains(t, d.Figures(), "time-common")
	none, err := engraving.Draw(m, engraving.Options{From: 9})
	require.NoError(t, err)
	assert.Empty(t, none.Systems)
}

// Edges: no staves, no bars, an empty bar, a bar without signs.
func TestDrawEdges(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why string
		music     *engraving.Music
		systems   int
	}{
		{"nothing", "no music at all", &engraving.Music{}, 0},
		{"no bars", "a staff without bars", &engraving.Music{Staves: make([]engraving.Staff, 1)}, 0},
		{"bare bar", "no clef, no notes", &engraving.Music{Bars: make([]engraving.Bar, 1), Staves: []engraving.Staff{{Measures: make([]engraving.Measure, 1)}}}, 1},
		{"no staves", "bars alone", &engraving.Music{Bars: make([]engraving.Bar, 2)}, 1},
	} {
		d, err := engraving.Draw(row.music, engraving.Options{})
		require.NoError(t, err, row.name)
		assert.Len(t, d.Systems, row.systems, "%s: %s", row.name, row.why)
		assert.True(t, strings.HasPrefix(d.SVG(), "<svg "), row.name)
	}
	_, err := engraving.Draw(&engraving.Music{Bars: make([]engraving.Bar, 2), Staves: make([]engraving.Staff, 1)}, engraving.Options{})
	assert.Error(t, err, "measures missing")
}

// The class of a note reaches the page.
func TestClassesReachThePage(t *testing.T) {
	t.Parallel()
	m := scale()
	m.Staves[0].Measures[0].Voices[0].Events[0].Notes[0].Class = "wrong"
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	assert.Contains(t, d.Figures(), `href="#dp-head-black" class="wrong"`)
}

// No bar stands alone on a last line, where the lines before can take it in.
func TestNoBarAloneOnTheLastLine(t *testing.T) {
	t.Parallel()
	for bars := 6; bars < 40; bars++ {
		var measures []string
		for range bars {
			measures = append(measures, strings.Repeat(shorthand.QuarterC, 4))
		}
		d, err := engraving.Draw(read(t, notate.Options{}, measures...), engraving.Options{Width: 90})
		require.NoError(t, err)
		last := d.Systems[len(d.Systems)-1]
		assert.Greater(t, last.Last, last.First, "%d bars", bars)
	}
}
