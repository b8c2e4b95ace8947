package parts_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
)

// music writes a <part> without sharps or flats from the shorthand.
func music(t testing.TB, text string) string {
	t.Helper()
	part := shorthand.Part(t, "[key 0] "+text)
	part.CreateAttr("id", "P1")
	return string(musicxml.AppendPart(nil, part, musicxml.WriteOptions{}))
}

// scoreOf makes a score of one part of that name.
func scoreOf(t testing.TB, name, partXML string, defaults ...string) *musicxml.Score {
	t.Helper()
	return scoreFrom(t, `<score-partwise version="4.0">`+strings.Join(defaults, "")+
		`<part-list><score-part id="P1"><part-name>`+name+`</part-name></score-part></part-list>`+partXML+`</score-partwise>`)
}

// handedTo makes the part for an instrument of the catalogue; "" leaves it to the
// part's name.
func handedTo(t testing.TB, score *musicxml.Score, instrument, clef string) madePart {
	t.Helper()
	o := parts.DefaultOptions()
	o.RestBars = 0
	if instrument != "" || clef != "" {
		o.Plan = []parts.PlanRow{{Part: "P1", Instrument: instrument, Clef: clef}}
	}
	made := makePartsOf(t, score, o)
	require.Len(t, made, 1)
	return made[0]
}

// ownPart makes the part of the player whose music it is.
func ownPart(t testing.TB, name, text string) madePart {
	t.Helper()
	return handedTo(t, scoreOf(t, name, music(t, text)), "", "")
}

// warned lists the warnings of a code as "measure:beat".
func warned(m madePart, code string) []string {
	var places []string
	for _, w := range m.sheet.Report.Warnings {
		if string(w.Code) == code {
			places = append(places, w.Measure+":"+w.Beat)
		}
	}
	return places
}

// stemsOf lists the stems of a part's notes in document order, rests left out.
func stemsOf(part *etree.Element) []string {
	var stems []string
	for _, measure := range part.SelectElements("measure") {
		for _, note := range measure.SelectElements("note") {
			if note.SelectElement("rest") == nil {
				stems = append(stems, musicxml.ChildText(note, "stem"))
			}
		}
	}
	return stems
}
