package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// A small score in 4/4 with one division a quarter note, made of measures' inner
// text, for tests of one thing.
const (
	whole    = `<note><pitch><step>B</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>`
	half     = `<note><pitch><step>B</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type></note>`
	quarter  = `<note><pitch><step>B</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type></note>`
	wholeBar = `<note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>`
	opening  = `<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>`
)

// words is a direction over the staff.
func words(text string) string {
	return `<direction placement="above"><direction-type><words>` + text + `</words></direction-type></direction>`
}

// direction is a direction with attributes, of direction types, before any sound.
func direction(attributes, types, rest string) string {
	return `<direction ` + attributes + `>` + types + rest + `</direction>`
}

func dtype(inner string) string { return `<direction-type>` + inner + `</direction-type>` }

// miniPart is a part of a small score: its name and its measures, the first of which
// begins with opening unless it has attributes.
type miniPart struct {
	name     string
	measures []string
}

// miniScore reads a small score.
func miniScore(t *testing.T, list ...miniPart) *musicxml.Score {
	t.Helper()
	return scoreFrom(t, miniText(list...))
}

// scoreFrom reads a score.
func scoreFrom(t testing.TB, text string) *musicxml.Score {
	t.Helper()
	return scoreIn(t, []byte(text))
}

// miniText writes a small score.
func miniText(list ...miniPart) string {
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list>`)
	for i, p := range list {
		fmt.Fprintf(&b, `<score-part id="P%d"><part-name>%s</part-name></score-part>`, i+1, p.name)
	}
	b.WriteString(`</part-list>`)
	for i, p := range list {
		fmt.Fprintf(&b, `<part id="P%d">`, i+1)
		for k, m := range p.measures {
			if k == 0 && !strings.Contains(m, "<attributes>") {
				m = opening + m
			}
			fmt.Fprintf(&b, `<measure number="%d">%s</measure>`, k+1, m)
		}
		b.WriteString(`</part>`)
	}
	b.WriteString(`</score-partwise>`)
	return b.String()
}

// makeMini makes one part of a small score, counted from 0.
func makeMini(t *testing.T, score *musicxml.Score, part int, o parts.Options) *parts.Part {
	t.Helper()
	job := partstest.Job(t, score, o)
	sheet, err := job.Make(part)
	require.NoError(t, err)
	return sheet
}

// patterned writes bars: x for each that sounds, . for each of rest; : and ; are the same
// with a repeat at their end.
func patterned(pattern, sounding string) []string {
	const back = `<barline location="right"><repeat direction="backward"/></barline>`
	var bars []string
	for _, c := range pattern {
		bars = append(bars, map[rune]string{'x': sounding, '.': wholeBar, ':': sounding + back, ';': wholeBar + back}[c])
	}
	return bars
}
