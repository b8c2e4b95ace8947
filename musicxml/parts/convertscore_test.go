package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// A part of a score in concert pitch and in written pitch (trade/transpositions.csv: a
// clarinet in B flat reads C as D, one in A as E flat). A concert score says in <for-part> how
// the player reads; a part that stood at sounding pitch without a word is marked, unless the
// score says that it is in concert pitch; octaves stay (MusicXML 4.0, concert-score, for-part).
func TestScoresConverted(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, name, music string
		input, to        parts.Input
		want             string   // notes
		forParts         []string // bar, staff and interval
		atSound          bool
	}{
		{"a clarinet, written", "Clarinet in Bb", "[key 2] [clef G 2] [transpose -1 -2] D5:h E5:h | F#5:w", parts.Auto, parts.Concert, "C5:h D5:h | E5:w", []string{"1 -1 -2"}, false},
		{"a clarinet at sounding pitch", "Clarinet in Bb", "[key 0] [clef G 2] C5:h D5:h | E5:w", parts.Concert, parts.Concert, "C5:h D5:h | E5:w", []string{"1 -1 -2"}, true},
		{"a clarinet as its player reads it", "Clarinet in Bb", "[key 2] [clef G 2] D5:h E5:h | F#5:w", parts.Written, parts.Concert, "C5:h D5:h | E5:w", []string{"1 -1 -2"}, false},
		{"a change at sounding pitch", "Clarinet in Bb", `[key 0] [clef G 2] C5:w | "muta in A" R | C5:w`, parts.Concert, parts.Concert, `C5:w | "muta in A" R | C5:w`, []string{"1 -1 -2", "3 -2 -3"}, true},
		{"a change to one that transposes", "Flute", `[key 0] [clef G 2] C5:w | "to Alto Flute" R | C5:w`, parts.Concert, parts.Concert, `C5:w | "to Alto Flute" R | C5:w`, []string{"1 0 0", "3 -3 -5"}, true},
		{"a grace note before the change", "Clarinet in Bb", "[key 0] [clef G 2] [for -1 -2] C5:h g!D5:e [for -2 -3] C5:h", parts.Auto, parts.Written, "D5:h g!E5:e Eb5:h", nil, false},
		{"a grace note between key and change", "Clarinet in Bb", "[key 0] [clef G 2] [transpose -1 -2] C5:h [key 1] g!D5:e [transpose -2 -3] C5:h", parts.Auto, parts.Concert, "Bb4:h g!C5:e A4:h", []string{"1 -1 -2", "1 -2 -3"}, false},
		{"and on the way back", "Clarinet in Bb", "[key -2] [clef G 2] [for -1 -2] Bb4:h [key -1] g!C5:e [key 4] [for -2 -3] A4:h", parts.Auto, parts.Written, "C5:h g!D5:e C5:h", nil, false},
		{"grace notes between two changes", "Clarinet in Bb", "[key 0] [clef G 2] [transpose -1 -2] C5:h g!D5:e [transpose -2 -3] g!D5:e [transpose -4 -7] C5:h", parts.Auto, parts.Concert, "Bb4:h g!C5:e g!B4:e F4:h", []string{"1 -1 -2", "1 -2 -3", "1 -4 -7"}, false},
		{"a flute", "Flute", "[key 0] [clef G 2] C5:w", parts.Concert, parts.Concert, "C5:w", nil, false},
		{"a double bass that says its octave", "Double Bass", "[key 0] [clef F 4] [transpose 0 0 -1] E3:w", parts.Auto, parts.Concert, "E3:w", nil, false},
		{"a concert score that says its parts", "Clarinet in Bb", "[key 0] [clef G 2] [for -1 -2] C5:h D5:h | E5:w", parts.Auto, parts.Written, "D5:h E5:h | F#5:w", nil, false},
		{"one that is told by the name", "Clarinet in Bb", "[key 0] [clef G 2] C5:h D5:h | E5:w", parts.Concert, parts.Written, "D5:h E5:h | F#5:w", nil, false},
		{"with a change", "Clarinet in Bb", `[key 0] [clef G 2] C5:w | "muta in A" R | C5:w`, parts.Concert, parts.Written, `D5:w | "muta in A" R | Eb5:w`, nil, false},
		{"a part that nobody knows", "Quayphone", "[key 0] [clef G 2] C5:w", parts.Concert, parts.Written, "C5:w", nil, false},
	} {
		score, err := musicxml.Read(shorthand.Score(t, shorthand.Entry{Name: row.name, Music: row.music}), musicxml.ReadOptions{})
		require.NoError(t, err)
		surveyed := partstest.Survey(t, score, plain(row.input))
		made, err := surveyed.Convert(nil, 0, row.to)
		require.NoError(t, err)
		assert.Equal(t, row.want, shorthand.Read(made.Part), row.why)
		var forParts []string
		for _, e := range made.Part.FindElements("//for-part") {
			by := e.SelectElement("part-transpose")
			forParts = append(forParts, strings.Join([]string{e.Parent().Parent().SelectAttrValue("number", ""), musicxml.ChildText(by, "diatonic"), musicxml.ChildText(by, "chromatic")}, " "))
		}
		assert.Equal(t, row.forParts, forParts, row.why)
		assert.Equal(t, row.atSound, made.Report.AtSound, row.why)
		assert.Equal(t, strings.Count(row.want, ":"), made.Report.Notes, row.why)
	}
}
