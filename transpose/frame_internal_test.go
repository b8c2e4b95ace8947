package transpose

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest"
)

// A shift goes the nearest way on the neck, and back by as much.
func TestNearestShift(t *testing.T) {
	t.Parallel()
	for semitones, want := range map[int]int{0: 0, 1: 1, 5: 5, 6: 6, 7: -5, 11: -1, 12: 0, 13: 1, 18: 6, 19: -5, 24: 0} {
		assert.Equal(t, want, nearestShift(semitones), "%d", semitones)
		assert.Equal(t, -want, nearestShift(-semitones), "%d and back", semitones)
	}
}

// A diagram shifts as long as its fingers stay on the neck, from the first fret to the
// twenty-fourth, and in the diagram.
func TestShiftedFrets(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, inner string
		frets       []string
		shift       int
		want        string
		ok          bool
		why         string
	}{
		{"up", "<frame-frets>9</frame-frets>", []string{"1", "3"}, 2, "3 5", true, "two semitones"},
		{"down to the first fret", "<frame-frets>9</frame-frets>", []string{"3", "5"}, -2, "1 3", true, ""},
		{"off the nut", "<frame-frets>9</frame-frets>", []string{"2", "5"}, -2, "", false, "it would be an open string"},
		{"an open string", "<frame-frets>9</frame-frets>", []string{"0", "5"}, 2, "", false, "cannot be shifted"},
		{"up to the last fret", "<frame-frets>24</frame-frets>", []string{"20", "22"}, 2, "22 24", true, ""},
		{"off the neck", "<frame-frets>25</frame-frets>", []string{"20", "23"}, 2, "", false, "a neck has 24 frets"},
		{"out of the diagram", "<frame-frets>4</frame-frets>", []string{"1", "3"}, 2, "3 5", false, "it shows four frets from the nut"},
		{"to the diagram's edge", "<frame-frets>5</frame-frets>", []string{"1", "3"}, 2, "3 5", true, "it shows five"},
		{"no size", "", []string{"1", "3"}, 2, "3 5", true, "nothing says how much it shows"},
		{"with its first fret", "<frame-frets>4</frame-frets><first-fret>3</first-fret>", []string{"3", "5"}, 2, "5 7 5", true, "the diagram begins elsewhere"},
		{"first fret off the nut", "<frame-frets>4</frame-frets><first-fret>2</first-fret>", []string{"3", "5"}, -2, "1 3", false, "it would begin before the first"},
		{"first fret in words", `<frame-frets>4</frame-frets><first-fret text="III">3</first-fret>`, []string{"3"}, 2, "", false, "what is printed would be wrong"},
		{"a fret that is no number", "<frame-frets>4</frame-frets>", []string{"x"}, 2, "", false, ""},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			xml := "<frame>" + row.inner
			for _, fret := range row.frets {
				xml += "<frame-note><fret>" + fret + "</fret></frame-note>"
			}
			e := musicxmltest.Element(t, xml+"</frame>")
			frets, ok := shiftedFrets(e, row.shift)
			assert.Equal(t, row.ok, ok, row.why)
			if !ok {
				return
			}
			var got []string
			for _, path := range []string{".//frame-note/fret", "./first-fret"} {
				for _, fret := range e.FindElements(path) {
					got = append(got, fmt.Sprint(frets[fret]))
				}
			}
			assert.Equal(t, row.want, strings.Join(got, " "), row.why)
		})
	}
	_, ok := shiftedFrets(musicxmltest.Element(t, "<frame><frame-note><string>1</string></frame-note></frame>"), 2)
	assert.False(t, ok, "a finger without a fret")
}
