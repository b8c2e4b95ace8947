package instruments_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// TestRecognition asks every row of two tables, whose expected values were written by hand;
// the column why names the source or the reason. That of inscore.csv has what stands in a
// score about a part and the names of the others in their order ("_" is the part's place).
func TestRecognition(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	rows := musicxmltest.ReadTable(t, "testdata/recognition.csv")
	inScore := musicxmltest.ReadTable(t, "testdata/inscore.csv")
	assert.GreaterOrEqual(t, len(rows), 200)
	assert.GreaterOrEqual(t, len(inScore), 150)
	for _, row := range append(rows, inScore...) {
		require.NotEmpty(t, row["why"])
		score, at := scoreOf(t, row)
		m := c.MatchScore(score)[at]
		assert.Equal(t, row["instrument"], idOf(m.Instrument), "%s; %s", row, m.Why)
		assert.Equal(t, row["by"], m.By, "%s; %s", row, m.Why)
		assert.Equal(t, row["number"], m.Number, row)
		assert.Equal(t, row["doubles"], idsOf(m.Doubles), row)
		assert.Equal(t, row["assumed"] == "yes", m.Assumed, "%s; %s", row, m.Why)
		if asked, ok := row["asked"]; ok {
			assert.Equal(t, asked == "yes", m.Question != "", "%s; %s", row, m.Question)
		}
		assert.NotEmpty(t, m.Why, row)
	}
}

func idOf(i *instruments.Instrument) string {
	if i == nil {
		return "none"
	}
	return i.ID
}

func idsOf(list []*instruments.Instrument) string {
	var ids []string
	for _, i := range list {
		ids = append(ids, i.ID)
	}
	return strings.Join(ids, ",")
}

// scoreOf puts a row's part among the others.
func scoreOf(t *testing.T, row map[string]string) (score []instruments.Query, at int) {
	t.Helper()
	q := instruments.Query{Name: row["name"], Display: row["display"], Abbreviation: row["abbreviation"],
		Sound: row["sound"], Language: pitch.Language(row["language"]), Music: musicOf(t, row)}
	q.Program, _ = strconv.Atoi(row["program"])
	if row["instrument_name"] != "" {
		q.InstrumentNames = []string{row["instrument_name"]}
	}
	q.Groups = cells(row["group"])
	others := cells(row["others"])
	if at = slices.Index(others, "_"); at < 0 {
		others, at = append([]string{"_"}, others...), 0
	}
	for _, name := range others {
		score = append(score, instruments.Query{Name: name})
	}
	score[at] = q
	return score, at
}

// musicOf are notes that every instrument of the table has, nil where the row says
// nothing of them.
func musicOf(t *testing.T, row map[string]string) *instruments.Music {
	t.Helper()
	if row["clef"] == "" && row["lyrics"] == "" {
		return nil
	}
	clef, ok := instruments.ParseClef(row["clef"])
	require.True(t, ok || row["clef"] == "", row["clef"])
	return &instruments.Music{Clef: clef, Lyrics: row["lyrics"] == "yes", Pitches: &[128]int{60: 4}}
}

func cells(cell string) []string {
	return strings.FieldsFunc(cell, func(r rune) bool { return r == ';' })
}
