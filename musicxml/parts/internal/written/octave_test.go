package written

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// An octave takes effect on every staff, and for every transposition in force.
func TestWithOctaves(t *testing.T) {
	t.Parallel()
	at := func(measure, staff, octave int) transpose.Stretch {
		return transpose.Stretch{Measure: measure, Staff: staff, To: transpose.Transposition{Chromatic: -2, Diatonic: -1}, Shift: pitch.Octaves(octave)}
	}
	change := func(measure, octave int) draft.OctaveChange {
		return draft.OctaveChange{At: musicxml.Position{Measure: measure}, Octave: octave}
	}
	for _, test := range []struct {
		name      string
		stretches []transpose.Stretch
		changes   []draft.OctaveChange
		want      []transpose.Stretch
	}{
		{"no octave", []transpose.Stretch{at(0, 0, 0)}, nil, []transpose.Stretch{at(0, 0, 0)}},
		{"all through", []transpose.Stretch{at(0, 0, 0)}, []draft.OctaveChange{change(0, 1)}, []transpose.Stretch{at(0, 0, 0), at(0, 0, 1)}},
		{"a later change", []transpose.Stretch{at(0, 0, 0)}, []draft.OctaveChange{change(3, -1), change(5, 0)},
			[]transpose.Stretch{at(0, 0, 0), at(3, 0, -1), at(5, 0, 0)}},
		{"a transposition that changes under it", []transpose.Stretch{at(0, 0, 0), at(4, 0, 0)}, []draft.OctaveChange{change(3, 1)},
			[]transpose.Stretch{at(0, 0, 0), at(3, 0, 1), at(4, 0, 1)}},
		{"staves apart", []transpose.Stretch{at(0, 1, 0), at(0, 2, 0)}, []draft.OctaveChange{change(2, 1)},
			[]transpose.Stretch{at(0, 1, 0), at(0, 2, 0), at(2, 1, 1), at(2, 2, 1)}},
	} {
		assert.Equal(t, test.want, withOctaves(test.stretches, test.changes), test.name)
	}
}

// draftOf is a part laid out, of which nothing else is known.
func draftOf(t *testing.T, text string) *draft.Draft {
	t.Helper()
	part := shorthand.Part(t, text)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	return &draft.Draft{Part: part, Timeline: timeline, Survey: &survey.Part{}, Score: &survey.Score{}}
}

// By how many octaves the sound moves: as the plan says, or as it suits the instrument; a
// part on several staves as a whole (ranges.csv: a professional's flute goes from B3 to D7, a
// violin from G3 to C8).
func TestOctaves(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const low, fine = "C3 D3 E3 D3 | C3:w | R | R", "C5 D5 E5 D5 | C5:w | R | R"
	at := func(measure int, number string, octave int) draft.OctaveChange {
		return draft.OctaveChange{Octave: octave, Measure: number, Beat: "1", At: musicxml.Position{Measure: measure}}
	}
	two := slices.Grow(staff.Page{}.Staves, 2)[:2]
	for _, row := range []struct {
		why, octave, instrument, edition, music string
		page                                    *staff.Page
		want                                    []draft.OctaveChange
	}{
		{"nothing is said", "", "flute", "", low, nil, nil}, {"the plan says it", "1", "flute", "", low, nil, []draft.OctaveChange{at(0, "1", 1)}}, {"the plan says one down", "-2", "flute", "", low, nil, []draft.OctaveChange{at(0, "1", -2)}}, {"none", "0", "flute", "", low, nil, nil},
		{"nobody knows the instrument", "auto", "", "", low, nil, nil}, {"it lies well", "auto", "flute", "", fine, &staff.Page{}, nil}, {"all of it is low", "auto", "flute", "", low, &staff.Page{}, []draft.OctaveChange{at(0, "1", 1)}},
		{"low, then not", "auto", "flute", "", low + " | " + fine, &staff.Page{}, []draft.OctaveChange{at(0, "1", 1), at(4, "5", 0)}}, {"low in the middle", "auto", "flute", "", fine + " | " + low + " | " + fine, &staff.Page{}, []draft.OctaveChange{at(4, "5", 1), at(8, "9", 0)}},
		{"one octave does for an edition", "auto", "flute", "x", low + " | C4 D4 E4 D4", &staff.Page{}, []draft.OctaveChange{at(0, "1", 1)}}, {"no range", "auto", "percussion", "", low, &staff.Page{}, nil},
		{"on one staff", "auto", "flute", "", low + " | " + fine, &staff.Page{Staves: two[:1]}, []draft.OctaveChange{at(0, "1", 1), at(4, "5", 0)}}, {"on two staves", "auto", "flute", "", low + " | " + fine, &staff.Page{Staves: two}, []draft.OctaveChange{at(0, "1", 1)}},
		{"as a whole", "auto", "flute", "", low + " | " + fine, nil, []draft.OctaveChange{at(0, "1", 1)}},
	} {
		d := draftOf(t, row.music)
		d.Survey.Notes, d.Survey.LowestSounding, d.Survey.HighestSounding = 9, pitch.Pitch{Octave: 3}, pitch.Pitch{Octave: 5}
		d.Assignment.Instrument, d.Assignment.Octave, d.Assignment.Edition = catalogue.ByID(row.instrument), row.octave, row.edition
		got, err := (&writer{d, Options{Level: instruments.Professional, Page: row.page}}).octaves(nil)
		require.NoError(t, err, row.why)
		assert.Equal(t, row.want, got, row.why)
	}
}

// The line of a part is what its player strikes: rests, cues and strokes are none, a tied note
// is one, but one that goes on from a cue.
func TestLineOf(t *testing.T) {
	t.Parallel()
	const cue = `<note><cue/><pitch><step>A</step><octave>4</octave></pitch><duration>24</duration><tie·type="start"/><voice>1</voice></note>`
	for text, want := range map[string][]int{"C4 r D4:h": {60, 62}, "C4 u!D4 E4:h": {60, 64}, "C4:h~ C4:h^ | D4:w": {60, 62}, "C4+E4:w": {60, 64}, "C4 " + cue + " D4:h": {60, 62}, cue + " A4:q^ C4:h": {69, 60}} {
		part, err := music.Read(draftOf(t, strings.ReplaceAll(text, "·", " ")).Timeline)
		require.NoError(t, err)
		var got []int
		for _, n := range lineOf(part, nil) {
			got = append(got, n.Sound)
		}
		assert.Equal(t, want, got, text)
	}
}
