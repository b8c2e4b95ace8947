package lecture_test

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/lecture"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/transpose/pitch"
)

// english makes a lecture in English.
func english(t *testing.T, q lecture.Question) *lecture.Lecture {
	t.Helper()
	x := textstest.In(t, pitch.English)
	l, err := lecture.Make(instrumentstest.Load(t), q, x)
	require.NoError(t, err)
	return l
}

// step finds a step by what it is about.
func step(t *testing.T, l *lecture.Lecture, about string) *lecture.Step {
	t.Helper()
	for _, s := range l.Steps {
		if s.About == about {
			return s
		}
	}
	require.Fail(t, "no step", about)
	return nil
}

// TestEveryTopicInEveryLanguage: nothing is left open, every table is square, and the
// same lecture gives the same page.
func TestEveryTopicInEveryLanguage(t *testing.T) {
	t.Parallel()
	for _, language := range pitch.Languages() {
		x := textstest.In(t, language)
		for _, topic := range exercise.Topics() {
			t.Run(string(language)+"/"+string(topic), func(t *testing.T) {
				t.Parallel()
				l, err := lecture.Make(instrumentstest.Load(t), lecture.Question{Topic: topic}, x)
				require.NoError(t, err)
				var text bytes.Buffer
				require.NoError(t, l.WriteText(&text))
				assert.NotRegexp(t, `[{}\[\]]|\.\.|%!`, text.String())
				for _, s := range l.Steps {
					assert.NotEmpty(t, s.Title)
					if s.Table == nil {
						continue
					}
					for _, row := range s.Table.Rows {
						assert.Len(t, row, len(s.Table.Head), s.Title)
					}
				}
				page, err := l.Page()
				require.NoError(t, err)
				again, err := l.Page()
				require.NoError(t, err)
				assert.True(t, bytes.Equal(page, again))
			})
		}
	}
}

// TestSightRule tries the rule of reading at sight on every instrument that it is for:
// every note with every sign, read in the imagined clef by the rule, is what sounds.
func TestSightRule(t *testing.T) {
	t.Parallel()
	tried := 0
	for _, i := range instrumentstest.Load(t).All() {
		if len(i.Clefs) == 0 || i.Flags.Unpitched || i.Interval().Diatonic%7 == 0 {
			continue
		}
		l := english(t, lecture.Question{Topic: exercise.Sight, Instrument: i})
		rule := step(t, l, "signs").Text[0]
		_, list, found := strings.Cut(rule, "says: ")
		require.True(t, found, rule)
		list, _, _ = strings.Cut(list, ".")
		more := -1
		if strings.Contains(rule, "semitone more") {
			more = 1
		}
		imagined := exercise.ImaginedClef(i.Clefs[0], i.Interval())
		for place := 14; place < 42; place++ {
			for sign := -1; sign <= 1; sign++ {
				written := pitch.At(place)
				written.Alter = pitch.Semitones(sign)
				read := pitch.At(place - explain.MiddleLine(i.Clefs[0]) + explain.MiddleLine(imagined))
				read.Alter = pitch.Semitones(sign)
				if strings.Contains(list, read.Step.String()) {
					read.Alter += pitch.Semitones(more)
				}
				require.Equal(t, i.Interval().Apply(written), read, "%s: %s", i.ID, written)
				tried++
			}
		}
	}
	t.Logf("%d notes read at sight", tried)
	assert.Greater(t, tried, 5000)
}

// TestKeysOfBands counts again which concert key is the kindest.
func TestKeysOfBands(t *testing.T) {
	t.Parallel()
	for _, band := range [][]string{nil, {"clarinet-bflat"}, {"flute", "alto-saxophone-eflat"}, {"violin", "horn-f", "clarinet-a"}} {
		var players []*instruments.Instrument
		for _, id := range band {
			players = append(players, instrumentstest.Load(t).ByID(id))
		}
		l := english(t, lecture.Question{Topic: exercise.BandKey, Band: players})
		if len(players) == 0 {
			players = exercise.WontedBand(instrumentstest.Load(t))
		}
		least := 99
		for _, row := range step(t, l, "weighed").Table.Rows {
			key, err := pitch.ParseKey(strings.ReplaceAll(row[0], "♭", "b"))
			require.NoError(t, err, row[0])
			most := 0
			for _, i := range players {
				written := key.Fifths - (7*i.Interval().Chromatic - 12*i.Interval().Diatonic)
				most = max(most, min(pitch.Abs(written), 12-pitch.Abs(written)))
			}
			assert.Equal(t, strconv.Itoa(most), row[len(row)-1], row[0])
			least = min(least, most)
		}
		assert.Contains(t, step(t, l, "best").Text[0], " more than "+strconv.Itoa(least)+" ")
	}
}

// TestKnownFacts holds the tables against what textbooks say (trade/teaching.md,
// section 5; transpositions.csv).
func TestKnownFacts(t *testing.T) {
	t.Parallel()
	moves := map[string]string{}
	for _, row := range step(t, english(t, lecture.Question{Topic: exercise.IntervalTopic}), "key").Table.Rows {
		moves[row[0]] = row[1]
	}
	assert.Contains(t, moves["major second"], "2 sharps more")
	assert.Contains(t, moves["perfect fifth"], "1 sharp more")
	assert.Contains(t, moves["major sixth"], "3 sharps more")
	assert.Contains(t, moves["minor third"], "3 flats more")
	crooks := step(t, english(t, lecture.Question{Topic: exercise.Transposition}), "crooks").Table.Rows
	before := 0.0
	for _, row := range crooks {
		length, err := strconv.ParseFloat(regexp.MustCompile(`[\d.]+`).FindString(row[3]), 64)
		require.NoError(t, err)
		assert.Greater(t, length, before, "%s: lower is longer", row[0])
		before = length
	}
	assert.Equal(t, []string{"Horn in F", "F4", "a perfect fifth lower", "4.0 m"}, crooks[3])
	scale := step(t, english(t, lecture.Question{Topic: exercise.ConcertScale}), "scale").Table.Rows
	assert.Equal(t, []string{"Alto Saxophone", "a major sixth up", "G major", "1 sharp"}, scale[2])
}

// TestWhatATopicIsNotAbout is refused with words.
func TestWhatATopicIsNotAbout(t *testing.T) {
	t.Parallel()
	x := textstest.In(t, pitch.English)
	horn, flute := instrumentstest.Load(t).ByID("horn-f"), instrumentstest.Load(t).ByID("flute")
	for _, q := range []lecture.Question{
		{Topic: exercise.ClefTopic, Instrument: horn},
		{Topic: exercise.Sight, Key: &pitch.Key{}},
		{Topic: exercise.Signature, Band: []*instruments.Instrument{horn}},
		{Topic: exercise.Sight, Instrument: flute},
	} {
		_, err := lecture.Make(instrumentstest.Load(t), q, x)
		assert.Error(t, err, q.Topic)
	}
}
