package divisi_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
)

// TestRests writes gaps as rests that show the beats, worked by hand from the rule: each
// begins where a multiple of its length is, none runs over a beat unless it is made of
// whole beats, and of those only where the bar divides by it; in compound time a beat is
// dotted; an upbeat ends where a bar does; without a number of
// beats there are quarter notes (common practice, no source).
func TestRests(t *testing.T) {
	t.Parallel()
	letters := map[string]string{"breve": "b", "whole": "w", "half": "h", "quarter": "q", "eighth": "e", "16th": "s", "32nd": "t", "": "?"}
	f := musicxml.NewFraction
	for _, row := range []struct {
		beats, unit string
		index       int
		length      musicxml.Fraction
		from, to    musicxml.Fraction
		want        string
	}{
		{"4", "4", 1, f(4, 1), f(0, 1), f(4, 1), "w"},
		{"4", "4", 1, f(4, 1), f(0, 1), f(2, 1), "h"},
		{"4", "4", 1, f(4, 1), f(2, 1), f(4, 1), "h"},
		{"4", "4", 1, f(4, 1), f(1, 1), f(3, 1), "q q"},
		{"4", "4", 1, f(4, 1), f(0, 1), f(3, 1), "h q"},
		{"4", "4", 1, f(4, 1), f(1, 1), f(4, 1), "q h"},
		{"4", "4", 1, f(4, 1), f(0, 1), f(7, 2), "h q e"},
		{"4", "4", 1, f(4, 1), f(1, 2), f(2, 1), "e q"},
		{"4", "4", 1, f(4, 1), f(1, 4), f(1, 1), "s e"},
		{"4", "4", 1, f(4, 1), f(0, 1), f(3, 4), "e s"},
		{"4", "4", 1, f(4, 1), f(3, 4), f(5, 4), "s s"},
		{"4", "4", 1, f(4, 1), f(1, 8), f(1, 4), "t"},
		{"4", "4", 1, f(4, 1), f(1, 3), f(1, 1), "?"},
		{"4", "4", 1, f(4, 1), f(1, 1), f(1, 1), ""},
		{"3", "4", 1, f(3, 1), f(0, 1), f(2, 1), "q q"},
		{"3", "4", 1, f(3, 1), f(1, 1), f(3, 1), "q q"},
		{"2", "2", 1, f(4, 1), f(0, 1), f(4, 1), "w"},
		{"2", "2", 1, f(4, 1), f(1, 1), f(3, 1), "q q"},
		{"2", "2", 1, f(4, 1), f(1, 1), f(4, 1), "q h"},
		{"3", "2", 1, f(6, 1), f(0, 1), f(6, 1), "h h h"},
		{"2", "1", 1, f(8, 1), f(0, 1), f(8, 1), "b"},
		{"4", "8", 1, f(2, 1), f(0, 1), f(2, 1), "h"},
		{"4", "8", 1, f(2, 1), f(1, 2), f(3, 2), "e e"},
		{"5", "8", 1, f(5, 2), f(0, 1), f(3, 2), "e e e"},
		{"3", "8", 1, f(3, 2), f(0, 1), f(3, 2), "e e e"},
		{"6", "8", 1, f(3, 1), f(0, 1), f(3, 1), "q. q."},
		{"6", "8", 1, f(3, 1), f(0, 1), f(1, 1), "q"},
		{"6", "8", 1, f(3, 1), f(1, 2), f(3, 2), "e e"},
		{"6", "8", 1, f(3, 1), f(1, 1), f(3, 1), "e q."},
		{"6", "8", 1, f(3, 1), f(1, 2), f(5, 2), "e e q"},
		{"9", "8", 1, f(9, 2), f(3, 2), f(9, 2), "q. q."},
		{"6", "4", 1, f(6, 1), f(0, 1), f(6, 1), "h. h."},
		{"6", "16", 1, f(3, 2), f(0, 1), f(3, 2), "e. e."},
		{"4", "4", 0, f(1, 1), f(0, 1), f(1, 1), "q"},
		{"4", "4", 0, f(3, 2), f(0, 1), f(3, 2), "e q"},
		{"4", "4", 1, f(3, 2), f(0, 1), f(3, 2), "q e"},
		{"6", "8", 0, f(2, 1), f(0, 1), f(2, 1), "e q."},
		{"", "", 1, f(5, 2), f(0, 1), f(5, 2), "q q e"},
		{"4", "", 1, f(2, 1), f(1, 2), f(2, 1), "e q"},
		{"4.5", "8", 1, f(9, 4), f(0, 1), f(9, 4), "q q s"},
		{"-4", "4", 1, f(3, 1), f(0, 1), f(2, 1), "q q"},
		{"1", "1", 1, f(3, 1), f(0, 1), f(2, 1), "h"},
		{"2", "1", 1, f(3, 1), f(0, 1), f(2, 1), "h"},
		{"2+3", "8", 1, f(5, 2), f(0, 1), f(1, 1), "q"},
	} {
		m := &musicxml.Measure{Index: row.index, Beats: row.beats, BeatType: row.unit, Length: row.length}
		var got []string
		at := row.from
		for _, r := range divisi.Rests(m, row.from, row.to) {
			got = append(got, letters[r.Type]+strings.Repeat(".", r.Dots))
			assert.Equal(t, at, r.From)
			at = r.To
		}
		assert.Equal(t, row.to, at)
		assert.Equal(t, row.want, strings.Join(got, " "), "%s/%s, bar %d of %s: %s to %s", row.beats, row.unit, row.index, row.length, row.from, row.to)
	}
}
