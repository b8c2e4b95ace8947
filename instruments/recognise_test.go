package instruments_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

// TestRecognition asks every row of testdata/recognition.csv, whose expected values
// were written by hand; the column why names the source or the reason.
func TestRecognition(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	rows := musicxmltest.ReadTable(t, "testdata/recognition.csv")
	assert.GreaterOrEqual(t, len(rows), 200)
	for _, row := range rows {
		name := row["name"] + " " + row["abbreviation"] + " " + row["sound"]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			require.NotEmpty(t, row["why"])
			m := c.Match(instruments.Query{Name: row["name"], Abbreviation: row["abbreviation"], Sound: row["sound"]})
			assert.Equal(t, row["instrument"], idOf(m.Instrument), row["why"])
			assert.Equal(t, row["by"], m.By, m.Why)
			assert.Equal(t, row["number"], m.Number)
			assert.Equal(t, row["doubles"], idsOf(m.Doubles))
			assert.Equal(t, row["assumed"] == "yes", m.Assumed, m.Why)
			assert.NotEmpty(t, m.Why)
		})
	}
}

// TestNamesOfManyLanguages: the names that the annotations of CLDR 48 (Unicode's Common
// Locale Data Repository) have in fifteen languages.
func TestNamesOfManyLanguages(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.ReadTable(t, "testdata/cldr.csv") {
		m := c.Match(instruments.Query{Name: row["name"]})
		if assert.NotNil(t, m.Instrument, "%s %s", row["language"], row["name"]) {
			assert.Equal(t, row["kind"], m.Instrument.Kind, "%s %s", row["language"], row["name"])
		}
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
