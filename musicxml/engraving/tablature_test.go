package engraving_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
)

// tablatureBar has a quarter, two eighths, a quarter rest and a quarter on a tablature
// staff, or the same on a staff of notes above it as well.
func tablatureBar(t *testing.T, withNotes bool) *display.System {
	t.Helper()
	note := func(staff, duration, kind string) string {
		return `<note><pitch><step>E</step><octave>4</octave></pitch><duration>` + duration + `</duration><voice>` + staff + `</voice><type>` + kind +
			`</type><staff>` + staff + `</staff><notations><technical><string>1</string><fret>0</fret></technical></notations></note>`
	}
	bar := func(staff string) string {
		return note(staff, "2", "quarter") + note(staff, "1", "eighth") + note(staff, "1", "eighth") +
			`<note><rest/><duration>2</duration><voice>` + staff + `</voice><type>quarter</type><staff>` + staff + `</staff></note>` + note(staff, "2", "quarter")
	}
	staves, clefs, music := "1", `<clef><sign>TAB</sign><line>5</line></clef><staff-details><staff-lines>6</staff-lines></staff-details>`, bar("1")
	if withNotes {
		staves, music = "2", bar("1")+"<backup><duration>8</duration></backup>"+bar("2")
		clefs = `<clef number="1"><sign>G</sign><line>2</line></clef>` + strings.ReplaceAll(strings.ReplaceAll(clefs, "<clef>", `<clef number="2">`), "<staff-details>", `<staff-details number="2">`)
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part><measure number="1"><attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>`+
		staves+`</staves>`+clefs+`</attributes>`+music+`</measure></part>`))
	m, err := notate.Part(doc.Root(), notate.Options{})
	require.NoError(t, err)
	drawing, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	return &drawing.Systems[0]
}

// A tablature says how long its notes are where no other staff does (common practice, no
// source): stems and beams outside its lines, rests among the frets. Under a staff of
// notes it has the frets alone.
func TestRhythmOfTablature(t *testing.T) {
	t.Parallel()
	count := func(staff *display.Staff) map[display.Role]int {
		roles := map[display.Role]int{}
		staff.Items.Walk(func(item display.Item) {
			roles[item.Role]++
			if box := item.Shape.Bounds(); item.Role == display.RoleStem {
				assert.Greater(t, float64(box.Top), 2.0, "stems begin below the lowest line")
			}
		})
		return roles
	}
	alone := count(&tablatureBar(t, false).Staves[0])
	assert.Equal(t, []int{4, 4, 1, 1}, []int{alone[display.RoleFret], alone[display.RoleStem], alone[display.RoleBeam], alone[display.RoleRest]})
	// A bow stands clear of its frets, and a slide leads from one to the other.
	doc := etree.NewDocument()
	fret := func(number, notations string) string {
		return `<note><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration><type>half</type><notations>` + notations + `<technical><string>2</string><fret>` + number + `</fret></technical></notations></note>`
	}
	require.NoError(t, doc.ReadFromString(`<part><measure number="1"><attributes><divisions>2</divisions><clef><sign>TAB</sign><line>5</line></clef><staff-details><staff-lines>6</staff-lines></staff-details></attributes>`+
		fret("0", `<slur type="start"/><slide type="start"/>`)+fret("3", `<slur type="stop"/><slide type="stop"/>`)+`</measure></part>`))
	m, err := notate.Part(doc.Root(), notate.Options{})
	require.NoError(t, err)
	bow, slide := drawn(t, m, engraving.Options{}, display.RoleSlur)[0], drawn(t, m, engraving.Options{}, display.RoleGlissando)[0]
	for i, f := range drawn(t, m, engraving.Options{}, display.RoleFret) {
		end := []display.Point{bow.Shape.(display.Bow).From, bow.Shape.(display.Bow).To}[i]
		assert.Less(t, end.Y, f.Shape.Bounds().Top)
		assert.InDelta(t, float64(f.Shape.Bounds().Top+f.Shape.Bounds().Bottom)/2, float64(slide.Shape.(display.Line).Points[i].Y), 0.6)
	}
	below := count(&tablatureBar(t, true).Staves[1])
	assert.Equal(t, []int{4, 0, 0, 0}, []int{below[display.RoleFret], below[display.RoleStem], below[display.RoleBeam], below[display.RoleRest]})
}
