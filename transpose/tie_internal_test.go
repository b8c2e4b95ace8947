package transpose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

// Which held note a tie leads to (MusicXML 4.0, tied): one that ends where the note begins
// and sounds the same, of its own voice and staff if there is such, else the first.
func TestHeldInto(t *testing.T) {
	t.Parallel()
	quarter := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	held := func(name string, until int64, voice string, staff int) heldNote {
		return heldNote{sound: shorthand.Pitch(t, name).MIDI(), until: quarter(until), voice: voice, staff: staff}
	}
	noteAt := func(name string, start int64, voice string, staff int, tied bool) *note {
		return &note{event: &musicxml.Event{Voice: voice, Staff: staff}, source: shorthand.Pitch(t, name), state: &state{}, start: quarter(start), tieStop: tied}
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
	open := func(name string, until int64) openTie { return openTie{shorthand.Pitch(t, name), quarter(until)} }
	c5, e5, later, past := open("C5", 4), open("E5", 4), open("C5", 5), open("C5", 3)
	r := &accidentalReader{pitch: func(n *note) pitch.Pitch { return n.source }}
	start := noteAt("C5", 4, "1", 1, false)
	start.tieStart, start.event.Duration = true, quarter(1)
	for _, row := range []struct {
		why        string
		open, left []openTie
		n          *note
	}{
		{"the tie that leads there is closed, one of two", []openTie{c5, e5, c5, later, past}, []openTie{e5, c5, later}, c}, {"a note that no tie ends at", []openTie{c5, past}, []openTie{c5}, noteAt("C5", 4, "1", 1, false)},
		{"spelled otherwise", []openTie{open("B#4", 4)}, []openTie{open("B#4", 4)}, c}, {"none", nil, nil, c}, {"one begins", []openTie{c5}, []openTie{c5, later}, start}, {"the first", nil, []openTie{later}, start},
	} {
		r.ties = append([]openTie(nil), row.open...)
		assert.Equal(t, len(row.open) > 0 && row.open[0] == c5 && row.n.tieStop, r.tiedInto(row.n, row.n.source), row.why)
		r.tie(row.n)
		assert.Equal(t, row.left, r.ties, row.why)
	}
	assert.Equal(t, []heldNote{held("E5", 4, "1", 1)}, forgetBefore([]heldNote{held("C5", 3, "1", 1), held("E5", 4, "1", 1)}, quarter(4)))
}
