package transpose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
)

// Which held note a tie leads to (MusicXML 4.0, tied): one that ends where the note begins
// and sounds the same, of its own voice and staff if there is such, else the first.
func TestHeldInto(t *testing.T) {
	t.Parallel()
	quarter := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	held := func(name string, until int64, voice string, staff int) heldNote {
		return heldNote{sound: at(t, name).MIDI(), until: quarter(until), voice: voice, staff: staff}
	}
	noteAt := func(name string, start int64, voice string, staff int, tied bool) *note {
		return &note{event: &musicxml.Event{Voice: voice, Staff: staff}, source: at(t, name), state: &state{}, start: quarter(start), tieStop: tied}
	}
	c := noteAt("C5", 4, "1", 1, true)
	for _, row := range []struct {
		why  string
		held []heldNote
		n    *note
		want int
	}{
		{"nothing is held", nil, c, -1},
		{"the note itself", []heldNote{held("C5", 4, "1", 1)}, c, 0},
		{"spelled otherwise", []heldNote{held("B#4", 4, "1", 1)}, c, 0},
		{"another note before it", []heldNote{held("E5", 4, "1", 1), held("C5", 4, "1", 1)}, c, 1},
		{"one that ended before", []heldNote{held("C5", 3, "1", 1), held("C5", 4, "1", 1)}, c, 1},
		{"its own voice goes first", []heldNote{held("C5", 4, "2", 1), held("C5", 4, "1", 1)}, c, 1},
		{"its own staff goes first", []heldNote{held("C5", 4, "1", 2), held("C5", 4, "1", 1)}, c, 1},
		{"of others the first", []heldNote{held("C5", 4, "3", 1), held("C5", 4, "2", 1)}, c, 0},
		{"another sound", []heldNote{held("C#5", 4, "1", 1)}, c, -1},
		{"no tie leads to it", []heldNote{held("C5", 4, "1", 1)}, noteAt("C5", 4, "1", 1, false), -1},
	} {
		assert.Equal(t, row.want, heldInto(row.held, row.n), row.why)
	}
	assert.Equal(t, []heldNote{held("E5", 4, "1", 1)}, forgetBefore([]heldNote{held("C5", 3, "1", 1), held("E5", 4, "1", 1)}, quarter(4)))
}
