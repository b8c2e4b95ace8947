package music_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
)

// joined writes which notes are tied, by their places among the part's notes from 0.
func joined(p *music.Part) map[int]int {
	got := map[int]int{}
	for i := range p.Notes {
		for k := range p.Notes {
			if p.Notes[i].TiedTo == &p.Notes[k] {
				got[i] = k
				if p.Notes[k].TiedFrom != &p.Notes[i] {
					got[-i-1] = k
				}
			}
		}
	}
	return got
}

// The standard's definitions of <tie> and <tied> (MusicXML 4.0, tie, tied, tied-type).
func TestTies(t *testing.T) {
	t.Parallel()
	both := func(kinds ...string) []string {
		var list []string
		for _, k := range kinds {
			list = append(list, `<tie type="`+k+`"/>`, notations(`<tied type="`+k+`"/>`))
		}
		return list
	}
	rows := []struct {
		name, why string
		measures  []string
		want      map[int]int
	}{
		{"both elements", "tie is sound, tied is notation", []string{note("C4", 8, both("start")...) + note("C4", 8, both("stop")...)}, map[int]int{0: 1}},
		{"tie alone", "a file that was played in", []string{note("C4", 8, tieStart) + note("C4", 8, tieStop)}, map[int]int{0: 1}},
		{"tied alone", "a file that was drawn", []string{note("C4", 8, tiedStart) + note("C4", 8, tiedStop)}, map[int]int{0: 1}},
		{"one each", "each note says it its own way", []string{note("C4", 8, tieStart) + note("C4", 8, tiedStop)}, map[int]int{0: 1}},
		{"across the barline", "the second begins where the first ends", []string{note("C4", 16, tieStart), note("C4", 4, tieStop)}, map[int]int{0: 1}},
		{"a chain", "a note in the middle has both ends", []string{note("C4", 16, tieStart), note("C4", 16, tieStop, tieStart), note("C4", 16, tieStop)}, map[int]int{0: 1, 1: 2}},
		{"continue", "a note in the middle", []string{note("C4", 16, tiedStart), note("C4", 16, notations(`<tied type="continue"/>`)), note("C4", 16, tiedStop)}, map[int]int{0: 1, 1: 2}},
		{"let ring", "a single tied element, and no tie", []string{note("C4", 8, notations(`<tied type="let-ring"/>`)) + note("C4", 8)}, nil},
		{"enharmonic", "enharmonically equivalent, with different step values", []string{note("F#4", 16, tieStart), note("Gb4", 16, tieStop)}, map[int]int{0: 1}},
		{"another pitch", "not recommended: inequivalent pitches", []string{note("F#4", 16, tieStart), note("G4", 16, tieStop)}, nil},
		{"another octave", "sounds otherwise", []string{note("C4", 16, tieStart), note("C5", 16, tieStop)}, nil},
		{"no second end", "the next note says nothing", []string{note("C4", 8, tieStart) + note("C4", 8)}, nil},
		{"no first end", "the note before says nothing", []string{note("C4", 8) + note("C4", 8, tieStop)}, nil},
		{"a rest between", "does not begin where the first ends", []string{note("C4", 4, tieStart) + note("<rest/>", 4) + note("C4", 8, tieStop)}, nil},
		{"both ends at one note", "out of a repeat: first start then stop, on the same note", []string{note("C4", 16, notations(`<tied type="start"/><tied type="stop"/>`)), note("C4", 16)}, nil},
		{"a chord", "each head by its pitch", []string{note("C4", 8, tieStart) + note("E4", 8, "<chord/>", tieStart) + note("E4", 8, tieStop) + note("C4", 8, "<chord/>", tieStop)}, map[int]int{0: 3, 1: 2}},
		{"a shorter chord note", "a chord note may be shorter", []string{note("C4", 8, tieStart) + note("E4", 4, "<chord/>", tieStart) + note("C4", 8, tieStop) + note("E4", 8, "<chord/>", tieStop)}, map[int]int{0: 2}},
		{"a grace note", "takes no time of its own", []string{note("C4", 0, tiedStart) + note("C4", 16, tiedStop)}, map[int]int{0: 1}},
		{"a grace note that stands later in the document", "it comes before what begins with it", []string{note("C4", 16, tiedStop, "v1") + backup(16) + note("C4", 0, tiedStart, "v2") + note("E4", 16, "v2")}, map[int]int{1: 0}},
		{"own voice first", "unisons of two voices", []string{
			note("C4", 16, tieStart, "v1") + backup(16) + note("C4", 16, tieStart, "v2"),
			note("C4", 16, tieStop, "v2") + backup(16) + note("C4", 16, tieStop, "v1")}, map[int]int{0: 3, 1: 2}},
		{"unisons of one voice", "the first first, whatever another voice holds", []string{
			note("C4", 16, tieStart, "v1") + note("C4", 16, "<chord/>", tieStart, "v1") + backup(16) + note("C4", 16, tieStart, "v2"),
			note("C4", 16, tieStop, "v1") + note("C4", 16, "<chord/>", tieStop, "v1") + backup(16) + note("C4", 16, tieStop, "v2")}, map[int]int{0: 3, 1: 4, 2: 5}},
		{"beside a longer unison", "each ends where its length does", []string{
			note("C4", 16, tieStart, "v1") + backup(16) + note("C4", 4, tieStart, "v2") + note("C4", 12, tieStop, "v2"), note("C4", 16, tieStop, "v1")}, map[int]int{0: 3, 1: 2}},
		{"into a third voice", "of two that are held, the first", []string{
			note("C4", 16, tieStart, "v1") + backup(16) + note("C4", 16, tieStart, "v2"), note("C4", 16, tieStop, "v3")}, map[int]int{0: 2}},
		{"own staff first", "unisons of two staves", []string{
			note("C4", 16, tieStart, "s1") + backup(16) + note("C4", 16, tieStart, "s2"),
			note("C4", 16, tieStop, "s2") + backup(16) + note("C4", 16, tieStop, "s1")}, map[int]int{0: 3, 1: 2}},
		{"into another voice", "there is no other", []string{note("C4", 16, tieStart, "v1"), note("C4", 16, tieStop, "v2")}, map[int]int{0: 1}},
		{"back in the document", "the second voice is tied into the first", []string{
			note("E4", 8, "v1") + note("C4", 8, tieStop, "v1") + backup(16) + note("C4", 8, tieStart, "v2")}, map[int]int{2: 1}},
		{"twice in a bar", "each tie its own note", []string{note("C4", 4, tieStart) + note("C4", 4, tieStop) + note("C4", 4, tieStart) + note("C4", 4, tieStop)}, map[int]int{0: 1, 2: 3}},
		{"an early tie that leads nowhere", "is forgotten", []string{note("C4", 4, tieStart) + note("D4", 4) + note("C4", 4, tieStart) + note("C4", 4, tieStop)}, map[int]int{2: 3}},
		{"strokes", "by their place", []string{note("<unpitched/>", 8, tieStart) + note("<unpitched/>", 8, tieStop)}, map[int]int{0: 1}},
		{"a stroke and a note", "are no tie", []string{note("B4", 8, tieStart) + note("<unpitched/>", 8, tieStop)}, nil},
		{"over a change of transposition", "what sounds is held", []string{
			`<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>` + note("D4", 16, tieStart),
			`<attributes><transpose><diatonic>0</diatonic><chromatic>0</chromatic></transpose></attributes>` + note("C4", 16, tieStop)}, map[int]int{0: 1}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			if row.want == nil {
				row.want = map[int]int{}
			}
			assert.Equal(t, row.want, joined(read(t, row.measures...)), row.why)
		})
	}
}

// What stands at a note is kept, joined or not.
func TestTieEnds(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 4, tieStart)+note("C4", 4, tiedStop)+note("C4", 4, notations(`<tied type="let-ring"/>`))+
		note("C4", 4, tieStop, tieStart, notations(`<tied type="stop"/><tied type="start"/>`)))
	want := []music.Ties{music.TieStart, music.TiedStop, music.LetRing, music.TieStart | music.TieStop | music.TiedStart | music.TiedStop}
	for i, w := range want {
		assert.Equal(t, w, p.Notes[i].Ties, "note %d", i)
	}
	assert.True(t, want[0].Start() && !want[0].Stop())
	assert.True(t, want[1].Stop() && !want[1].Start())
	assert.False(t, want[2].Start() || want[2].Stop())
	assert.True(t, want[3].Start() && want[3].Stop())
}

func TestHeld(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 16, tieStart), note("C4", 16, tieStop, tieStart), note("C4", 4, tieStop)+note("C4", 12))
	assert.Equal(t, fraction(9, 1), p.Notes[0].Held(), "two bars of four quarters and one")
	assert.Equal(t, fraction(5, 1), p.Notes[1].Held())
	assert.Equal(t, fraction(3, 1), p.Notes[3].Held())
	assert.Equal(t, []bool{true, false, false, true}, []bool{p.Notes[0].Struck(), p.Notes[1].Struck(), p.Notes[2].Struck(), p.Notes[3].Struck()})
	assert.Equal(t, fraction(9, 1), p.Notes[2].End())
}

// Of unisons that are tied at one moment thirty-three are followed.
func TestMostTies(t *testing.T) {
	t.Parallel()
	unisons := func(n int, end string) string {
		return note("C4", 8, end) + strings.Repeat(note("C4", 8, "<chord/>", end), n-1)
	}
	for n, want := range map[int]int{32: 32, 33: 33, 34: 33, 60: 33} {
		assert.Len(t, joined(read(t, unisons(n, tieStart)+unisons(n, tieStop))), want, "%d", n)
	}
}

// A file of thousands of ties that lead nowhere is read in no time.
func TestHostileTies(t *testing.T) {
	t.Parallel()
	p := read(t, strings.Repeat(note("C4", 4, "<chord/>", tieStart), 3000)+note("C4", 4, tieStop))
	require.Len(t, p.Notes, 3001)
	assert.LessOrEqual(t, len(joined1(p)), 1)
}

func joined1(p *music.Part) (list []*musicxml.Event) {
	for i := range p.Notes {
		if p.Notes[i].TiedFrom != nil {
			list = append(list, p.Notes[i].Event)
		}
	}
	return list
}

// Both elements are written and taken out together, in the schema's order.
func TestWriteTies(t *testing.T) {
	t.Parallel()
	const pitched = `<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>`
	rows := []struct {
		name, from, add, drop, want, why string
	}{
		{"to a plain note", pitched + `<voice>1</voice></note>`, "start", "",
			pitched + `<tie type="start"/><voice>1</voice><notations><tied type="start"/></notations></note>`, "the schema's order"},
		{"beside the other end", pitched + `<tie type="stop"/><notations><tied type="stop"/><slur type="start"/></notations></note>`, "start", "",
			pitched + `<tie type="stop"/><tie type="start"/><notations><tied type="stop"/><slur type="start"/><tied type="start"/></notations></note>`, "added to what is there"},
		{"where it is", pitched + `<tie type="start"/></note>`, "start", "", pitched + `<tie type="start"/></note>`, "once is enough"},
		{"where the curve is", pitched + `<notations><tied type="stop"/></notations></note>`, "stop", "", pitched + `<notations><tied type="stop"/></notations></note>`, "once is enough"},
		{"out of both", pitched + `<tie type="stop"/><tie type="start"/><notations><tied type="stop"/><tied type="start"/></notations></note>`, "", "start",
			pitched + `<tie type="stop"/><notations><tied type="stop"/></notations></note>`, "the other end stays"},
		{"out of a notations of its own", pitched + `<notations><tied type="start"/></notations><notations><fermata/></notations></note>`, "", "start",
			pitched + `<notations><fermata/></notations></note>`, "an empty one goes"},
		{"out of nothing", pitched + `</note>`, "", "stop", pitched + `</note>`, "nothing to take out"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := musicxmltest.Element(t, row.from)
			if row.add != "" {
				music.AddTie(e, row.add)
				ties := music.ReadTies(e)
				assert.True(t, row.add == "start" && ties.Start() || row.add == "stop" && ties.Stop())
			}
			if row.drop != "" {
				music.DropTie(e, row.drop)
				ties := music.ReadTies(e)
				assert.False(t, row.drop == "start" && ties.Start() || row.drop == "stop" && ties.Stop())
			}
			assert.Equal(t, row.want, xmlOf(t, e), row.why)
		})
	}
}
