package joining_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/joining"
)

// Where the music of a part comes from is written into its entry and read from it again.
func TestOrigins(t *testing.T) {
	t.Parallel()
	at := func(bar int, num, den int64) musicxml.Position {
		return musicxml.Position{Measure: bar, Onset: musicxml.NewFraction(num, den)}
	}
	origins := []joining.Origin{
		{Part: "P1", Label: "Oboe", Staff: 1, Staves: 1, Stretches: []joining.Stretch{{From: at(0, 0, 1), To: at(3, 3, 2)}, {From: at(5, 0, 1), To: at(12, 21, 2)}}},
		{Part: "P2", Label: "Flute “1”", Player: 2, Staff: 2, Staves: 1, Stretches: []joining.Stretch{{From: at(3, 3, 2), To: at(3, 3, 2)}}},
		{Part: "P3", Label: "Triangle", Some: true, Staff: 3, Staves: 2},
	}
	entry := musicxmltest.Element(t, `<score-part id="P1"><identification><miscellaneous><miscellaneous-field name="colour">blue</miscellaneous-field></miscellaneous></identification><part-name>Oboe</part-name></score-part>`)
	joining.WriteOrigins(entry, origins)
	var got []string
	for _, field := range entry.FindElements("identification/miscellaneous/miscellaneous-field") {
		got = append(got, field.SelectAttrValue("name", "")+" = "+field.Text())
	}
	assert.Equal(t, []string{
		"colour = blue",
		"music of P1 = “Oboe” on staff 1 of 1: 0+0 to 3+3/2, 5+0 to 12+21/2",
		"music of P2:2 = “Flute “1”” on staff 2 of 1: 3+3/2 to 3+3/2",
		"some music of P3 = “Triangle” on staff 3 of 2:",
	}, got)
	assert.Equal(t, "part-name", entry.ChildElements()[1].Tag, "in the schema's order")
	joining.WriteSharers(entry, []string{"P4", "P5"})
	joining.WriteDivided(entry, "2 to 3")
	read, err := joining.Origins(entry)
	require.NoError(t, err)
	assert.Equal(t, origins, read)
	assert.Equal(t, []string{"P4", "P5"}, joining.Sharers(entry))
	assert.Equal(t, "2 to 3", joining.Divided(entry))
	assert.Len(t, entry.FindElements("identification/miscellaneous"), 1)

	bare := musicxmltest.Element(t, `<score-part id="P1"><identification><miscellaneous><miscellaneous-field name="colour">blue</miscellaneous-field></miscellaneous></identification></score-part>`)
	for _, entry := range []*etree.Element{bare, musicxmltest.Element(t, `<score-part/>`)} {
		read, err := joining.Origins(entry)
		assert.NoError(t, err)
		assert.Empty(t, read)
		assert.Empty(t, joining.Sharers(entry))
		assert.Empty(t, joining.Divided(entry))
	}
}

// What was changed by hand and says nothing is refused, each in one place.
func TestOriginsRefused(t *testing.T) {
	t.Parallel()
	for text, ok := range map[string]bool{
		"“Oboe” on staff 1 of 1: 0+0 to 1+0": true, "“Oboe” on staff 1 of 1:": true, "“Oboe” on staff 1 of 1: ,": true, "Oboe” on staff 1 of 2: 0+1/2 to 0+3/4": true, "“Oboe” on staff 1 of 1: 1+0 to 1+0": true,
		"": false, "Oboe": false, "“Oboe” on staff 1 of 1": false, "“Oboe” on staff 0 of 1: 0+0 to 1+0": false, "“Oboe” on staff 1 of 0: 0+0 to 1+0": false, "“Oboe” on staff x of 1: 0+0 to 1+0": false,
		"“Oboe” at staff 1 of 1: 0+0 to 1+0": false, "“Oboe” on staff 1 of 1: 0+0": false, "“Oboe” on staff 1 of 1: 0+0 to": false, "“Oboe” on staff 1 of 1: to 1+0": false, "“Oboe” on staff 1 of 1: 0 to 1+0": false,
		"“Oboe” on staff 1 of 1: 0+0 to 1": false, "“Oboe” on staff 1 of 1: -1+0 to 1+0": false, "“Oboe” on staff 1 of 1: 0+-1 to 1+0": false, "“Oboe” on staff 1 of 1: 0+1/0 to 1+0": false, "“Oboe” on staff 1 of 1: 0+1/x to 1+0": false,
		"“Oboe” on staff 1 of 1: 0+x to 1+0": false, "“Oboe” on staff 1 of 1: 0+1/2147483647 to 1+0": true, "“Oboe” on staff 1 of 1: 0+1/2147483648 to 1+0": false, "“Oboe” on staff 1 of 1: 0+0 to 1+2147483648": false, "“Oboe” on staff 1 of 1: 0+1/08 to 1+0": true, "“Oboe” on staff 1": false, "“Oboe” on staff 1 of 1: x+0 to 1+0": false, "“Oboe” on staff 1 of 1: 2+0 to 1+0": false, "“Oboe” on staff 1 of 1: 1+1 to 1+0": false, "“Oboe” on staff 1 of 1: 0+0 to 1+-1": false,
	} {
		entry := musicxmltest.Element(t, `<score-part/>`)
		field := entry.CreateElement("identification").CreateElement("miscellaneous").CreateElement("miscellaneous-field")
		field.CreateAttr("name", "music of P1")
		field.SetText(text)
		read, err := joining.Origins(entry)
		assert.Equal(t, ok, err == nil, text)
		assert.Equal(t, ok, len(read) == 1, text)
		if !ok {
			assert.EqualError(t, err, `the field "music of P1" does not say where the music comes from: it should be like “Piccolo” on staff 1 of 1: 0+0 to 12+3/2`)
		}
	}
	for name, want := range map[string][]any{"P1": {"P1", 0}, "P1:2": {"P1", 2}, "P1:0": {"P1:0", 0}, "P1:x": {"P1:x", 0}, "P1:-1": {"P1:-1", 0}, ":1": {"", 1}} {
		entry := musicxmltest.Element(t, `<score-part/>`)
		field := entry.CreateElement("identification").CreateElement("miscellaneous").CreateElement("miscellaneous-field")
		field.CreateAttr("name", "music of "+name)
		field.SetText("“Oboe” on staff 1 of 1:")
		read, err := joining.Origins(entry)
		require.NoError(t, err)
		assert.Equal(t, want, []any{read[0].Part, read[0].Player}, name)
	}
}

// TestTempos: playback first, else the metronome mark, in quarter notes a minute (MusicXML
// 4.0, sound tempo, metronome).
func TestTempos(t *testing.T) {
	t.Parallel()
	mark := func(inner string) string {
		return `<direction><direction-type><words>x</words></direction-type><direction-type><metronome>` + inner + `</metronome></direction-type>`
	}
	for _, row := range []struct {
		music string
		want  float64 // 0: none
	}{
		{mark(`<beat-unit>breve</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 480}, {mark(`<beat-unit>whole</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 240},
		{mark(`<beat-unit>half</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 120}, {mark(`<beat-unit>quarter</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 60},
		{mark(`<beat-unit>eighth</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 30}, {mark(`<beat-unit>16th</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 15},
		{mark(`<beat-unit>32nd</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 7.5}, {mark(`<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute>`) + `</direction>`, 90},
		{mark(`<beat-unit>quarter</beat-unit><beat-unit-dot/><beat-unit-dot/><per-minute>60</per-minute>`) + `</direction>`, 105}, {mark(`<beat-unit>64th</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 3.75},
		{mark(`<beat-unit>quarter</beat-unit><per-minute>0</per-minute>`) + `</direction>`, 0}, {mark(`<beat-unit>quarter</beat-unit><per-minute>-3</per-minute>`) + `</direction>`, 0},
		{mark(`<beat-unit>quarter</beat-unit><per-minute>slow</per-minute>`) + `</direction>`, 0}, {mark(`<beat-unit>moon</beat-unit><per-minute>60</per-minute>`) + `</direction>`, 0},
		{mark(`<beat-unit>quarter</beat-unit><per-minute>60</per-minute>`) + `<sound tempo="72"/></direction>`, 72}, {mark(`<beat-unit>quarter</beat-unit><per-minute>60</per-minute>`) + `<sound tempo="0"/></direction>`, 60},
		{mark(`<beat-unit>quarter</beat-unit><per-minute>60</per-minute>`) + `<sound dynamics="0"/></direction>`, 60},
		{`<direction><direction-type><words>Presto</words></direction-type></direction>`, 0}, {`<direction><direction-type><words>Presto</words></direction-type><sound tempo="150"/></direction>`, 150},
		{`<sound tempo="0.5"/>`, 0.5}, {`<sound tempo="x"/>`, 0}, {`<sound tempo="-1"/>`, 0}, {`<harmony tempo="60"/>`, 0},
	} {
		part := musicxmltest.Element(t, `<part><measure><note><rest/><duration>2</duration></note></measure><measure><note><rest/><duration>1</duration></note>`+row.music+`<note><rest/><duration>1</duration></note></measure></part>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		var want []desks.Tempo
		if row.want > 0 {
			want = []desks.Tempo{{Position: musicxml.Position{Measure: 1, Onset: musicxml.NewFraction(1, 1)}, Quarters: row.want}}
		}
		assert.Equal(t, want, joining.Tempos(timeline), row.music)
	}
}
