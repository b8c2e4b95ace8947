package written

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
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
