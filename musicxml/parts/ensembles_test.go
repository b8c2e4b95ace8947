package parts_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// TestEnsemblesAsScores makes the parts of the whole ensembles of
// testdata/ensembles.csv out of scores in concert pitch: every part is transposed as
// its source or common practice has it, or asked about where the row allows that. A
// plain octave stays as the score in C has it (newhouse-c).
func TestEnsemblesAsScores(t *testing.T) {
	t.Parallel()
	rows := musicxmltest.ReadTable(t, "../../testdata/ensembles.csv")
	for len(rows) > 0 {
		n := slices.IndexFunc(rows, func(r map[string]string) bool { return r["ensemble"] != rows[0]["ensemble"] })
		if n < 0 {
			n = len(rows)
		}
		ensemble := rows[:n]
		rows = rows[n:]
		t.Run(ensemble[0]["ensemble"], func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.Read([]byte(ensembleScore(ensemble)), musicxml.ReadOptions{})
			require.NoError(t, err)
			assigned := assignScore(t, score, plain(parts.Concert))
			require.Len(t, assigned, len(ensemble))
			for i, s := range makeSheets(t, score, plain(parts.Concert)) {
				checkEnsemblePart(t, ensemble[i], assigned[i], s)
			}
		})
	}
}

func checkEnsemblePart(t *testing.T, row map[string]string, a parts.Assignment, s *parts.Part) {
	t.Helper()
	want, err := strconv.Atoi(row["semitones"])
	require.NoError(t, err)
	if want%12 == 0 {
		want = 0
	}
	asked := false
	for _, w := range a.Warnings {
		asked = asked || w.Code == notice.WhichInstrument || w.Code == notice.UnrecognisedPart
	}
	where := fmt.Sprintf("%s (%s): %v", row["part"], row["source"], a.Warnings)
	assert.Equal(t, row["asked"] == "yes", asked, where)
	if !asked {
		assert.Equal(t, want, s.Report.Transpose.Interval().Chromatic, where)
	}
}

// ensembleScore writes a score in concert pitch: a bar in the middle of each staff, with
// a syllable where somebody sings.
func ensembleScore(rows []map[string]string) string {
	var list, music strings.Builder
	for i, row := range rows {
		entry := fmt.Sprintf(`<score-part id="P%d"><part-name>%s</part-name></score-part>`, i+1, row["part"])
		group := row["group"]
		if group != "" && (i == 0 || rows[i-1]["group"] != group) {
			entry = fmt.Sprintf(`<part-group type="start" number="1"><group-name>%s</group-name></part-group>`, group) + entry
		}
		if group != "" && (i == len(rows)-1 || rows[i+1]["group"] != group) {
			entry += `<part-group type="stop" number="1"/>`
		}
		list.WriteString(entry)
		fmt.Fprintf(&music, `<part id="P%d"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>%s</attributes>%s</measure></part>`,
			i+1, ensembleClefs[row["clef"]], ensembleNote(row))
	}
	return `<score-partwise version="4.0"><defaults><concert-score/></defaults><part-list>` + list.String() + `</part-list>` + music.String() + `</score-partwise>`
}

var ensembleClefs = map[string]string{
	"treble": `<clef><sign>G</sign><line>2</line></clef>`, "treble-8vb": `<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`,
	"alto": `<clef><sign>C</sign><line>3</line></clef>`, "tenor": `<clef><sign>C</sign><line>4</line></clef>`,
	"bass": `<clef><sign>F</sign><line>4</line></clef>`, "percussion": `<clef><sign>percussion</sign></clef>`,
}

func ensembleNote(row map[string]string) string {
	syllable := ""
	if row["sung"] == "yes" {
		syllable = `<lyric><text>la</text></lyric>`
	}
	at := map[string]string{"treble": "G4", "treble-8vb": "G3", "alto": "C4", "tenor": "A3", "bass": "C3"}[row["clef"]]
	what := `<unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched>`
	if at != "" {
		what = fmt.Sprintf(`<pitch><step>%s</step><octave>%s</octave></pitch>`, at[:1], at[1:])
	}
	return `<note>` + what + `<duration>4</duration><voice>1</voice><type>whole</type>` + syllable + `</note>`
}
