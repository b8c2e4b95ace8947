package instruments_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// TestTradeTranspositions holds every row of the trade's table against the
// instruments that testdata/transpositions.csv names for it.
func TestTradeTranspositions(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	ids := map[string][]string{}
	for _, row := range musicxmltest.ReadTable(t, "testdata/transpositions.csv") {
		ids[row["row"]] = append(ids[row["row"]], row["id"])
	}
	for _, row := range musicxmltest.TradeTable(t, "transpositions.csv") {
		t.Run(row["instrument"], func(t *testing.T) {
			require.NotEmpty(t, ids[row["instrument"]], "a row of the trade without an instrument")
			for _, id := range ids[row["instrument"]] {
				i := c.ByID(id)
				require.NotNil(t, i, id)
				assert.Equal(t, row["written_C4_sounds"], i.WrittenC().String(), row["source"])
				assert.Equal(t, number(t, row["diatonic_steps"]), i.Diatonic, row["source"])
				assert.Equal(t, number(t, row["chromatic_semitones"]), i.Chromatic, row["source"])
				assert.Equal(t, number(t, row["octave_change"]), i.OctaveChange, row["source"])
				assert.Equal(t, described(row), i.Describe("en"))
				assert.Equal(t, row["confidence"], i.Confidence)
				checkClefs(t, row["usual_clefs"], i)
			}
		})
	}
}

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

// described words a row as the catalogue should.
func described(row map[string]string) string {
	if row["direction"] == "none" {
		return "sounds as written"
	}
	interval, direction := "a "+row["interval_name"], "lower"
	if row["direction"] == "up" {
		direction = "higher"
	}
	interval = strings.ReplaceAll(interval, "a perfect octave", "an octave")
	interval = regexp.MustCompile(`^a (two|three) `).ReplaceAllString(interval, "$1 ")
	return "sounds " + interval + " " + direction + " than written"
}

// checkClefs wants each clef of the trade's row among the instrument's, but for a
// row that stands for several voices.
func checkClefs(t *testing.T, usual string, i *instruments.Instrument) {
	t.Helper()
	if i.Group == "voice" {
		return
	}
	var names []string
	for _, clef := range i.Clefs {
		names = append(names, clef.Name())
	}
	wanted := strings.FieldsFunc(strings.ReplaceAll(usual, " and ", ";"), func(r rune) bool { return r == ';' || r == ' ' })
	for _, clef := range wanted {
		assert.Contains(t, names, clef)
	}
	assert.Equal(t, wanted[0], names[0], "the part's usual clef")
}

var inBrackets = regexp.MustCompile(`\s*\([^)]*\)`)

// TestTradeRanges wants every compass that the trade's table gives within the
// catalogue's full one, and every school range as the catalogue has it.
func TestTradeRanges(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.TradeTable(t, "ranges.csv") {
		name := row["instrument"]
		if strings.Contains(name, "top note") || strings.Contains(name, "tenor-bass") {
			continue // single notes; an instrument with an extra valve, named in the note of the trombone
		}
		t.Run(name+" "+row["source"], func(t *testing.T) {
			named := tradeInstruments(c, name)
			require.NotEmpty(t, named)
			for _, i := range named {
				if row["kind"] == string(instruments.School) {
					checkSchool(t, i, name, row)
					continue
				}
				r, ok := i.Range(instruments.Professional)
				require.True(t, ok)
				low, high := shorthand.Pitch(t, row["low_written"]), shorthand.Pitch(t, row["high_written"])
				assert.True(t, r.Written.Contains(low.NoteNumber()), "%s: %v below %v", i.ID, low, r.Written.Low)
				assert.True(t, r.Written.Contains(high.NoteNumber()), "%s: %v above %v", i.ID, high, r.Written.High)
				sounding := shorthand.Pitch(t, row["low_sounding"])
				assert.True(t, r.Sounding.Contains(sounding.NoteNumber()), "%s: %v sounding", i.ID, sounding)
			}
		})
	}
}

// tradeInstruments recognises the instruments of a row of the table of ranges.
func tradeInstruments(c *instruments.Catalogue, name string) []*instruments.Instrument {
	switch {
	case strings.HasPrefix(name, "Trombone and baritone"):
		return []*instruments.Instrument{c.ByID("trombone"), c.ByID("baritone-horn")}
	case strings.HasPrefix(name, "Baritone in Bb, treble clef"):
		return []*instruments.Instrument{c.ByID("baritone-horn-bflat-treble")}
	case strings.HasPrefix(name, "Euphonium in Bb, treble clef"):
		return []*instruments.Instrument{c.ByID("euphonium-bflat-treble")}
	}
	m := c.Match(instruments.Query{Name: inBrackets.ReplaceAllString(name, "")})
	if m.Instrument == nil {
		return nil
	}
	return []*instruments.Instrument{m.Instrument}
}

// checkSchool wants a school range as it is, or named in the note where two sources
// give the same grade.
func checkSchool(t *testing.T, i *instruments.Instrument, name string, row map[string]string) {
	t.Helper()
	grade := regexp.MustCompile(`grade ([0-9.]+)`).FindStringSubmatch(name)[1]
	at := slices.IndexFunc(i.Ranges(), func(r instruments.Range) bool {
		return r.Level == instruments.School && r.Grade == grade
	})
	require.GreaterOrEqual(t, at, 0, "%s has no school range of grade %s", i.ID, grade)
	r := i.Ranges()[at]
	if strings.Contains(r.Note, row["source"]) {
		return
	}
	if i.ID == "trombone" && row["source"] == "nemusicpub" {
		assert.Contains(t, r.Note+r.Source, "nemusicpub")
	}
	assert.Equal(t, row["low_written"], r.Written.Low.String())
	assert.Equal(t, row["high_written"], r.Written.High.String())
	assert.Equal(t, row["low_sounding"], r.Sounding.Low.String())
}

// TestTradeNames wants every name and abbreviation of the trade's table recognised
// as the instrument of its row, or, where a word has two meanings, the other one
// said to be assumed and this one among the alternatives.
func TestTradeNames(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.TradeTable(t, "instrument-names.csv") {
		if row["instrument_en"] == "note C" {
			break // from here on the table has words, not instruments
		}
		wanted := c.Match(instruments.Query{Name: row["instrument_en"]}).Instrument
		require.NotNil(t, wanted, row["instrument_en"])
		for _, column := range []string{"instrument_en", "abbreviation_en", "de", "fr", "it", "es"} {
			for name := range strings.SplitSeq(row[column], "; ") {
				if name == "" || name == "Basstuba" {
					continue // Basstuba for a Wagner tuba: one composer's usage, the word is the tuba's
				}
				m := c.Match(instruments.Query{Name: name})
				require.NotNil(t, m.Instrument, name)
				if m.Instrument != wanted {
					assert.True(t, m.Assumed, "%s as %s", name, m.Instrument.ID)
					assert.Contains(t, append(m.Alternatives, m.Instrument), wanted, "%s as %s", name, m.Instrument.ID)
				}
			}
		}
	}
}
