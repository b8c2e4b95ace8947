package pitch_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// The published tables of the trade: what a written C sounds on each instrument,
// and worked examples from textbooks and scores.

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

func spelled(t testing.TB, text string) pitch.Pitch {
	t.Helper()
	p, err := pitch.Parse(text)
	require.NoError(t, err)
	return p
}

// soundingOf is what a row adds to written pitch: the columns of MusicXML's
// <transpose>, octaves folded in.
func soundingOf(t *testing.T, row map[string]string) pitch.Interval {
	t.Helper()
	return pitch.Interval{
		Diatonic:  number(t, row["diatonic_steps"]) + 7*number(t, row["octave_change"]),
		Chromatic: number(t, row["chromatic_semitones"]) + 12*number(t, row["octave_change"]),
	}
}

func TestWrittenCSoundsAsPublished(t *testing.T) {
	t.Parallel()
	c4 := pitch.Pitch{Step: pitch.C, Octave: 4}
	for _, row := range musicxmltest.TradeTable(t, "transpositions.csv") {
		source := row["instrument"] + " [" + row["source"] + ", " + row["confidence"] + "]"
		sounds := spelled(t, row["written_C4_sounds"])
		by := soundingOf(t, row)
		assert.Equal(t, sounds, by.Apply(c4), source)
		assert.Equal(t, c4, by.Negate().Apply(sounds), source)
		between, whole := pitch.Between(c4, sounds)
		assert.True(t, whole, source)
		assert.Equal(t, by, between, source)
		assert.Equal(t, row["interval_name"], tableName(by), source)
		if row["direction"] != "none" {
			assert.True(t, strings.HasSuffix(by.String(), " "+row["direction"]), source)
		}
	}
}

// tableName is the name as the table has it, which says "perfect octave".
func tableName(i pitch.Interval) string {
	if name := i.Name(); name != "octave" {
		return name
	}
	return "perfect octave"
}

// plainMove finds the interval in words such as "(no instrument: plain
// transposition) minor third down".
var plainMove = regexp.MustCompile(`^\(no instrument: plain transposition\) (.*)$`)

func TestWorkedExamples(t *testing.T) {
	t.Parallel()
	byInstrument := map[string]pitch.Interval{}
	for _, row := range musicxmltest.TradeTable(t, "transpositions.csv") {
		byInstrument[row["instrument"]] = soundingOf(t, row)
	}
	for _, row := range musicxmltest.TradeTable(t, "worked-examples.csv") {
		t.Run(row["example_id"], func(t *testing.T) {
			t.Parallel()
			where := row["example_id"] + " [" + row["source"] + ", " + row["confidence"] + "]: " + row["note"]
			var by pitch.Interval
			if m := plainMove.FindStringSubmatch(row["instrument"]); m != nil {
				var err error
				by, err = pitch.ParseInterval(m[1])
				require.NoError(t, err, where)
			} else {
				sounds, known := byInstrument[row["instrument"]]
				require.True(t, known, "%s plays %q", where, row["instrument"])
				by = sounds // from written to sounding
				if row["given"] == "sounding" {
					by = by.Negate()
				}
			}
			if strings.HasPrefix(row["note"], "respelled") || strings.Contains(row["note"], "; respelled") {
				by = respelledTowards(t, by, row, where)
			}
			assertWorked(t, row, by, where)
		})
	}
}

// respelledTowards takes the interval one diminished second away, as the
// published example does, and checks that the limit of six signs asks for it.
func respelledTowards(t *testing.T, by pitch.Interval, row map[string]string, where string) pitch.Interval {
	t.Helper()
	exact := number(t, row["key_given"]) + by.Fifths()
	assert.Greater(t, max(exact, -exact), 6, "%s: the exact key would pass six signs", where)
	assert.Equal(t, number(t, row["key_answer"]), pitch.Twin(exact), where)
	step := 1
	if exact < 0 {
		step = -1
	}
	return by.Add(pitch.Interval{Diatonic: step})
}

func assertWorked(t *testing.T, row map[string]string, by pitch.Interval, where string) {
	t.Helper()
	given, answer := strings.Fields(row["melody_given"]), strings.Fields(row["melody_answer"])
	require.Len(t, answer, len(given), where)
	for i := range given {
		from, to := spelled(t, given[i]), spelled(t, answer[i])
		assert.Equal(t, to.String(), by.Apply(from).String(), "note %d of %s", i+1, where)
		assert.Equal(t, from.String(), by.Negate().Apply(to).String(), "note %d back of %s", i+1, where)
	}
	if row["key_given"] != "" && row["key_answer"] != "" {
		from, to := number(t, row["key_given"]), number(t, row["key_answer"])
		assert.Equal(t, to, from+by.Fifths(), "key of %s", where)
		assert.Equal(t, from, to+by.Negate().Fifths(), "key back of %s", where)
	}
}
