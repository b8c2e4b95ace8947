package engraving_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// drawnItem is an item with its box on its system.
type drawnItem struct {
	display.Item
	system int
	box    display.Rect
}

// drawn draws music and lists the items of some roles, in order from left to right.
func drawn(t testing.TB, m *engraving.Music, o engraving.Options, roles ...display.Role) []drawnItem {
	t.Helper()
	d, err := engraving.Draw(m, o)
	require.NoError(t, err)
	var list []drawnItem
	for i := range d.Systems {
		d.Systems[i].Walk(func(item display.Item, down display.Spaces) {
			for _, role := range roles {
				if item.Role == role {
					list = append(list, drawnItem{item, i, item.Shape.Bounds().Moved(0, down)})
				}
			}
		})
	}
	return list
}

// texts are the letters of the items that are texts.
func texts(list []drawnItem) string {
	var all []string
	for _, item := range list {
		if text, ok := item.Shape.(display.Text); ok {
			all = append(all, text.Text)
		}
	}
	return strings.Join(all, "|")
}

func direction(kind string) string {
	return `<direction><direction-type>` + kind + `</direction-type></direction>`
}

func tempo(text string) string {
	return `<direction placement="above"><direction-type><words>` + text + `</words></direction-type><sound tempo="90"/></direction>`
}

// Tempo texts over multi-bar rests stand on one height, side by side: the rests
// grow (trade/engraving.md, section 5: "climbing in stairs").
func TestRestsGrowWithTheTextsOverThem(t *testing.T) {
	t.Parallel()
	bars := []string{}
	for _, text := range []string{"Allegro ma non troppo", "poco a poco ritenuto", "Un poco meno mosso"} {
		bars = append(bars, tempo(text)+shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeRest)
	}
	list := drawn(t, read(t, notate.Options{RestBars: 2}, bars...), engraving.Options{}, display.RoleTempo)
	require.Len(t, list, 3)
	for i := range list[1:] {
		assert.Less(t, list[i].box.Right, list[i+1].box.Left)
		assert.InDelta(t, float64(list[i].box.Top), float64(list[i+1].box.Top), 1e-9, "one height")
	}
}

// Nothing is cut at the edges: a long text over the last bar of a line moves left
// and the bar takes room.
func TestTextStaysWithinItsLine(t *testing.T) {
	t.Parallel()
	long := tempo("Allegro con spirito e molto appassionato")
	for _, bars := range [][]string{{shorthand.WholeC, shorthand.WholeC, long + shorthand.WholeC}, {long + shorthand.WholeC}, {shorthand.WholeC, long + shorthand.WholeRest, shorthand.WholeRest}} {
		d, err := engraving.Draw(read(t, notate.Options{RestBars: 2}, bars...), engraving.Options{Width: 50})
		require.NoError(t, err)
		for i := range d.Systems {
			d.Systems[i].Walk(func(item display.Item, _ display.Spaces) {
				if text, ok := item.Shape.(display.Text); ok {
					assert.GreaterOrEqual(t, text.Bounds().Left, display.Spaces(0), text.Text)
					assert.LessOrEqual(t, text.Bounds().Right, d.Systems[i].Width, text.Text)
				}
			})
		}
	}
}

// A dynamic and the hairpin beside it share a line and do not meet; a dynamic ends
// dashes; words follow the dynamic at their own note.
func TestDynamicsHairpinsAndDashesShareALine(t *testing.T) {
	t.Parallel()
	half := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>half</type></note>`
	p, f := direction(`<dynamics><p/></dynamics>`), direction(`<dynamics><f/></dynamics>`)
	start, stop := direction(`<wedge type="crescendo"/>`), direction(`<wedge type="stop"/>`)
	list := drawn(t, read(t, notate.Options{}, p+start+half+half+stop, f+half+half), engraving.Options{}, display.RoleDynamic, display.RoleHairpin)
	require.Len(t, list, 3)
	middle := func(i int) float64 { return float64(list[i].box.Top+list[i].box.Bottom) / 2 }
	byLeft := map[display.Role][]drawnItem{}
	for _, item := range list {
		byLeft[item.Role] = append(byLeft[item.Role], item)
	}
	hairpin, letters := byLeft[display.RoleHairpin][0], byLeft[display.RoleDynamic]
	assert.Less(t, letters[0].box.Right, hairpin.box.Left)
	assert.Less(t, hairpin.box.Right, letters[1].box.Left)
	assert.InDelta(t, middle(0), middle(2), 1.2, "one line")

	dashes := `<direction placement="below"><direction-type><words>cresc.</words></direction-type><direction-type><dashes type="start"/></direction-type></direction>`
	end := `<direction placement="below"><direction-type><dashes type="stop"/></direction-type></direction>`
	list = drawn(t, read(t, notate.Options{}, dashes+half+half, half+f+half+end, half+half), engraving.Options{}, display.RoleDashes, display.RoleDynamic)
	require.Len(t, list, 2)
	for _, item := range list {
		if item.Role == display.RoleDashes {
			assert.Less(t, item.box.Right, drawnOf(list, display.RoleDynamic).box.Left, "the dynamic ends the dashes")
		}
	}

	words := `<direction placement="below"><direction-type><words>dolce</words></direction-type></direction>`
	list = drawn(t, read(t, notate.Options{}, words+p+half+half), engraving.Options{}, display.RoleWords, display.RoleDynamic)
	assert.Less(t, drawnOf(list, display.RoleDynamic).box.Right, drawnOf(list, display.RoleWords).box.Left)
}

func drawnOf(list []drawnItem, role display.Role) drawnItem {
	for _, item := range list {
		if item.Role == role {
			return item
		}
	}
	return drawnItem{}
}

// Over a line end a hairpin goes on as wide as it was, an octave line has its hook
// only at its end.
func TestSpannersGoOnOverLineEnds(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{}, direction(`<wedge type="crescendo"/>`)+direction(`<octave-shift type="down" size="8"/>`)+shorthand.WholeC,
		shorthand.WholeC, shorthand.WholeC+direction(`<wedge type="stop"/>`)+direction(`<octave-shift type="stop" size="8"/>`), shorthand.WholeC)
	m.Bars[2].NewLine = true
	list := drawn(t, m, engraving.Options{}, display.RoleHairpin)
	require.Len(t, list, 3, "one with its point, and two strokes")
	assert.Equal(t, []int{0, 1, 1}, []int{list[0].system, list[1].system, list[2].system})
	opening := list[0].box.Height()
	begins := list[2].Shape.(display.Line).Points[0].Y - list[1].Shape.(display.Line).Points[0].Y
	ends := list[2].Shape.(display.Line).Points[1].Y - list[1].Shape.(display.Line).Points[1].Y
	assert.InDelta(t, float64(opening), float64(begins), 0.15, "as wide as before")
	assert.InDelta(t, 1.3, float64(ends), 1e-9)
	assert.Equal(t, "8va|(8va)", texts(drawn(t, m, engraving.Options{}, display.RoleOctave)))
	hooks := drawn(t, m, engraving.Options{}, display.RoleOctaveHook)
	require.Len(t, hooks, 1)
	assert.Equal(t, 1, hooks[0].system)
}

// An octave line covers all that is written under it: it begins over the grace notes of
// its first note and over a head set to the left, and ends before those of the next.
func TestOctaveLineCoversItsNotes(t *testing.T) {
	t.Parallel()
	grace := `<note><grace/><pitch><step>A</step><octave>4</octave></pitch><type>eighth</type></note>`
	second := `<note><chord/><pitch><step>B</step><octave>4</octave></pitch><duration>8</duration><type>half</type><stem>down</stem></note>`
	quaver := strings.ReplaceAll(shorthand.QuarterC, "quarter", "eighth")
	start, stop := direction(`<octave-shift type="up" size="8"/>`), direction(`<octave-shift type="stop" size="8"/>`)
	for _, c := range []struct {
		name     string
		bars     [2]string
		from, to int // the heads, from the left, that are under it
	}{
		{"grace notes before its first note", [2]string{start + grace + grace + shorthand.WholeC + stop, shorthand.WholeC}, 0, 2},
		{"grace notes after it", [2]string{start + shorthand.WholeC, stop + grace + shorthand.WholeC}, 0, 0},
		{"one short note", [2]string{start + quaver + stop + quaver + quaver + quaver, shorthand.WholeC}, 0, 0},
		{"grace notes after one short note", [2]string{start + quaver + stop + grace + quaver + quaver, shorthand.WholeC}, 0, 0},
		{"one short note at the end of its bar", [2]string{quaver + start + quaver + stop, shorthand.WholeC}, 1, 1},
		{"one short note at the end of the line", [2]string{shorthand.WholeC, quaver + start + quaver + stop}, 2, 2},
		{"a head set to the left", [2]string{shorthand.WholeC, start + strings.ReplaceAll(shorthand.WholeC, "whole</type>", "half</type><stem>down</stem>") + second + stop}, 1, 2},
	} {
		m := read(t, notate.Options{}, c.bars[0], c.bars[1])
		heads, hook := drawn(t, m, engraving.Options{}, display.RoleHead), drawn(t, m, engraving.Options{}, display.RoleOctaveHook)
		slices.SortFunc(heads, func(a, b drawnItem) int { return cmp.Compare(a.box.Left, b.box.Left) })
		require.Len(t, hook, 1, c.name)
		figure := drawn(t, m, engraving.Options{}, display.RoleOctave)[0].box
		left := figure.Left
		assert.LessOrEqual(t, figure.Right, hook[0].box.Left, "%s: the hook stands behind the figure", c.name)
		for _, line := range drawn(t, m, engraving.Options{}, display.RoleBarline) {
			passed := line.box.Left > left && line.box.Right < hook[0].box.Left
			assert.False(t, passed && strings.HasSuffix(c.bars[0]+c.bars[1], stop), "%s: it ends with its bar", c.name)
		}
		for i, h := range heads {
			assert.Equal(t, i >= c.from && i <= c.to, h.box.Left >= left-0.01 && h.box.Left < hook[0].box.Left, "%s: head %d", c.name, i)
		}
	}
}

// Syllables stand under slashes, too; those of a note that is not printed are not printed
// (MusicXML 4.0, print-lyric).
func TestSyllablesOfNotesThatAreNotSeen(t *testing.T) {
	t.Parallel()
	sung := strings.Replace(shorthand.WholeC, "</note>", `<lyric><text>la</text></lyric></note>`, 1)
	for _, c := range []struct{ name, bar, want string }{
		{"slashes", `<attributes><measure-style><slash type="start"/></measure-style></attributes>` + sung, "la"},
		{"a note that is not printed", strings.Replace(sung, "<note>", `<note print-object="no">`, 1), ""},
		{"one whose syllable is", strings.Replace(sung, "<note>", `<note print-object="no" print-lyric="yes">`, 1), "la"},
		{"a note without its syllable", strings.Replace(sung, "<note>", `<note print-lyric="no">`, 1), ""},
	} {
		assert.Equal(t, c.want, texts(drawn(t, read(t, notate.Options{}, c.bar), engraving.Options{}, display.RoleLyric)), c.name)
	}
}

// Other dynamics stand as they are: a space between a sign and words, none between
// signs, letters that are dynamics as signs.
func TestOtherDynamicsAsTheyStand(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, dynamics, signs, words string }{
		{"sign and words", `<f/><other-dynamics>espress.</other-dynamics>`, "dynamic-f", "espress."},
		{"words and sign", `<other-dynamics>più f</other-dynamics>`, "dynamic-f", "più"},
		{"two signs", `<s/><f/>`, "dynamic-s dynamic-f", ""},
		{"one element", `<sfz/>`, "dynamic-s dynamic-f dynamic-z", ""},
		{"words alone", `<other-dynamics> mezza  voce </other-dynamics>`, "", "mezza| voce"},
	} {
		list := drawn(t, read(t, notate.Options{}, direction(`<dynamics>`+row.dynamics+`</dynamics>`)+shorthand.WholeC), engraving.Options{}, display.RoleDynamic)
		var signs []string
		for _, item := range list {
			if sign, ok := item.Shape.(display.Sign); ok {
				signs = append(signs, sign.Name)
			}
		}
		assert.Equal(t, row.signs, strings.Join(signs, " "), row.name)
		assert.Equal(t, strings.ReplaceAll(row.words, "| ", "|"), texts(list), row.name)
	}
}

// The bars of a multi-bar rest stand below it (trade/engraving.md, section 3).
func TestRangesOfMultiBarRests(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{RestBars: 2}, shorthand.WholeC, shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeC)
	list := drawn(t, m, engraving.Options{RestRanges: true}, display.RoleBarNumber)
	assert.Equal(t, "2–4", texts(list))
	rest := drawn(t, m, engraving.Options{}, display.RoleMultiRest)
	assert.Greater(t, list[0].box.Top, rest[0].box.Bottom)
	assert.Empty(t, drawn(t, m, engraving.Options{}, display.RoleBarNumber), "only where it is asked for")
}

// A line says the number of its first bar, but not where the music begins.
func TestNumbersOfLines(t *testing.T) {
	t.Parallel()
	for number, want := range map[string]string{"0": "", "1": "", "": "", "2": "2", "10": "10"} {
		m := read(t, notate.Options{}, shorthand.WholeC)
		m.Bars[0].Number = number
		assert.Equal(t, want, texts(drawn(t, m, engraving.Options{}, display.RoleBarNumber)), number)
	}
}

// The line under a syllable ends with the last note sung on it, before a rest, though
// its verse has no further syllable.
func TestExtendersEndAtRests(t *testing.T) {
	t.Parallel()
	sung := strings.Replace(shorthand.WholeC, "</note>", `<lyric number="2"><syllabic>single</syllabic><text>stay</text><extend/></lyric></note>`, 1)
	m := read(t, notate.Options{}, sung, shorthand.WholeC, shorthand.WholeRest, shorthand.WholeC, shorthand.WholeC, shorthand.WholeC, shorthand.WholeC, shorthand.WholeC, shorthand.WholeC)
	lines := drawn(t, m, engraving.Options{Width: 45}, display.RoleExtender)
	require.Len(t, lines, 1)
	rest := drawn(t, m, engraving.Options{Width: 45}, display.RoleRest)[0]
	assert.Equal(t, rest.system, lines[0].system)
	assert.Less(t, float64(lines[0].box.Right), float64(rest.box.Left))
}

// A rehearsal mark and the tempo of its bar stand side by side on one baseline.
func TestRehearsalMarkBesideTempo(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{}, shorthand.WholeC, direction("<rehearsal>C</rehearsal>")+tempo("Più mosso")+shorthand.WholeC, shorthand.WholeC, shorthand.WholeC)
	letter, words := drawn(t, m, engraving.Options{}, display.RoleRehearsal), drawn(t, m, engraving.Options{}, display.RoleTempo)
	require.Len(t, letter, 1)
	require.Len(t, words, 1)
	assert.InDelta(t, float64(letter[0].Shape.(display.Text).At.Y), float64(words[0].Shape.(display.Text).At.Y), 1e-9)
	assert.Greater(t, float64(words[0].box.Left), float64(letter[0].box.Right)+0.4)
}

// The same hairpin twice, and a slur twice between the same single notes, are drawn
// once: a part that was written for two players has each of them double.
func TestDoubleMarksAreDrawnOnce(t *testing.T) {
	t.Parallel()
	wedge := func(kind, number string) string {
		return direction(`<wedge type="` + kind + `" number="` + number + `"/>`)
	}
	slur := func(kind string) string {
		return `<notations><slur type="` + kind + `" number="1"/><slur type="` + kind + `" number="2"/></notations></note>`
	}
	m := read(t, notate.Options{}, wedge("crescendo", "1")+wedge("crescendo", "2")+strings.Replace(shorthand.WholeC, "</note>", slur("start"), 1),
		strings.Replace(shorthand.WholeC, "</note>", slur("stop"), 1)+wedge("stop", "1")+wedge("stop", "2"))
	assert.Len(t, drawn(t, m, engraving.Options{}, display.RoleHairpin), 1)
	assert.Len(t, drawn(t, m, engraving.Options{}, display.RoleSlur), 1)
}

// A hairpin stands under its own notes even where long words begin with it: they have
// rows of their own.
func TestHairpinsKeepTheirPlace(t *testing.T) {
	t.Parallel()
	below := strings.NewReplacer("<direction>", `<direction placement="below">`)
	m := read(t, notate.Options{}, below.Replace(direction("<dynamics><p/></dynamics>")+direction("<words>espressivo e cantabile</words>")+direction(`<wedge type="crescendo"/>`))+
		strings.Repeat(shorthand.QuarterC, 2)+below.Replace(direction(`<wedge type="stop"/>`))+strings.Repeat(shorthand.QuarterC, 2))
	hairpin, heads := drawn(t, m, engraving.Options{Width: 30}, display.RoleHairpin), drawn(t, m, engraving.Options{Width: 30}, display.RoleHead)
	require.Len(t, hairpin, 1)
	assert.Less(t, float64(hairpin[0].box.Left), float64(heads[1].box.Left))
	assert.Less(t, float64(hairpin[0].box.Right), float64(heads[2].box.Right)+0.5)
}

// The line of a trill goes on from its sign, whatever stands over that (common practice).
func TestTrillLineGoesOnFromItsSign(t *testing.T) {
	t.Parallel()
	trill := strings.Replace(shorthand.WholeC, "</note>", `<notations><technical><up-bow/></technical><ornaments><trill-mark/><wavy-line type="start"/></ornaments></notations></note>`, 1)
	end := strings.Replace(shorthand.WholeC, "</note>", `<notations><ornaments><wavy-line type="stop"/></ornaments></notations></note>`, 1)
	list := drawn(t, read(t, notate.Options{}, trill, end), engraving.Options{}, display.RoleArticulation, display.RoleTrillLine)
	require.Len(t, list, 3)
	line := drawnOf(list, display.RoleTrillLine)
	for _, item := range list {
		if sign, is := item.Shape.(display.Sign); is && sign.Name == "trill" {
			assert.Greater(t, float64(line.box.Top), float64(item.box.Top))
			assert.Less(t, float64(line.box.Bottom), float64(item.box.Bottom))
		}
	}
}

// Hairpins and words end before the first ink of a dynamic's letters, which begin left of
// their place.
func TestLettersKeepTheirRoom(t *testing.T) {
	t.Parallel()
	half := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>half</type></note>`
	crescendo := direction(`<wedge type="crescendo"/>`) + half + half + direction(`<wedge type="stop"/>`)
	list := drawn(t, read(t, notate.Options{}, crescendo, direction(`<dynamics><f/></dynamics>`)+half+half), engraving.Options{}, display.RoleDynamic, display.RoleHairpin)
	assert.Greater(t, float64(drawnOf(list, display.RoleDynamic).box.Left), float64(drawnOf(list, display.RoleHairpin).box.Right)+0.3)

	list = drawn(t, read(t, notate.Options{}, direction(`<dynamics><other-dynamics>più </other-dynamics><f/></dynamics>`)+half+half), engraving.Options{}, display.RoleDynamic)
	require.Len(t, list, 2)
	assert.Greater(t, float64(list[1].box.Left), float64(list[0].box.Right)+0.3, "a word and an f")
}

// Words and signs behind all notes of a bar end with it; pedals that are put down and lifted
// at once stand side by side; barlines are as high as the staff is where they stand.
func TestMarksAndTheirBarline(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{}, shorthand.WholeC+direction(`<words>D.S. al Coda senza ripetizione</words>`)+direction(`<coda/>`), shorthand.WholeC)
	line := drawn(t, m, engraving.Options{}, display.RoleBarline)[0].box
	for _, item := range drawn(t, m, engraving.Options{}, display.RoleWords, display.RoleNavigation) {
		assert.InDelta(t, float64(line.Left), float64(item.box.Right), 0.5)
		assert.GreaterOrEqual(t, item.box.Left, display.Spaces(0))
	}
	down, up := direction(`<pedal type="start"/>`), direction(`<pedal type="stop"/>`)
	list := drawn(t, read(t, notate.Options{}, strings.Repeat(down+shorthand.QuarterC+up, 4)), engraving.Options{}, display.RolePedal)
	require.Len(t, list, 8)
	slices.SortFunc(list, func(a, b drawnItem) int { return cmp.Compare(a.box.Left, b.box.Left) })
	for i, sign := range list {
		assert.InDelta(t, float64(list[i%2].box.Top), float64(sign.box.Top), 1e-9, "on one height")
		assert.Equal(t, list[i%2].Shape.(display.Sign).Name, sign.Shape.(display.Sign).Name, "in turn")
	}
	m = read(t, notate.Options{}, shorthand.WholeC, `<attributes><staff-details><staff-lines>1</staff-lines></staff-details></attributes>`+shorthand.WholeC)
	lines := drawn(t, m, engraving.Options{}, display.RoleBarline)
	assert.InDelta(t, 4, float64(lines[0].box.Height()), 0.2)
	assert.InDelta(t, 2, float64(lines[1].box.Height()), 0.2)
}

// A dynamic near the end of a hairpin is what the hairpin leads to: it ends before it.
func TestHairpinsEndAtTheirDynamic(t *testing.T) {
	t.Parallel()
	eighth := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><type>eighth</type></note>`
	bar := direction(`<wedge type="diminuendo"/>`) + strings.Repeat(eighth, 7) + direction(`<dynamics><p/></dynamics>`) + eighth + direction(`<wedge type="stop"/>`)
	list := drawn(t, read(t, notate.Options{}, bar, shorthand.WholeC), engraving.Options{Width: 50, Justify: true}, display.RoleDynamic, display.RoleHairpin)
	require.Len(t, list, 2)
	assert.Less(t, float64(drawnOf(list, display.RoleHairpin).box.Right), float64(drawnOf(list, display.RoleDynamic).box.Left))
}

// A slur begins and ends close to its notes: a bow mark stands outside it, and from a low
// note to a high one it rises.
func TestSlursBeginAtTheirNotes(t *testing.T) {
	t.Parallel()
	slurred := func(octave, end, more string) string {
		return `<note><pitch><step>E</step><octave>` + octave + `</octave></pitch><duration>4</duration><type>half</type><notations><slur type="` + end + `"/>` + more + `</notations></note>`
	}
	for _, row := range []struct{ name, first, second string }{
		{"bow mark", slurred("5", "start", "<technical><down-bow/></technical>"), slurred("5", "stop", "")},
		{"fermata", slurred("5", "start", ""), slurred("5", "stop", "<fermata/>")},
		{"leap", slurred("5", "start", ""), slurred("6", "stop", "")},
	} {
		list := drawn(t, read(t, notate.Options{}, row.first+row.second), engraving.Options{}, display.RoleSlur, display.RoleHead, display.RoleArticulation)
		slur := drawnOf(list, display.RoleSlur)
		assert.Less(t, float64(drawnOf(list, display.RoleHead).box.Top-slur.box.Bottom), 2.5, row.name)
		for _, item := range list {
			if item.Role == display.RoleArticulation {
				assert.Less(t, float64(item.box.Bottom), float64(slur.box.Bottom), row.name)
			}
		}
	}
}

// A slur over the beam of a note that hangs far below it goes from the beam: it does not
// climb there from the head.
func TestSlursOverHighBeams(t *testing.T) {
	t.Parallel()
	note := func(step, octave, value, more string) string {
		return `<note><pitch><step>` + step + `</step><octave>` + octave + `</octave></pitch><duration>1</duration><type>` + value + `</type>` + more + `</note>`
	}
	bar := note("F", "3", "eighth", `<notations><slur type="start"/></notations>`) + note("A", "5", "eighth", "") + note("E", "5", "half", `<notations><slur type="stop"/></notations>`)
	list := drawn(t, read(t, notate.Options{}, bar), engraving.Options{}, display.RoleSlur, display.RoleBeam)
	slur := drawnOf(list, display.RoleSlur)
	assert.Less(t, float64(slur.box.Top), float64(drawnOf(list, display.RoleBeam).box.Top))
	assert.Less(t, float64(slur.box.Height()), 4.0)
}

// The strokes of a tremolo from note to note are long enough to be seen where an
// accidental stands between the notes.
func TestTremolosBetweenNotesHaveRoom(t *testing.T) {
	t.Parallel()
	note := func(step, kind string) string {
		return `<note><pitch><step>` + step + `</step><alter>-1</alter><octave>4</octave></pitch><duration>2</duration><type>quarter</type><accidental>flat</accidental>` +
			`<notations><ornaments><tremolo type="` + kind + `">2</tremolo></ornaments></notations></note>`
	}
	bar := strings.Repeat(note("G", "start")+note("F", "stop"), 2)
	strokes := drawn(t, read(t, notate.Options{}, bar, bar, bar, bar), engraving.Options{Width: 62}, display.RoleTremolo)
	require.Len(t, strokes, 16)
	for _, s := range strokes {
		assert.Greater(t, float64(s.box.Width()), 1.0)
	}
}

// What stands at a note that is itself not printed is printed: editors hang fermatas
// and trills there.
func TestMarksAtHiddenNotesAreDrawn(t *testing.T) {
	t.Parallel()
	hidden := strings.Replace(strings.Replace(shorthand.WholeC, "<note>", `<note print-object="no">`, 1), "</note>", "<notations><fermata/></notations></note>", 1)
	list := drawn(t, read(t, notate.Options{}, shorthand.WholeC, hidden, shorthand.WholeC), engraving.Options{}, display.RoleArticulation, display.RoleHead)
	var names []string
	for _, item := range list {
		names = append(names, item.Shape.(display.Sign).Name)
	}
	assert.ElementsMatch(t, []string{"head-whole", "head-whole", "fermata-above"}, names)
}
