package system

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/survey"
)

func document(t *testing.T, text string) *etree.Document {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text))
	return doc
}

// Of two bar lines at one place the one that says more of the form wins: the end and the
// repeats over the double line, that over a heavy one, that over dashes; what is drawn for one
// staff says nothing (gehrkens-mnt s.36-44; MusicXML 4.0, bar-style).
func TestRanksOfBarlines(t *testing.T) {
	t.Parallel()
	rank := func(style string) int {
		b := etree.NewElement("barline")
		if style != "" {
			b.CreateElement("bar-style").SetText(style)
		}
		return styleRank(b)
	}
	ranks := [][]string{{"", "regular", "none", "tick", "short"}, {"dashed", "dotted"}, {"heavy"}, {"light-light"}, {"light-heavy", "heavy-light", "heavy-heavy"}}
	for i, styles := range ranks {
		for _, style := range styles {
			assert.Equal(t, rank(styles[0]), rank(style), style)
			if i > 0 {
				assert.Greater(t, rank(style), rank(ranks[i-1][0]), style)
			}
		}
	}
	assert.Zero(t, rank(""))
}

// What of a <sound> is said to everybody: the tempo and where playback goes on (MusicXML 4.0,
// sound).
func TestFacetsOfSounds(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]facet{
		"tempo": saysTempo, "dacapo": saysJump, "dalsegno": saysJump, "segno": saysJump, "coda": saysJump, "tocoda": saysJump, "fine": saysJump, "forward-repeat": saysJump,
		"dynamics": 0, "pizzicato": 0, "pan": 0, "elevation": 0, "damper-pedal": 0, "soft-pedal": 0, "sostenuto-pedal": 0, "divisions": 0, "time-only": 0, "id": 0,
	} {
		assert.Equal(t, want, soundFacet(key), key)
	}
}

// What two bar lines at one place say stands in one, each thing once; an ending that only one
// part hides is shown (MusicXML 4.0, barline, ending).
func TestBarlinesCompleted(t *testing.T) {
	t.Parallel()
	read := func(inner string) *etree.Document {
		return document(t, `<barline`+inner+`</barline>`)
	}
	const back, hidden, ending = `<repeat direction="backward"/>`, `<ending number="1" type="stop" print-object="no"/>`, `<ending number="1" type="stop"/>`
	for _, row := range []struct{ own, from, want string }{
		{`>`, `>` + back, `>` + back}, {`>` + back, `>` + back, `>` + back}, {`>` + back, `>`, `>` + back}, {`><bar-style>light-light</bar-style>`, `><bar-style>light-heavy</bar-style>` + back, `><bar-style>light-heavy</bar-style>` + back},
		{`><bar-style>light-heavy</bar-style>`, `><bar-style>light-light</bar-style>`, `><bar-style>light-heavy</bar-style>`}, {`>`, `><segno/><coda/><fermata/>`, `><segno/><coda/><fermata/>`}, {`><fermata/>`, `><fermata/><fermata/>`, `><fermata/>`},
		{`>`, `>` + ending, `>` + ending}, {`>` + hidden, `>` + ending, `>` + ending}, {`>` + hidden, `>` + hidden, `>` + hidden}, {`>` + ending, `>` + hidden, `>` + ending},
		{`>`, ` segno="a" coda="b">`, ` segno="a" coda="b">`}, {` segno="a">`, ` segno="c" coda="b">`, ` segno="a" coda="b">`},
	} {
		own := read(row.own)
		completeBarline(own.Root(), read(row.from).Root())
		text, err := own.WriteToString()
		assert.NoError(t, err)
		want, err := read(row.want).WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, want, text, "%s and %s", row.own, row.from)
	}
	for text, want := range map[string]int{`<measure/>`: 0, `<measure><note/></measure>`: 0, `<measure><print/><note/></measure>`: 1, `<measure><barline/><print/><note/></measure>`: 2} {
		assert.Equal(t, want, afterPrint(document(t, text).Root()), text)
	}
}

// A pause goes to the last rest that lasts into it, or to the one note that is held throughout;
// where notes move meanwhile to none (common practice, no source).
func TestWhatCarriesAPause(t *testing.T) {
	t.Parallel()
	note := func(onset, duration int64, rest bool) musicxml.Event {
		return musicxml.Event{Kind: musicxml.Note, Onset: musicxml.NewFraction(onset, 1), Duration: musicxml.NewFraction(duration, 1), Rest: rest}
	}
	of := func(ev musicxml.Event, change func(*musicxml.Event)) musicxml.Event {
		change(&ev)
		return ev
	}
	for _, row := range []struct {
		why    string
		events []musicxml.Event
		want   int // -1: none
	}{
		{"a rest", []musicxml.Event{note(0, 4, true)}, 0}, {"the last of two", []musicxml.Event{note(0, 2, true), note(2, 1, true), note(3, 1, true)}, 2}, {"a note held throughout", []musicxml.Event{note(0, 4, false)}, 0},
		{"a note that ends before", []musicxml.Event{note(0, 3, false), note(3, 1, true)}, 1}, {"notes that move", []musicxml.Event{note(2, 1, false), note(3, 1, false)}, -1}, {"a note that ends meanwhile", []musicxml.Event{note(0, 3, false)}, -1},
		{"a note over a rest", []musicxml.Event{note(2, 2, true), note(2, 2, false)}, 1}, {"the note first", []musicxml.Event{note(2, 2, false), note(2, 2, true)}, 0}, {"nothing lasts so long", []musicxml.Event{note(0, 2, true)}, -1},
		{"a chord", []musicxml.Event{note(2, 2, false), of(note(2, 2, false), func(e *musicxml.Event) { e.Chord = true })}, 0}, {"a cue note", []musicxml.Event{of(note(2, 2, false), func(e *musicxml.Event) { e.Cue = true }), note(0, 4, true)}, 1},
		{"a grace note", []musicxml.Event{of(note(2, 0, false), func(e *musicxml.Event) { e.Grace = true }), note(2, 2, false)}, 1}, {"two rests", []musicxml.Event{note(2, 2, true), note(2, 2, true)}, 0}, {"a rest behind a note that was held", []musicxml.Event{note(3, 1, true), note(2, 2, false)}, 0}, {"words", []musicxml.Event{{Kind: musicxml.Direction, Onset: musicxml.NewFraction(2, 1)}, note(2, 2, true)}, 1},
	} {
		m := &musicxml.Measure{Events: row.events}
		p := pause{Position: musicxml.Position{Onset: musicxml.NewFraction(2, 1)}, end: musicxml.NewFraction(4, 1)}
		var want *musicxml.Event
		if row.want >= 0 {
			want = &m.Events[row.want]
		}
		assert.Same(t, want, resting(m, p), row.why)
	}
}

// Two pauses are one where they last at one moment, or are both of no length; the latest and
// shortest tells where everybody stops. A pause is "bar from-to".
func TestPausesJoined(t *testing.T) {
	t.Parallel()
	read := func(text string) (pauses []pause) {
		for _, word := range strings.Fields(text) {
			var p pause
			var from, to int64
			_, err := fmt.Sscanf(word, "%d:%d-%d", &p.Measure, &from, &to)
			require.NoError(t, err)
			p.Onset, p.end = musicxml.NewFraction(from, 1), musicxml.NewFraction(to, 1)
			pauses = append(pauses, p)
		}
		return pauses
	}
	for _, row := range []struct{ others, own, want string }{
		{"", "0:0-4", "0:0-4"}, {"0:0-4", "0:2-4", "0:2-4"}, {"0:2-4", "0:0-4", "0:2-4"}, {"0:0-4", "0:0-2", "0:0-2"}, {"0:0-2", "0:0-4", "0:0-2"}, {"0:0-4", "0:1-2", "0:1-2"}, {"0:0-4", "0:2-6", "0:2-4"},
		{"0:0-1", "0:1-2", "0:0-1 0:1-2"}, {"0:1-2", "0:0-1", "0:1-2 0:0-1"}, {"0:0-4", "1:0-4", "0:0-4 1:0-4"}, {"0:0-0", "0:0-0", "0:0-0"}, {"0:0-4", "0:0-0", "0:0-4"}, {"0:0-2 0:2-4", "0:0-4", "0:0-2 0:2-4"},
		{"0:0-2", "0:0-2 0:2-4", "0:0-2 0:2-4"}, {"0:0-2 1:0-2", "0:1-2 1:1-2", "0:1-2 1:1-2"},
	} {
		assert.Equal(t, read(row.want), joinPauses(read(row.others), read(row.own)), "%s and %s", row.others, row.own)
	}
}

// Which note a break stands at: the one that ends there, or the rest that goes on over it.
func TestWhatEndsAtABreak(t *testing.T) {
	t.Parallel()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, `g!C5:e "x" C5+E5:q <note><cue/><pitch><step>D</step><octave>5</octave></pitch><duration>24</duration></note> r:h`))
	require.NoError(t, err)
	m := &timeline.Measures[0]
	for beat, want := range map[int64]int{0: -1, 1: 3, 2: -1, 3: 6, 4: 6} {
		var element *etree.Element
		if ev := endingAt(m, musicxml.NewFraction(beat, 1)); ev != nil {
			element = ev.Element
		}
		if want < 0 {
			assert.Nil(t, element, beat)
		} else {
			assert.Same(t, m.Element.ChildElements()[want], element, beat)
		}
	}
}

// Which bars begin a movement: those with its number, and those after a final bar line
// without a repeat.
func TestMovementsOf(t *testing.T) {
	t.Parallel()
	line := func(measure int, location, inner string) barline {
		return barline{musicxml.Position{Measure: measure}, location, document(t, `<barline>`+inner+`</barline>`).Root()}
	}
	r := &Marks{marks: []mark{{Position: musicxml.Position{Measure: 2}, says: []saying{{}, {movement: true}}}, {Position: musicxml.Position{Measure: 3}, says: []saying{{leading: true}}}},
		barlines: []barline{line(5, "right", "<bar-style>light-heavy</bar-style>"), line(6, "right", "<bar-style>light-light</bar-style>"), line(7, "left", "<bar-style>light-heavy</bar-style>"), line(8, "right", `<bar-style>light-heavy</bar-style><repeat direction="backward"/>`)}}
	assert.Equal(t, map[int]bool{2: true, 6: true}, r.movementsOf())
}

// Changes of time, followed through all parts at once. A statement is "bar:time", in brackets
// where it is hidden; the parts are parted by /, and so is what each is told: + that is added,
// ! shown, - taken out. Bar 9 is the head of a movement.
func TestMetresJoined(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ why, says, want string }{
		{"all say it", "0:4/4 1:3/4,0:4/4 1:3/4", ","}, {"one says it", "0:4/4 1:3/4,0:4/4", ",+1:3/4"}, {"in turn", "0:4/4 1:3/4,0:4/4 2:2/4", "+2:2/4,+1:3/4"}, {"late", "0:4/4 1:3/4,0:4/4 2:3/4", ",+1:3/4 -2"},
		{"late, twice", "0:4/4 1:3/4,0:4/4 2:3/4 3:3/4", ",+1:3/4 -2 -3"}, {"its own way", "0:4/4 1:3/4,0:6/8", ","}, {"hidden here", "0:4/4 1:3/4,0:4/4 1:(3/4)", ",!1"}, {"hidden everywhere", "0:4/4 1:(3/4),0:4/4 1:(3/4)", ","},
		{"printed before hidden", "0:4/4 1:(3/4),0:4/4 1:3/4,0:4/4", "!1,,+1:3/4"}, {"the first of two", "0:4/4 1:3/4,0:4/4 1:2/4,0:4/4", ",,+1:3/4"}, {"another one that is printed", "0:4/4 1:(3/4),0:4/4 1:2/4,0:4/4", ",,+1:(3/4)"},
		{"hidden, another one printed", "0:4/4 1:2/4,0:4/4 1:(3/4)", ","}, {"the same again", "0:4/4 1:4/4,0:4/4", ","}, {"its own again after it was added", "0:4/4 1:3/4,0:4/4 1:3/4 2:3/4", ","}, {"the same again at the head of a movement", "0:4/4 9:4/4,0:4/4", ",+9:4/4"},
		{"taken over, then at the head of a movement", "0:4/4 1:3/4,0:4/4 9:3/4", "+9:3/4,+1:3/4"}, {"the same again, hidden, at the head of a movement", "0:4/4 9:4/4,0:4/4 9:(4/4)", ",!9"}, {"back and forth", "0:4/4 1:3/4 2:4/4,0:4/4 2:4/4", ",+1:3/4"},
		{"told by another at the start", "0:4/4,", ",+0:4/4"}, {"in the middle of a bar of a movement's head", "0:4/4 9.5:4/4,0:4/4", ","}, {"a time that the part has stated itself", "0:4/4 1:3/4,0:4/4 1:3/4 2:3/4,0:4/4", ",,+1:3/4"},
	} {
		var marks []*PartMarks
		for _, own := range strings.Split(row.says, ",") {
			p := new(PartMarks)
			for _, word := range strings.Fields(own) {
				at, time, _ := strings.Cut(word, ":")
				bar, half := strings.CutSuffix(at, ".5")
				m := metre{says: strings.Trim(time, "()"), hidden: strings.HasPrefix(time, "(")}
				_, err := fmt.Sscan(bar, &m.Measure)
				require.NoError(t, err)
				if half {
					m.Onset = musicxml.NewFraction(1, 2)
				}
				p.metres = append(p.metres, m)
			}
			marks = append(marks, p)
		}
		var got []string
		for _, p := range joinMetres(marks, map[int]bool{9: true}) {
			var told []string
			for _, m := range p.add {
				told = append(told, fmt.Sprintf("+%d:%s", m.Measure, map[bool]string{true: "(" + m.says + ")", false: m.says}[m.hidden]))
			}
			for _, at := range p.show {
				told = append(told, fmt.Sprintf("!%d", at.Measure))
			}
			for _, at := range p.drop {
				told = append(told, fmt.Sprintf("-%d", at.Measure))
			}
			got = append(got, strings.Join(told, " "))
		}
		assert.Equal(t, row.want, strings.Join(got, ","), row.why)
	}
}

// Which marks are already there, in bars of four quarter notes: "bar@beat facet=key". Those at the
// very place are taken first, each once.
func TestMatcher(t *testing.T) {
	t.Parallel()
	var measures []survey.Measure
	for i := range int64(4) {
		measures = append(measures, survey.Measure{Start: musicxml.NewFraction(4*i, 1), Length: musicxml.NewFraction(4, 1)})
	}
	facets := map[string]facet{"w": saysWords, "m": saysMetronome, "r": saysRehearsal, "s": saysSegno, "t": saysTempo, "j": saysJump, "g": saysSwing, "h": saysHarmony, "o": saysOther}
	read := func(text string) (marks []mark) {
		for _, one := range strings.Split(text, ", ") {
			words := strings.Fields(one)
			var m mark
			var beat int64
			_, err := fmt.Sscanf(words[0], "%d@%d", &m.Measure, &beat)
			require.NoError(t, err)
			m.seen = musicxml.NewFraction(beat, 1)
			for _, word := range words[1:] {
				name, key, _ := strings.Cut(word, "=")
				m.says = append(m.says, saying{facet: facets[name], key: key})
			}
			marks = append(marks, m)
		}
		return marks
	}
	for _, row := range []struct {
		why, there, asked string
		missing           []facet
	}{
		{"here", "1@0 w=rit", "1@0 w=rit", []facet{0}}, {"elsewhere in the bar", "1@0 w=rit", "1@3 w=rit", []facet{0}}, {"another word", "1@0 w=rit", "1@0 w=accel", []facet{saysWords}}, {"fewer words here", "1@0 w=rit_e_dim", "1@0 w=rit", []facet{0}}, {"more words here", "1@0 w=rit", "1@0 w=rit_e_dim", []facet{0}},
		{"fewer words elsewhere", "1@0 w=rit_e_dim", "1@1 w=rit", []facet{saysWords}}, {"fewer letters here", "1@0 r=AA", "1@0 r=A", []facet{saysRehearsal}}, {"another facet", "1@0 r=A", "1@0 w=A", []facet{saysWords}},
		{"a beat behind the bar line", "2@0 w=rit", "1@3 w=rit", []facet{0}}, {"a beat before it", "1@3 w=rit", "2@0 w=rit", []facet{0}}, {"two beats", "1@2 w=rit", "2@0 w=rit", []facet{saysWords}}, {"two bars", "0@3 w=rit", "2@0 w=rit", []facet{saysWords}},
		{"another tempo here", "1@0 t=60", "1@0 t=90", []facet{0}}, {"another metronome mark here", "1@0 m=60", "1@0 m=90", []facet{0}}, {"another swing here", "1@0 g=a", "1@0 g=b", []facet{0}}, {"another chord here", "1@0 h", "1@0 h", []facet{0}}, {"another jump here", "1@0 j=fine", "1@0 j=coda", []facet{saysJump}},
		{"the same tempo in the bar", "1@0 t=60", "1@3 t=60", []facet{0}}, {"another tempo in the bar", "1@0 t=60", "1@3 t=90", []facet{saysTempo}}, {"a chord in the bar", "1@0 h", "1@3 h", []facet{saysHarmony}}, {"the same tempo a beat before the bar line", "1@3 t=60", "2@0 t=60", []facet{saysTempo}},
		{"the same jump in the bar", "1@0 j=fine", "1@3 j=fine", []facet{0}}, {"each once", "1@0 w=rit", "1@0 w=rit, 1@2 w=rit", []facet{0, saysWords}}, {"the very place first", "1@2 w=rit", "1@0 w=rit, 1@2 w=rit", []facet{saysWords, 0}},
		{"the nearest", "1@0 w=rit, 1@3 w=rit", "1@2 w=rit, 1@0 w=rit, 1@3 w=rit", []facet{saysWords, 0, 0}}, {"the nearer of two", "1@0 w=rit, 2@0 w=rit", "1@3 w=rit, 1@1 w=rit", []facet{0, 0}}, {"a part of it", "1@0 w=rit t=60", "1@0 w=rit m=60 t=60", []facet{saysMetronome}},
		{"each of two", "1@0 w=rit, 1@2 w=rit", "1@0 w=rit, 1@3 w=rit", []facet{0, 0}}, {"behind the piece", "5@0 w=rit", "5@0 w=rit", []facet{0}},
	} {
		assert.Equal(t, row.missing, newMatcher(read(row.there), measures).match(read(row.asked)), row.why)
	}
}

// What of a mark is left with some of its facets.
func TestOnly(t *testing.T) {
	t.Parallel()
	const words, dashes, letter = `<direction-type><words>rit.</words></direction-type>`, `<direction-type><dashes type="start"/></direction-type>`, `<direction-type><rehearsal>A</rehearsal></direction-type>`
	const sounds = `<sound tempo="60" coda="x" time-only="1"><swing><straight/></swing></sound>`
	m := mark{says: []saying{{facet: saysWords}, {facet: saysRehearsal}, {facet: saysTempo}, {facet: saysJump}, {facet: saysSwing}}, line: new(line),
		direction: document(t, `<direction>`+words+dashes+letter+`</direction>`).Root(), sound: document(t, sounds).Root()}
	for _, row := range []struct {
		kept             facet
		direction, sound string
		line             bool
	}{
		{saysWords | saysRehearsal | saysTempo | saysJump | saysSwing, words + dashes + letter, sounds, true}, {saysWords, words + dashes, "", true}, {saysRehearsal, letter, "", false},
		{saysTempo, "", `<sound tempo="60" time-only="1"/>`, false}, {saysJump, "", `<sound coda="x" time-only="1"/>`, false}, {saysSwing, "", `<sound time-only="1"><swing><straight/></swing></sound>`, false},
	} {
		kept := m.only(row.kept)
		assert.Equal(t, row.kept, kept.facets())
		assert.Equal(t, map[bool]string{true: "<direction/>", false: "<direction>" + row.direction + "</direction>"}[row.direction == ""], elementText(t, kept.direction))
		assert.Equal(t, row.line, kept.line != nil)
		if row.sound == "" {
			assert.Nil(t, kept.sound)
		} else {
			assert.Equal(t, row.sound, elementText(t, kept.sound))
		}
	}
	assert.Nil(t, mark{says: m.says, sound: m.sound}.only(saysTempo).direction)
	assert.Len(t, musicxml.Children(m.direction, "direction-type"), 3, "the mark itself stays")
}

// The parts that head the system: the first, the first of each group.
func TestGroupStarts(t *testing.T) {
	t.Parallel()
	const start, stop = `<part-group type="start"/>`, `<part-group type="stop"/>`
	part := func(id string) string { return `<score-part id="` + id + `"/>` }
	list := func(inner string) map[string]bool {
		return groupStarts(&musicxml.Score{Header: document(t, `<score-partwise>`+inner+`</score-partwise>`)})
	}
	assert.Equal(t, map[string]bool{"A": false, "B": true, "C": false, "D": true, "E": false},
		list(`<part-list>`+part("A")+start+part("B")+stop+part("C")+start+start+part("D")+part("E")+stop+stop+`</part-list>`))
	assert.Empty(t, list(""))
}

// Numbers of lines that are free: not those of the part's own of that kind, nor one given out
// before; 16 at the end (MusicXML 4.0, number-level).
func TestNumbersOfLines(t *testing.T) {
	t.Parallel()
	own := func(inner string) string {
		return `<direction><direction-type><words>x</words></direction-type><direction-type>` + inner + `</direction-type></direction>`
	}
	part := document(t, `<part><measure>`+own(`<dashes type="start"/>`)+own(`<dashes type="stop"/>`)+`</measure><measure>`+own(`<bracket type="start" number="2"/>`)+own(`<wedge type="crescendo" number="3"/>`)+`</measure></part>`).Root()
	p := &placer{numbers: lineNumbers(part)}
	assert.Equal(t, map[string]bool{"dashes1": true, "bracket2": true}, p.numbers)
	assert.Equal(t, []string{"2", "3", "1", "3"}, []string{p.freeNumber("dashes"), p.freeNumber("dashes"), p.freeNumber("bracket"), p.freeNumber("bracket")})
	for n := 4; n < 16; n++ {
		assert.Equal(t, fmt.Sprint(n), p.freeNumber("dashes"))
	}
	assert.Equal(t, "16", p.freeNumber("dashes"))
	assert.Equal(t, "16", p.freeNumber("dashes"))
}
