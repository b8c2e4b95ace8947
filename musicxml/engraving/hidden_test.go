package engraving_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// TestHiddenStaff: a line has a place for a staff only where that is shown in one of its
// bars, and the bar from which it is shown begins a line.
func TestHiddenStaff(t *testing.T) {
	t.Parallel()
	part := shorthand.Part(t, `2treble <attributes><staff-details number="2" print-object="no"/></attributes> C5:w | D5:w | <attributes><staff-details number="2" print-object="yes"/></attributes> E5:w // C4:w | <attributes><staff-details number="2" print-object="no"/></attributes> F5:w | G5:w`)
	m, err := notate.Part(part, notate.Options{})
	require.NoError(t, err)
	require.Len(t, m.Staves, 2)
	d := onOneStaffThenTwo(t, m)
	assert.Equal(t, 3, d.Systems[1].First)
}

// onOneStaffThenTwo draws music whose first line has one staff, the second two.
func onOneStaffThenTwo(t *testing.T, m *engraving.Music) *engraving.Drawing {
	t.Helper()
	d, err := engraving.Draw(m, engraving.Options{Width: 200})
	require.NoError(t, err)
	require.Len(t, d.Systems, 2)
	assert.Equal(t, []int{1, 2}, []int{len(d.Systems[0].Staves), len(d.Systems[1].Staves)})
	return d
}

// TestHiddenUpperStaff: an ossia above stands where it is shown, joined to nothing; what is
// said over it meanwhile is said over the staff that is there.
func TestHiddenUpperStaff(t *testing.T) {
	t.Parallel()
	const hidden, shown = `<attributes><staff-details number="1" print-object="no"><staff-type>ossia</staff-type></staff-details></attributes>`, `<attributes><staff-details number="1" print-object="yes"/></attributes>`
	part := shorthand.Part(t, `2treble `+hidden+` <direction><direction-type><words>dolce</words></direction-type></direction> <direction><direction-type><wedge type="crescendo"/></direction-type></direction> R // C4:w | R // D4:w <direction><direction-type><wedge type="stop"/></direction-type></direction> | `+shown+` E5:w // E4:w`)
	m, err := notate.Part(part, notate.Options{})
	require.NoError(t, err)
	d := onOneStaffThenTwo(t, m)
	assert.Empty(t, m.Groups)
	assert.Len(t, m.Staves[1].Measures[0].Marks, 1)
	assert.Len(t, m.Staves[1].Spanners, 1)
	assert.Equal(t, "Staff 2, bars 1 to 2", d.Systems[0].Staves[0].Title, "that of the staff that is there")
	assert.Equal(t, "Bar 1: treble clef, 4/4 time, C 4 whole. Bar 2: D 4 whole.", d.Systems[0].Staves[0].Text)
}

// TestSmallStaff: a staff is as large against the largest of its part as it says, with all
// that stands on it, and its notes stand over those of the other (MusicXML 4.0, staff-size,
// staff-type; 0.7 where nothing is said: trade/engraving.md, section 1).
func TestSmallStaff(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		details  string
		size     float64
		also     string // of the second staff
		notDrawn int
	}{
		{"<staff-type>ossia</staff-type><staff-size>65</staff-size>", 0.65, "", 0},
		{"<staff-type>cue</staff-type>", 0.7, "", 0},
		{"<staff-size>60</staff-size>", 0.5, "<staff-size>120</staff-size>", 0},
		{"<staff-size>80</staff-size>", 1, "<staff-size>80</staff-size>", 0},
		{`<staff-size scaling="100">80</staff-size>`, 1, "", 1},
	} {
		part := shorthand.Part(t, `2treble <attributes><staff-details number="1">`+row.details+`</staff-details><staff-details number="2">`+row.also+`</staff-details></attributes> C5:e{ D#5:e- E5:e- C5:e} F5:h // C4:e{ C4:e- C4:e- C4:e} C4:h`)
		m, err := notate.Part(part, notate.Options{})
		require.NoError(t, err)
		assert.Len(t, m.NotDrawn, row.notDrawn, row.details)
		d, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		var heads, stems, lines [2][]display.Rect
		for i, staff := range d.Systems[0].Staves {
			staff.Items.Walk(func(item display.Item) {
				switch box := item.Shape.Bounds(); item.Role {
				case display.RoleHead:
					heads[i] = append(heads[i], box)
				case display.RoleStem:
					stems[i] = append(stems[i], box)
				case display.RoleStaffLine:
					lines[i] = append(lines[i], box)
				}
			})
		}
		require.Len(t, heads[0], 5, row.details)
		assert.InDelta(t, row.size, float64(lines[0][0].Top-lines[0][1].Top), 1e-9, row.details)
		for i, h := range heads[0] {
			assert.InDelta(t, row.size, float64(h.Height()/heads[1][i].Height()), 1e-9, row.details)
			assert.InDelta(t, float64(heads[1][i].Left), float64(h.Left), 0.1, row.details)
			edge := h.Left
			if stems[0][i].Top < h.Top {
				edge = h.Right
			}
			assert.InDelta(t, float64(edge), float64(stems[0][i].Left+stems[0][i].Right)/2, 0.15, "%s: the stem stands at its head", row.details)
		}
	}
}
