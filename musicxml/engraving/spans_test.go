package engraving_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// half is a half note with something in its <notations>, in a voice on a staff.
func half(step string, octave, voice, staff int, notations string) string {
	if notations != "" {
		notations = "<notations>" + notations + "</notations>"
	}
	return fmt.Sprintf(`<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>4</duration><voice>%d</voice><type>half</type><staff>%d</staff>%s</note>`,
		step, octave, voice, staff, notations)
}

const (
	backup    = `<backup><duration>8</duration></backup>`
	twoStaves = `<attributes><staves>2</staves><clef number="2"><sign>F</sign><line>4</line></clef></attributes>`
)

func slur(kind string, number int) string {
	return fmt.Sprintf(`<slur type="%s" number="%d"/>`, kind, number)
}

// slurPlaces are the bows of slurs: the staff, voice and event that each begins at,
// and how many there are.
func slurOwners(t *testing.T, m *engraving.Music) []string {
	t.Helper()
	var list []string
	for _, item := range drawn(t, m, engraving.Options{}, display.RoleSlur) {
		b := item.Shape.(display.Bow)
		list = append(list, fmt.Sprintf("staff %d voice %d event %d, %.0f wide", item.Owner.Staff, item.Owner.Voice, item.Owner.Event, float64(b.To.X-b.From.X)))
	}
	return list
}

// Slurs are paired by number, voice, staff and time, over staves too (trade/
// engraving.md, section 5: "paired by staff instead of by number, voice and time").
func TestSlursArePairedAsTheSourceHasThem(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why string
		bars      []string
		want      int
		crosses   bool
	}{
		{"two voices with one number", "each voice ends its own", []string{half("C", 5, 1, 1, slur("start", 1)) + half("D", 5, 1, 1, slur("stop", 1)) +
			backup + half("E", 4, 2, 1, slur("start", 1)) + half("F", 4, 2, 1, slur("stop", 1))}, 2, false},
		{"nested", "the numbers tell them apart", []string{half("C", 5, 1, 1, slur("start", 1)+slur("start", 2)) + half("D", 5, 1, 1, slur("stop", 2)),
			half("C", 5, 1, 1, "") + half("D", 5, 1, 1, slur("stop", 1))}, 2, false},
		{"over staves", "from the upper to the lower", []string{twoStaves + half("C", 5, 1, 1, slur("start", 1)) + half("D", 5, 1, 1, "") +
			backup + half("C", 3, 5, 2, "") + half("D", 3, 5, 2, slur("stop", 1))}, 1, true},
		{"without end", "no slur is invented", []string{half("C", 5, 1, 1, slur("start", 1)) + half("D", 5, 1, 1, ""), half("C", 5, 1, 1, "") + half("D", 5, 1, 1, "")}, 0, false},
		{"number used again", "one after the other", []string{half("C", 5, 1, 1, slur("start", 1)) + half("D", 5, 1, 1, slur("stop", 1)),
			half("C", 5, 1, 1, slur("start", 1)) + half("D", 5, 1, 1, slur("stop", 1))}, 2, false},
	} {
		m := read(t, notate.Options{}, row.bars...)
		d, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		over := 0
		for _, s := range d.Systems {
			s.Over.Walk(func(i display.Item) {
				if i.Role == display.RoleSlur {
					over++
				}
			})
		}
		assert.Len(t, slurOwners(t, m), row.want, "%s: %s", row.name, row.why)
		assert.Equal(t, row.crosses, over > 0, "%s: %s", row.name, row.why)
	}
}

// A tie leads from head to head, to another staff too, into an octave line and to another
// spelling; over a line's end it is drawn in two pieces.
func TestTiesLeadToTheirNotes(t *testing.T) {
	t.Parallel()
	const begin, end = ` <direction><direction-type><octave-shift type="down"/></direction-type></direction> `, ` <direction><direction-type><octave-shift type="stop"/></direction-type></direction>`
	for _, row := range []struct {
		name, bars string
		over       int    // of the ties, those from staff to staff
		want       string // the heads that they join, counted from the left, from below
	}{
		{"on one staff", "C5:h~ C5:h^", 0, "0-1"},
		{"to the other staff", "2bass C4:h~ =2 C4:h^", 1, "0-1"},
		{"there and back", "2bass C4:q~ =2 C4:q^~ =1 C4:h^", 2, "0-1 1-2"},
		{"a chord of which one note goes over", "2bass C4+G4:h~ =2 C4:h^ =1 +G4:h^", 1, "0-2 1-3"},
		{"the own staff first", "2bass C4:h~ C4:h^ // r:h C4:h^", 0, "0-2"},
		{"over a line's end", "2bass C4:w~ | =2 C4:w^", 0, "0-. .-1"},
		{"into an octave line", "C6:h~" + begin + "C6:h^" + end, 0, "0-1"},
		{"to another spelling", "C#5:h~ Db5:h^", 0, "0-1"},
		{"to no note of its sound", "C5:h~ D5:h^", 0, "0-."},
	} {
		m, err := notate.Part(shorthand.Part(t, row.bars), notate.Options{})
		require.NoError(t, err)
		for i := range m.Bars {
			m.Bars[i].NewLine = i > 0
		}
		heads := drawn(t, m, engraving.Options{}, display.RoleHead)
		slices.SortStableFunc(heads, func(a, b drawnItem) int {
			return cmp.Or(cmp.Compare(a.system, b.system), cmp.Compare(a.box.Left, b.box.Left), -cmp.Compare(a.box.Top, b.box.Top))
		})
		var got []string
		for _, item := range drawn(t, m, engraving.Options{}, display.RoleTie) {
			b := item.Shape.(display.Bow)
			down := item.box.Top - b.Bounds().Top
			// beside is the head half a space up or down from a tip, a little aside.
			beside := func(tip display.Point, edge func(display.Rect) display.Spaces) string {
				for i, h := range heads {
					aside, away := float64(edge(h.box)-tip.X), float64((h.box.Top+h.box.Bottom)/2-tip.Y-down)
					if h.system == item.system && math.Abs(aside) < 0.7 && math.Abs(math.Abs(away)-0.5) < 0.05 {
						return strconv.Itoa(i)
					}
				}
				return "."
			}
			got = append(got, beside(b.From, func(r display.Rect) display.Spaces { return r.Right })+"-"+beside(b.To, func(r display.Rect) display.Spaces { return r.Left }))
		}
		assert.ElementsMatch(t, strings.Fields(row.want), got, row.name)
		d, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		over := 0
		for i := range d.Systems {
			d.Systems[i].Over.Walk(func(item display.Item) {
				if item.Role == display.RoleTie {
					over++
				}
			})
		}
		assert.Equal(t, row.over, over, row.name)
	}
}

// Hairpins are closed in order of time, not of the document: in a second voice the
// music turns back.
func TestHairpinsAreClosedInTime(t *testing.T) {
	t.Parallel()
	wedge := func(kind string, number int) string {
		return direction(fmt.Sprintf(`<wedge type="%s" number="%d"/>`, kind, number))
	}
	m := read(t, notate.Options{}, wedge("crescendo", 1)+half("C", 5, 1, 1, "")+half("D", 5, 1, 1, "")+backup+
		half("E", 4, 2, 1, "")+wedge("stop", 1)+wedge("diminuendo", 1)+half("F", 4, 2, 1, "")+wedge("stop", 1))
	spanners := m.Staves[0].Spanners
	require.Len(t, spanners, 2)
	assert.Equal(t, engraving.Crescendo, spanners[0].Kind)
	assert.InDelta(t, 2, spanners[0].To.Onset.Float(), 0)
	assert.Equal(t, engraving.Diminuendo, spanners[1].Kind)
	assert.InDelta(t, 2, spanners[1].From.Onset.Float(), 0)
	assert.InDelta(t, 4, spanners[1].To.Onset.Float(), 0)
}

// An ending of one bar that is discontinued ends there, without a jog.
func TestEndingThatIsDiscontinued(t *testing.T) {
	t.Parallel()
	ending := `<barline location="left"><ending number="2" type="start"/></barline>` + shorthand.WholeC +
		`<barline location="right"><ending number="2" type="discontinue"/></barline>`
	m := read(t, notate.Options{}, shorthand.WholeC, ending, shorthand.WholeC, shorthand.WholeC)
	lines := drawn(t, m, engraving.Options{}, display.RoleEndingLine)
	require.Len(t, lines, 1)
	line := lines[0].Shape.(display.Line)
	assert.Len(t, line.Points, 3, "a jog at its beginning alone")
	bars := drawn(t, m, engraving.Options{}, display.RoleBarline)
	assert.Less(t, line.Points[2].X, bars[2].box.Left, "it ends with its bar")
	assert.Equal(t, "2.", texts(drawn(t, m, engraving.Options{}, display.RoleEnding)))
}

// A clef that changes within a multi-bar rest stands after it.
func TestClefWithinAMultiBarRest(t *testing.T) {
	t.Parallel()
	clef := `<attributes><clef><sign>F</sign><line>4</line></clef></attributes>`
	announced := `<attributes><measure-style><multiple-rest>4</multiple-rest></measure-style></attributes>`
	m := read(t, notate.Options{}, shorthand.WholeC, announced+shorthand.WholeRest, shorthand.WholeRest, clef+shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeC)
	require.Len(t, m.Bars, 3)
	assert.Equal(t, 4, m.Bars[1].RestBars)
	clefs := drawn(t, m, engraving.Options{}, display.RoleClef)
	require.Len(t, clefs, 2)
	rest := drawn(t, m, engraving.Options{}, display.RoleMultiRest)
	assert.Greater(t, clefs[1].box.Left, rest[len(rest)-1].box.Right)
	assert.Equal(t, "clef-f", clefs[1].Shape.(display.Sign).Name)
}

// A beam whose notes stand on two staves is one beam, drawn between the staves, and
// every stem reaches it.
func TestBeamOverTwoStaves(t *testing.T) {
	t.Parallel()
	eighth := func(step string, octave, staff int, beam string) string {
		return fmt.Sprintf(`<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><staff>%d</staff><beam number="1">%s</beam></note>`,
			step, octave, staff, beam)
	}
	m := read(t, notate.Options{}, twoStaves+eighth("C", 3, 2, "begin")+eighth("G", 3, 2, "continue")+eighth("E", 4, 1, "continue")+eighth("C", 5, 1, "end")+half("C", 5, 1, 1, ""))
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	var beams, stems []display.Rect
	s := &d.Systems[0]
	s.Over.Walk(func(i display.Item) {
		switch i.Role {
		case display.RoleBeam:
			beams = append(beams, i.Shape.Bounds())
		case display.RoleStem:
			stems = append(stems, i.Shape.Bounds())
		}
	})
	require.Len(t, beams, 1)
	require.Len(t, stems, 4)
	for _, stem := range stems {
		assert.True(t, stem.Grown(0.05).Meets(beams[0]), "the stem reaches the beam")
	}
	assert.Greater(t, beams[0].Top, s.Staves[0].Y+2, "below the upper staff")
	assert.Less(t, beams[0].Bottom, s.Staves[1].Y-2, "above the lower staff")
}

// A tuplet without a beam over its notes has a bracket over the highest staff that it is on,
// from its first note to its last; the figure at a beam between staves keeps off the stem in
// the middle.
func TestTupletOverTwoStaves(t *testing.T) {
	t.Parallel()
	for _, bar := range []string{"C5:et[ =2 C4:qt] =1 C5:hd", "=2 C4:qt[ =1 C5:et] C5:hd", "C5:qt[ =2 C4:et C4:et =1 C5:qt] C5:h"} {
		m, err := notate.Part(shorthand.Part(t, "2bass "+bar), notate.Options{})
		require.NoError(t, err)
		figure, brackets := drawn(t, m, engraving.Options{}, display.RoleTuplet), drawn(t, m, engraving.Options{}, display.RoleTupletBracket)
		require.Len(t, figure, 1, bar)
		require.Len(t, brackets, 2, bar)
		heads := drawn(t, m, engraving.Options{}, display.RoleHead)
		slices.SortFunc(heads, func(a, b drawnItem) int { return cmp.Compare(a.box.Left, b.box.Left) })
		last := heads[len(heads)-2]
		assert.InDelta(t, float64(heads[0].box.Left), float64(brackets[0].box.Left), 0.3, bar)
		assert.InDelta(t, float64(last.box.Right), float64(brackets[1].box.Right), 0.3, bar)
		for _, h := range heads {
			assert.Less(t, figure[0].box.Bottom, h.box.Top, bar)
		}
	}
	m, err := notate.Part(shorthand.Part(t, "2bass C5:et[{ G4:et- =2 C4:et]} =1 C5:hd"), notate.Options{})
	require.NoError(t, err)
	figure := drawn(t, m, engraving.Options{}, display.RoleTuplet)
	require.Len(t, figure, 1)
	for _, stem := range drawn(t, m, engraving.Options{}, display.RoleStem) {
		assert.False(t, stem.box.Meets(figure[0].box), "the figure is on a stem")
	}
}

// Two voices in unison share a head if it is of one pitch, one shape and as many dots.
func TestUnisonsShareAHead(t *testing.T) {
	t.Parallel()
	for bar, want := range map[string]int{"C5:w / C5:w": 1, "C5:w / C#5:w": 2, "C5:h C5:h / C5:w": 3, "C5:hd / C5:h": 2} {
		m, err := notate.Part(shorthand.Part(t, bar), notate.Options{})
		require.NoError(t, err)
		places := map[display.Rect]bool{}
		for _, h := range drawn(t, m, engraving.Options{}, display.RoleHead) {
			places[h.box] = true
		}
		assert.Len(t, places, want, bar)
	}
}

// A word goes on over the line end with a hyphen, a note sung on with a line.
func TestLyricsGoOnOverLineEnds(t *testing.T) {
	t.Parallel()
	sung := func(lyric string) string {
		return `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><type>whole</type>` + lyric + `</note>`
	}
	m := read(t, notate.Options{}, sung(`<lyric><syllabic>begin</syllabic><text>Lie</text></lyric>`), shorthand.WholeC, sung(`<lyric><syllabic>end</syllabic><text>der</text><extend/></lyric>`), shorthand.WholeC)
	m.Bars[1].NewLine, m.Bars[3].NewLine = true, true
	hyphens := drawn(t, m, engraving.Options{}, display.RoleHyphen)
	on := map[int]bool{}
	for _, h := range hyphens {
		on[h.system] = true
	}
	assert.Equal(t, map[int]bool{0: true, 1: true}, on, "at the end of the first line and on the second")
	extenders := drawn(t, m, engraving.Options{}, display.RoleExtender)
	require.Len(t, extenders, 2)
	assert.Equal(t, []int{1, 2}, []int{extenders[0].system, extenders[1].system})
}

// A chord whose notes stand on two staves has one stem, from the farthest head to
// beyond the nearest, and one flag.
func TestChordOverTwoStaves(t *testing.T) {
	t.Parallel()
	note := func(chord, step string, octave, staff int) string {
		return fmt.Sprintf(`<note>%s<pitch><step>%s</step><octave>%d</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><stem>up</stem><staff>%d</staff></note>`,
			chord, step, octave, staff)
	}
	m := read(t, notate.Options{}, twoStaves+note("", "C", 3, 2)+note("<chord/>", "E", 4, 1))
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	s := &d.Systems[0]
	var stems []display.Rect
	flags := 0
	s.Over.Walk(func(i display.Item) {
		switch i.Role {
		case display.RoleStem:
			stems = append(stems, i.Shape.Bounds())
		case display.RoleFlag:
			flags++
		}
	})
	require.Len(t, stems, 2)
	assert.Equal(t, 1, flags)
	assert.InDelta(t, float64(stems[0].Left), float64(stems[1].Left), 1e-9, "one line")
	assert.InDelta(t, float64(stems[0].Top), float64(stems[1].Top), 1e-9)
	assert.Greater(t, max(stems[0].Bottom, stems[1].Bottom), s.Staves[1].Y-2, "from the lower staff")
	assert.Less(t, stems[0].Top, s.Staves[0].Y, "up into the upper one")
	assert.Empty(t, drawn(t, m, engraving.Options{}, display.RoleFlag)[1:])
}
