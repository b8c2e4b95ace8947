package music_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
)

// spans writes every span as its kind and where its ends stand, "bar:quarters", with
// how many marks there are in between.
func spans(p *music.Part) []string {
	list := []string{}
	for i := range p.Spans {
		s := &p.Spans[i]
		text := s.Kind + " " + at(s.Start) + "-" + at(s.Stop)
		if len(s.Through) > 0 {
			text += fmt.Sprintf(" +%d", len(s.Through))
		}
		list = append(list, text)
	}
	return list
}

func at(m *music.Mark) string {
	if m == nil {
		return "?"
	}
	return fmt.Sprintf("%d:%s", m.Measure+1, m.Stands)
}

func slur(kind string, number ...string) string {
	if len(number) > 0 {
		return notations(`<slur type="` + kind + `" number="` + number[0] + `"/>`)
	}
	return notations(`<slur type="` + kind + `"/>`)
}

// The ends of what reaches from one place to another, by the standard's definitions
// (MusicXML 4.0, number-level, start-stop-continue and the element's own).
func TestSpans(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, why      string
		measures, want []string
	}{
		{"a slur", "start and stop", []string{note("C4", 4, slur("start")) + note("D4", 12, slur("stop"))}, []string{"slur 1:0-1:1"}},
		{"over the barline", "", []string{note("C4", 16, slur("start")), note("D4", 4, slur("stop"))}, []string{"slur 1:0-2:0"}},
		{"number 1 by default", "number-level: 1 when implied", []string{note("C4", 8, slur("start", "1")) + note("D4", 8, slur("stop"))}, []string{"slur 1:0-1:2"}},
		{"two at a time", "told by number", []string{
			note("C4", 4, slur("start", "1")) + note("D4", 4, slur("start", "2")) + note("E4", 4, slur("stop", "1")) + note("F4", 4, slur("stop", "2"))},
			[]string{"slur 1:0-1:2", "slur 1:1-1:3"}},
		{"one after the other", "a note ends one slur and begins the next", []string{
			note("C4", 4, slur("start")) + note("D4", 4, notations(`<slur type="stop"/><slur type="start"/>`)) + note("E4", 8, slur("stop"))},
			[]string{"slur 1:0-1:1", "slur 1:1-1:2"}},
		{"written the wrong way round", "a slur does not end where it begins, if there is a choice", []string{
			note("C4", 4, slur("start")) + note("D4", 4, notations(`<slur type="start"/><slur type="stop"/>`)) + note("E4", 8, slur("stop"))},
			[]string{"slur 1:0-1:1", "slur 1:1-1:2"}},
		{"a tuplet of one note", "there is no choice", []string{note("C4", 16, notations(`<tuplet type="start"/><tuplet type="stop"/>`))}, []string{"tuplet 1:0-1:0"}},
		{"from a grace note", "which comes before the note", []string{note("C4", 0, slur("start")) + note("D4", 16, slur("stop"))}, []string{"slur 1:0-1:0"}},
		{"not back to a grace note", "which comes before the note", []string{note("D4", 8, slur("start")) + note("C4", 8, slur("start", "2")) + note("E4", 16), note("C4", 0, slur("stop", "2"), slur("stop"))},
			[]string{"slur 1:0-2:0", "slur 1:2-2:0"}},
		{"nor from a note to a grace note before it", "though it was opened last", []string{note("C4", 16, "v3", slur("start")),
			note("C5", 16, "v1", slur("start")) + backup(16) + note("E4", 0, "v2", slur("stop")) + note("F4", 16, "v2"), note("D5", 16, "v1", slur("stop"))}, []string{"slur 1:0-2:0", "slur 2:0-3:0"}},
		{"from grace note to grace note", "in their order", []string{note("C4", 0, slur("start")) + note("D4", 0, slur("stop")) + note("E4", 16)}, []string{"slur 1:0-1:0"}},
		{"continue", "a point in between", []string{note("C4", 8, slur("start")) + note("D4", 4, slur("continue")) + note("E4", 4, slur("stop"))}, []string{"slur 1:0-1:3 +1"}},
		{"continue of nothing", "is no span", []string{note("D4", 16, slur("continue"))}, []string{}},
		{"never ends", "an end alone", []string{note("C4", 16, slur("start"))}, []string{"slur 1:0-?"}},
		{"never begins", "an end alone", []string{note("C4", 16, slur("stop"))}, []string{"slur ?-1:0"}},
		{"no such type", "says nothing", []string{note("C4", 16, slur("begin"))}, []string{}},

		// The example of number-level: a piano part in 4/4 with a slur on each staff from
		// beat 2 to 3 and one across the staves from beat 1 to 4, all of number 1.
		{"the standard's example, up", "the cross-staff slur begins in the bottom staff and stops in the top one", []string{
			note("C5", 4, "s1") + note("D5", 4, "s1", slur("start")) + note("E5", 4, "s1", slur("stop")) + note("F5", 4, "s1", slur("stop")) +
				backup(16) +
				note("C3", 4, "s2", "v2", slur("start")) + note("D3", 4, "s2", "v2", slur("start")) + note("E3", 4, "s2", "v2", slur("stop")) + note("F3", 4, "s2", "v2")},
			[]string{"slur 1:1-1:2", "slur 1:0-1:3", "slur 1:1-1:2"}},
		{"the standard's example, down", "the cross-staff slur needs a number of its own", []string{
			note("C5", 4, "s1", slur("start", "2")) + note("D5", 4, "s1", slur("start")) + note("E5", 4, "s1", slur("stop")) + note("F5", 4, "s1") +
				backup(16) +
				note("C3", 4, "s2", "v2") + note("D3", 4, "s2", "v2", slur("start")) + note("E3", 4, "s2", "v2", slur("stop")) + note("F3", 4, "s2", "v2", slur("stop", "2"))},
			[]string{"slur 1:0-1:3", "slur 1:1-1:2", "slur 1:1-1:2"}},
		{"each voice its own", "sloppy numbers: two open at a time in the document", []string{
			note("C5", 16, "v1", slur("start")) + backup(16) + note("C4", 8, "v2", slur("start")) + note("D4", 8, "v2", slur("stop")),
			note("E5", 16, "v1", slur("stop"))}, []string{"slur 1:0-2:0", "slur 1:0-1:2"}},
		{"each staff its own", "sloppy numbers", []string{
			note("C5", 16, "s1", slur("start")) + backup(16) + note("C4", 16, "s2", slur("start")),
			note("E5", 16, "s1", slur("stop")) + backup(16) + note("E4", 16, "s2", slur("stop"))}, []string{"slur 1:0-2:0", "slur 1:0-2:0"}},
		{"an end before its beginning in time", "is another's", []string{
			note("C5", 4, "v1", slur("stop")) + note("D5", 12, "v1") + backup(16) + note("C4", 4, "v2") + note("D4", 12, "v2", slur("start"))},
			[]string{"slur 1:1-?", "slur ?-1:0"}},
		{"a later bar is no earlier one", "only within a measure does the document go back", []string{
			note("C5", 16, slur("stop")), note("C5", 8, slur("start")) + note("D5", 8)}, []string{"slur ?-1:0", "slur 2:0-?"}},

		{"a hairpin", "wedge: crescendo or diminuendo, and stop", []string{direction(`<wedge type="crescendo"/>`) + note("C4", 8) + direction(`<wedge type="stop"/>`) + note("C4", 8)}, []string{"wedge 1:0-1:2"}},
		{"hairpins that meet", "the second closes the first", []string{direction(`<wedge type="diminuendo"/>`) + note("C4", 8) + direction(`<wedge type="stop"/>`) + direction(`<wedge type="crescendo"/>`) + note("C4", 8) + direction(`<wedge type="stop"/>`)},
			[]string{"wedge 1:0-1:2", "wedge 1:2-1:4"}},
		{"a hairpin in pieces", "wedge-type, continue", []string{direction(`<wedge type="crescendo"/>`) + note("C4", 16), direction(`<wedge type="continue"/>`) + note("C4", 16) + direction(`<wedge type="stop"/>`)}, []string{"wedge 1:0-2:4 +1"}},
		{"an offset", "moves what is seen alone", []string{direction(`<wedge type="crescendo"/>`, `<offset>4</offset>`) + note("C4", 8) + direction(`<wedge type="stop"/>`, `<offset>-8</offset>`) + note("C4", 8)}, []string{"wedge 1:0-1:2"}},
		{"hairpins of two staves", "each its own", []string{
			direction(`<wedge type="crescendo"/>`, `<staff>1</staff>`) + direction(`<wedge type="diminuendo"/>`, `<staff>2</staff>`) + note("C4", 16),
			direction(`<wedge type="stop"/>`, `<staff>2</staff>`) + note("C4", 16) + direction(`<wedge type="stop"/>`, `<staff>1</staff>`)},
			[]string{"wedge 1:0-2:4", "wedge 1:0-2:0"}},
		{"a staff said at one end only", "there is no other", []string{direction(`<wedge type="crescendo"/>`, `<staff>2</staff>`) + note("C4", 16) + direction(`<wedge type="stop"/>`)}, []string{"wedge 1:0-1:4"}},
		{"dashes, brackets", "start and stop", []string{direction(`<dashes type="start"/>`) + direction(`<bracket type="start" line-end="up"/>`) + note("C4", 16) + direction(`<bracket type="stop" line-end="none"/>`) + direction(`<dashes type="stop"/>`)},
			[]string{"dashes 1:0-1:4", "bracket 1:0-1:4"}},
		{"an octave line", "octave-shift: up or down, and stop", []string{direction(`<octave-shift type="down"/>`) + note("C6", 16) + direction(`<octave-shift type="stop"/>`) + direction(`<octave-shift type="up" size="15"/>`), direction(`<octave-shift type="stop"/>`)},
			[]string{"octave-shift 1:0-1:4", "octave-shift 1:4-2:0"}},
		{"a pedal", "pedal-type: change lifts and takes again", []string{direction(`<pedal type="start"/>`) + note("C4", 8) + direction(`<pedal type="change"/>`) + note("C4", 8) + direction(`<pedal type="stop"/>`)}, []string{"pedal 1:0-1:4 +1"}},
		{"a pedal line with a gap", "discontinue ends a line, resume begins one", []string{direction(`<pedal type="sostenuto"/>`) + note("C4", 8) + direction(`<pedal type="discontinue"/>`) + direction(`<pedal type="resume"/>`) + note("C4", 8) + direction(`<pedal type="stop"/>`)},
			[]string{"pedal 1:0-1:2", "pedal 1:2-1:4"}},
		{"endings", "at barlines: start at the left, stop or discontinue at the right", []string{
			`<barline location="left"><ending number="1" type="start"/></barline>` + note("C4", 16), note("C4", 16) + `<barline location="right"><ending number="1" type="stop"/></barline>`,
			`<barline location="left"><ending number="2" type="start"/></barline>` + note("C4", 16) + `<barline><ending number="2" type="discontinue"/></barline>`},
			[]string{"ending 1:0-2:4", "ending 3:0-3:4"}},
		{"an ending by another number", "the number is when it is played", []string{
			`<barline location="left"><ending number="1,2" type="start"/></barline>` + note("C4", 16) + `<barline><ending number="1, 2" type="stop"/></barline>`}, []string{"ending 1:0-1:4"}},
		{"lines from note to note", "glissando, slide", []string{note("C4", 8, notations(`<glissando type="start"/><slide type="start"/>`)) + note("C5", 8, notations(`<slide type="stop"/><glissando type="stop"/>`))},
			[]string{"glissando 1:0-1:2", "slide 1:0-1:2"}},
		{"ornaments", "wavy-line; a tremolo between two notes", []string{note("C4", 8, notations(`<ornaments><trill-mark/><wavy-line type="start"/><tremolo type="start">3</tremolo></ornaments>`)) + note("C5", 8, notations(`<ornaments><tremolo type="stop">3</tremolo><wavy-line type="stop"/></ornaments>`))},
			[]string{"wavy-line 1:0-1:2", "tremolo 1:0-1:2"}},
		{"a tremolo on one note", "is no span", []string{note("C4", 16, notations(`<ornaments><tremolo type="single">3</tremolo></ornaments>`))}, []string{}},
		{"for guitars", "hammer-on, pull-off", []string{note("C4", 8, notations(`<technical><hammer-on type="start">H</hammer-on></technical>`)) + note("D4", 8, notations(`<technical><hammer-on type="stop"/><pull-off type="start"/></technical>`)), note("C4", 16, notations(`<technical><pull-off type="stop"/></technical>`))},
			[]string{"hammer-on 1:0-1:2", "pull-off 1:2-2:0"}},
		{"others", "principal-voice, other-notation", []string{direction(`<principal-voice type="start" symbol="Hauptstimme"/>`) + note("C4", 16, notations(`<other-notation type="start"/>`)), note("C4", 16, notations(`<other-notation type="stop"/>`)) + direction(`<principal-voice type="stop" symbol="none"/>`)},
			[]string{"principal-voice 1:0-2:4", "other-notation 1:0-2:0"}},
		{"nested tuplets", "told by number", []string{
			note("C4", 4, notations(`<tuplet number="1" type="start"/>`)) + note("C4", 4, notations(`<tuplet number="2" type="start"/>`)) + note("C4", 4, notations(`<tuplet number="2" type="stop"/>`)) + note("C4", 4, notations(`<tuplet number="1" type="stop"/>`))},
			[]string{"tuplet 1:0-1:3", "tuplet 1:1-1:2"}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			p := read(t, row.measures...)
			assert.Equal(t, row.want, spans(p), row.why)
			for i := range p.Spans {
				s := &p.Spans[i]
				for _, end := range append([]*music.Mark{s.Start, s.Stop}, s.Through...) {
					assert.True(t, end == nil || end.Span == s, "every mark knows its span")
				}
			}
		})
	}
}

// Of what is open under one number, the last thirty-two are followed: the standard has
// sixteen numbers for what is open at a time.
func TestMostOpenSpans(t *testing.T) {
	t.Parallel()
	paired := func(n int) int {
		p := read(t, strings.Repeat(note("C4", 4, slur("start")), n)+strings.Repeat(note("C4", 4, slur("stop")), n))
		count := 0
		for i := range p.Spans {
			if s := &p.Spans[i]; s.Start != nil && s.Stop != nil {
				count++
			}
		}
		return count
	}
	assert.Equal(t, 31, paired(31))
	assert.Equal(t, 32, paired(32))
	assert.Equal(t, 32, paired(33))
	assert.Equal(t, 32, paired(70))
}

// A file of thousands of slurs that never end, and ends that never began, is read in
// no time.
func TestHostileSpans(t *testing.T) {
	t.Parallel()
	p := read(t, strings.Repeat(note("C4", 4, slur("start")), 3000)+backup(12000)+strings.Repeat(note("C4", 4, slur("stop")), 3000))
	require.NotEmpty(t, p.Spans)
	ends := 0
	for i := range p.Spans {
		for _, m := range []*music.Mark{p.Spans[i].Start, p.Spans[i].Stop} {
			if m != nil {
				ends++
			}
		}
	}
	assert.Equal(t, 6000, ends, "none is lost")
}
