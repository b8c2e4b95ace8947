package doubling

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
)

// A third staff sounds with the two of a clash where it clashes with one of them at the time.
func TestThird(t *testing.T) {
	t.Parallel()
	clash := func(measure, a, b int, from, to int64) desks.Clash {
		return desks.Clash{A: a, B: b, Sound: desks.Sound{Measure: measure, From: musicxml.NewFraction(from, 1), To: musicxml.NewFraction(to, 1)}}
	}
	first := clash(1, 1, 2, 1, 3)
	for _, row := range []struct {
		other desks.Clash
		want  bool
	}{
		{clash(1, 1, 3, 2, 4), true}, {clash(1, 0, 1, 0, 2), true}, {clash(1, 2, 3, 1, 3), true}, {clash(1, 0, 2, 0, 4), true}, {clash(1, 1, 3, 3, 4), false}, {clash(1, 1, 3, 0, 1), false},
		{clash(2, 1, 3, 1, 3), false}, {clash(1, 1, 2, 2, 4), false}, {clash(1, 3, 4, 1, 3), false}, {clash(1, 0, 3, 1, 3), false},
	} {
		d := &Desk{Layout: desks.Layout{Clashes: []desks.Clash{first, row.other}}}
		assert.Equal(t, row.want, d.third(0), "%v", row.other)
	}
}

// Places and bars as musicians name them.
func TestPlaces(t *testing.T) {
	t.Parallel()
	bars := Bars{{"0", "4"}, {"1", "4"}, {"2", "8"}}
	for _, row := range []struct {
		at            musicxml.Position
		measure, beat string
	}{{musicxml.Position{}, "0", "1"}, {musicxml.Position{Measure: 1, Onset: musicxml.NewFraction(1, 1)}, "1", "2"}, {musicxml.Position{Measure: 2, Onset: musicxml.NewFraction(1, 1)}, "2", "3"}, {musicxml.Position{Measure: 3}, "2", ""}} {
		measure, beat := bars.Place(row.at)
		assert.Equal(t, []string{row.measure, row.beat}, []string{measure, beat})
	}
	assert.Equal(t, "bar 12", InBars([]string{"12"}))
	assert.Equal(t, "bars 12, 14 to 16", InBars([]string{"12", "14", "15", "16"}))
}
