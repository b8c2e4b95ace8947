package transpose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

func fractionOf(n, d int64) musicxml.Fraction { return musicxml.NewFraction(n, d) }

// The order of places: by bar, by time, by the document.
func TestPlaces(t *testing.T) {
	t.Parallel()
	inOrder := []position{
		{0, fractionOf(0, 1), -1}, {0, fractionOf(0, 1), 0}, {0, fractionOf(0, 1), 3}, {0, fractionOf(1, 3), 1}, {0, fractionOf(1, 2), 0},
		{1, fractionOf(0, 1), -1}, {1, fractionOf(0, 1), 2}, {1, fractionOf(4, 1), 0}, {2, fractionOf(0, 1), 0},
	}
	for i, p := range inOrder {
		for k, q := range inOrder {
			assert.Equal(t, i < k, p.earlier(q), "%v, %v", p, q)
		}
	}
	one := fractionOf(1, 1)
	c := states{graces: graces{musicxml.Position{Measure: 1, Onset: one}: {{order: 4, staff: 1}, {order: 6, staff: 2}}}}
	rows := []struct {
		change, event position
		staff         int
		want          bool
		why           string
	}{
		{position{0, fractionOf(0, 1), 5}, position{1, fractionOf(0, 1), 0}, 1, true, "an earlier bar"},
		{position{1, fractionOf(0, 1), 0}, position{0, fractionOf(3, 1), 9}, 1, false, "a later bar"},
		{position{1, one, 5}, position{1, fractionOf(2, 1), 0}, 1, true, "an earlier moment, later in the document"},
		{position{1, fractionOf(2, 1), 0}, position{1, one, 9}, 1, false, "a later moment"},
		{position{1, one, 5}, position{1, one, 0}.last(), 1, true, "at one moment a change holds, wherever it stands"},
		{position{1, one, 5}, position{1, one, 4}, 1, false, "but not for a grace note before it"},
		{position{1, one, 5}, position{1, one, 6}, 2, true, "and for one behind it"},
		{position{1, one, 5}, position{1, one, 3}, 1, false, "nor for what stands before such a grace note"},
		{position{1, one, 5}, position{1, one, 3}, 2, true, "of its staff"},
		{position{1, fractionOf(0, 1), 5}, position{1, fractionOf(0, 1), 3}, 1, true, "nor where there is none"},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, c.holds(row.change, row.staff, row.event), row.why)
	}
	c.staves = []staffStates{{{position: position{1, fractionOf(0, 1), 2}}, {position: position{0, one, 0}}, {position: position{1, one, 3}}, {position: position{1, one, 5}}},
		{{position: position{1, fractionOf(0, 1), -1}}, {position: position{0, one, 4}}, {position: position{0, fractionOf(0, 1), 7}}}}
	assert.Equal(t, []position{{0, fractionOf(0, 1), 7}, {0, one, 0}, {1, fractionOf(0, 1), -1}, {1, one, 3}, {1, one, 5}}, c.positions(), "the first of each moment, and of what a grace note parts")
}

// Lengths are written as MusicXML's decimals are, to the nearest millionth.
func TestDecimal(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		n, d int64
		want string
	}{{0, 1, "0"}, {7, 1, "7"}, {-7, 1, "-7"}, {1, 2, "0.500000"}, {22, 3, "7.333333"}, {2, 3, "0.666667"}, {-1, 3, "-0.333333"}} {
		assert.Equal(t, row.want, decimal(fractionOf(row.n, row.d)))
	}
}

// Before which events new attributes of their moment go.
func TestOpensMoment(t *testing.T) {
	t.Parallel()
	barline := func(location string) musicxml.Event {
		return musicxml.Event{Kind: musicxml.Barline, Element: musicxmltest.Element(t, `<barline`+location+`/>`)}
	}
	rows := []struct {
		event musicxml.Event
		want  bool
	}{
		{musicxml.Event{Kind: musicxml.Note}, true}, {musicxml.Event{Kind: musicxml.Note, Chord: true}, false}, {musicxml.Event{Kind: musicxml.Note, Grace: true}, true},
		{musicxml.Event{Kind: musicxml.Print}, false}, {musicxml.Event{Kind: musicxml.Attributes}, false}, {musicxml.Event{Kind: musicxml.Direction}, true},
		{musicxml.Event{Kind: musicxml.Forward}, true}, {musicxml.Event{Kind: musicxml.Backup}, true}, {musicxml.Event{Kind: musicxml.Harmony}, true}, {musicxml.Event{Kind: musicxml.Sound}, true},
		{barline(""), true}, {barline(` location="right"`), true}, {barline(` location="middle"`), true}, {barline(` location="left"`), false},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, opensMoment(&row.event), "%v", row.event.Kind)
	}
}

// The staff that an attribute says, and which clefs show no signs.
func TestStaffNumbers(t *testing.T) {
	t.Parallel()
	for number, want := range map[string]int{``: 0, ` number=""`: 0, ` number="1"`: 1, ` number="2"`: 2, ` number="0"`: 0, ` number="-1"`: 0, ` number="x"`: 0, ` number="64"`: 64, ` number="65"`: 64} {
		assert.Equal(t, want, staffNumber(musicxmltest.Element(t, "<key"+number+"/>")), number)
	}
	for xml, want := range map[string]bool{
		"<clef><sign>TAB</sign></clef>": true, "<clef><sign>percussion</sign></clef>": true, "<clef><sign>G</sign></clef>": false, "<clef><sign>none</sign></clef>": false,
	} {
		assert.Equal(t, want, isUnsigned(musicxmltest.Element(t, xml)), xml)
	}
}
