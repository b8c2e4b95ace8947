package draft

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/sounding"
	"deskpart/transpose"
)

// TestSilences: each bar in which something is missing is said once, at its first beat.
func TestSilences(t *testing.T) {
	t.Parallel()
	score, err := sounding.Read(shorthand.Part(t, `C5:w | D5:q E5:q F5:q G5:q | A5:w`))
	require.NoError(t, err)
	part, err := sounding.Read(shorthand.Part(t, `C5:w | D5:q r:q F5:q r:q | R`))
	require.NoError(t, err)
	warnings := Silences(score.Missing(part), "the part")
	require.Len(t, warnings, 2)
	assert.Equal(t, musicxml.Warning{Code: notice.MusicLost, Measure: "2", Beat: "2",
		Text: "the score sounds here and the part is silent (1 quarter note)"}, warnings[0])
	assert.Equal(t, "3", warnings[1].Measure)
	assert.Contains(t, warnings[1].Text, "all through")
	assert.Empty(t, Silences(score.Missing(score), "the part"))
}

// The instrument that the player has: that of the part, then of the last change.
func TestInstrumentAt(t *testing.T) {
	t.Parallel()
	flute, piccolo, alto := new(instruments.Instrument), new(instruments.Instrument), new(instruments.Instrument)
	at := func(measure int, beat int64) musicxml.Position {
		return musicxml.Position{Measure: measure, Onset: musicxml.NewFraction(beat, 1)}
	}
	d := &Draft{Changes: []InstrumentChange{{Position: at(2, 1), Instrument: piccolo}, {Position: at(4, 0), Instrument: alto}}}
	d.Assignment.Instrument = flute
	for place, want := range map[musicxml.Position]*instruments.Instrument{at(0, 0): flute, at(2, 0): flute, at(2, 1): piccolo, at(3, 3): piccolo, at(4, 0): alto, at(9, 0): alto} {
		assert.Same(t, want, d.InstrumentAt(place), "%+v", place)
	}
	for _, row := range []struct {
		by               string
		written          *instruments.Instrument
		player           int
		other, mayLose   bool
		silent, loseless bool
	}{{by: assign.ByPlan, written: flute}, {by: assign.ByPlan, written: alto, other: true, mayLose: true}, {by: assign.ByNone, written: alto}, {by: assign.ByNone, written: flute, player: 1, mayLose: true}, {by: assign.ByPlan, written: alto, other: true, silent: true}} {
		d.Assignment.RecognisedBy, d.Assignment.Written, d.Assignment.Player, d.Assignment.Silent = row.by, row.written, row.player, row.silent
		assert.Equal(t, []bool{row.other, row.mayLose}, []bool{d.OtherInstrument(), d.mayLose()}, "%+v", row)
	}
	direction := etree.NewElement("direction")
	d.MarkWords(nil)
	assert.False(t, d.NamesChange(direction))
	d.MarkWords(direction)
	assert.True(t, d.NamesChange(direction))
	assert.False(t, d.NamesChange(etree.NewElement("direction")))
}

// Of a part of which one staff was taken, what was said of that staff and of all stays.
func TestStandOn(t *testing.T) {
	t.Parallel()
	said := func(staff, chromatic int) transpose.Stretch {
		return transpose.Stretch{Staff: staff, To: transpose.Transposition{Chromatic: chromatic}}
	}
	whole := &survey.Part{Staves: 3, Source: []transpose.Stretch{said(0, 1), said(1, 2), said(2, 3), said(3, 4)}}
	d := &Draft{Survey: whole}
	d.StandOn(2)
	assert.Equal(t, []transpose.Stretch{said(0, 1), said(0, 3)}, d.Survey.Source)
	assert.Equal(t, 1, d.Survey.Staves)
	assert.Equal(t, 3, whole.Staves)
}

// What is heard of a part: the score before anything is left out, what one player has of it where
// another instrument plays that, and the finished part, whose gaps are warned of; those of one
// player of a shared staff are known with the others'.
func TestHeard(t *testing.T) {
	t.Parallel()
	read := func(music string) sounding.Times {
		times, err := sounding.Read(shorthand.Part(t, music))
		require.NoError(t, err)
		return times
	}
	const score, own, part = "C5 D5 E5 F5 | C5:w", "C5 r E5 F5 | C5:w", "C5 r E5 r | R"
	of := func(beat, measure, text string) musicxml.Warning {
		return musicxml.Warning{Code: notice.MusicLost, Measure: measure, Beat: beat, Text: text}
	}
	second, fourth, all := of("2", "1", "the score sounds here and the part is silent (1 quarter note)"), of("4", "1", "the score sounds here and the part is silent (1 quarter note)"), of("1", "2", "the score sounds in this bar and the part is silent all through (4 quarter notes)")
	for _, row := range []struct {
		player int
		other  bool
		want   []musicxml.Warning
		heard  bool
	}{{0, false, nil, false}, {1, false, nil, true}, {0, true, []musicxml.Warning{second, all}, true}, {1, true, []musicxml.Warning{fourth, all}, true}} {
		d := drafted(t, score)
		d.Assignment.Player = row.player
		if row.other {
			d.Assignment.RecognisedBy, d.Assignment.Instrument = assign.ByPlan, new(instruments.Instrument)
		}
		require.NoError(t, d.HearScore())
		d.Part = shorthand.Part(t, own)
		require.NoError(t, d.HearPlayer())
		d.Part = shorthand.Part(t, part)
		require.NoError(t, d.HearPart())
		assert.Equal(t, row.want, d.Report.Warnings, "%+v", row)
		if row.heard {
			assert.Equal(t, []sounding.Times{read(score), read(part)}, []sounding.Times{d.Report.Heard.Score, d.Report.Heard.Part})
		} else {
			assert.Nil(t, d.Report.Heard)
		}
	}
}

// What describes the score's page is taken out of a part that is read, and a name that is not the
// player's, or says again what stands at the head; how bars are numbered stays, and the way
// between the music and a coda (MusicXML 4.0, print).
func TestReadWithoutThePage(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	named := func(tag, text string) string {
		return "<" + tag + "><display-text>" + text + "</display-text></" + tag + ">"
	}
	for _, row := range []struct{ why, inner, want string }{
		{"breaks", `<print new-system="yes"/>`, ""}, {"pages", `<print new-page="yes" blank-page="1" page-number="3" staff-spacing="60"/>`, ""}, {"distances", `<print><page-layout/><system-layout/><staff-layout/><measure-layout/></print>`, ""},
		{"numbers", `<print new-system="yes"><system-layout/><measure-numbering>none</measure-numbering></print>`, `<print><measure-numbering>none</measure-numbering></print>`}, {"an id", `<print id="x"/>`, `<print id="x"/>`}, {"two of them", `<print new-page="yes"/><print new-system="yes"/>`, ""},
		{"before a coda", `<print><measure-layout/></print><direction><direction-type><words>x</words></direction-type><direction-type><coda/></direction-type></direction>`, `<print><measure-layout/></print><direction><direction-type><words>x</words></direction-type><direction-type><coda/></direction-type></direction>`},
		{"before a segno", `<print><measure-layout/></print><direction><direction-type><segno/></direction-type></direction>`, `<direction><direction-type><segno/></direction-type></direction>`},
		{"where it stood", `<direction default-x="3"><direction-type><words relative-y="2" xml:lang="it">x</words></direction-type></direction>`, `<direction><direction-type><words xml:lang="it">x</words></direction-type></direction>`},
		{"the name", `<print>` + named("part-name-display", "Quay") + `</print>`, ""}, {"the abbreviation", `<print>` + named("part-abbreviation-display", "Qu.") + `</print>`, ""}, {"as displayed", `<print>` + named("part-name-display", "Great Quay") + `</print>`, ""}, {"the head of the part", `<print>` + named("part-name-display", "Quay 1") + `</print>`, ""},
		{"another way to say it", `<print>` + named("part-name-display", "Flöte") + `</print>`, ""}, {"another instrument", `<print new-page="yes">` + named("part-name-display", "Piccolo") + named("part-abbreviation-display", "Qu.") + `</print>`, `<print>` + named("part-name-display", "Piccolo") + `</print>`},
		{"nobody knows what", `<print>` + named("part-name-display", "Solo") + `</print>`, `<print>` + named("part-name-display", "Solo") + `</print>`},
		{"nor what the part is for", `<print>` + named("part-name-display", "Solo") + `</print>`, `<print>` + named("part-name-display", "Solo") + `</print>`},
	} {
		text := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Quay</part-name><part-name-display><display-text>Great Quay</display-text></part-name-display><part-abbreviation>Qu.</part-abbreviation></score-part></part-list><part id="P1"><measure number="1" width="100">` + row.inner + `</measure></part></score-partwise>`
		score, err := musicxml.Read([]byte(text), musicxml.ReadOptions{})
		require.NoError(t, err, row.why)
		surveyed := survey.NewScore(score, catalogue, survey.Auto)
		a := assign.Assignment{}
		a.Label, a.Instrument = "Quay 1", catalogue.Match(instruments.Query{Name: "Flute"}).Instrument
		if row.why == "nor what the part is for" {
			a.Instrument = nil
		}
		for i, want := range []string{row.want, strings.ReplaceAll(strings.ReplaceAll(row.want, `<print>`+named("part-name-display", "Piccolo")+`</print>`, ""), `<print>`+named("part-name-display", "Solo")+`</print>`, "")} {
			a.Player = i // a player of a shared staff keeps no name
			d := New(surveyed, a, new(musicxml.Slabs), new(musicxml.Timeline))
			require.NoError(t, d.Read())
			got := textOf(t, d.Part.FindElement("measure").Copy())
			want = map[bool]string{true: `<measure number="1"/>`, false: `<measure number="1">` + want + `</measure>`}[want == ""]
			assert.Equal(t, want, got, row.why)
			assert.Len(t, d.Timeline.Measures, 1)
		}
	}
	e := musicxmltest.Element(t, `<a id="1" xml:id="k"><b id="2" default-x="1"/></a>`)
	assert.Equal(t, `<a xml:id="k"><b/></a>`, textOf(t, Stripped(e)))
	assert.Equal(t, `<a id="1" xml:id="k"><b id="2" default-x="1"/></a>`, textOf(t, e))
}
