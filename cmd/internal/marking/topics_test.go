package marking_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// topicKeys are the keys of a sheet of one exercise, and its files.
func topicKeys(t *testing.T, c *instruments.Catalogue, s exercise.Settings) (m marking.Marker, question, answer string) {
	t.Helper()
	s.Count = 1
	m, questions, answers := topicSheet(t, c, s)
	return m, questions[0], answers[0]
}

// topicSheet are the keys of a whole sheet, and its files.
func topicSheet(t *testing.T, c *instruments.Catalogue, s exercise.Settings) (m marking.Marker, questions, answers []string) {
	t.Helper()
	s.Versions, s.From, m.Texts = 1, explain.Sounding, textstest.In(t, pitch.English)
	sheets, err := exercise.Make(c, s)
	require.NoError(t, err)
	for _, e := range sheets[0].Exercises {
		q, err := e.Question(sheets[0])
		require.NoError(t, err)
		a, err := e.Key(sheets[0])
		require.NoError(t, err)
		score := read(t, a)
		score.Name = strconv.Itoa(e.Number)
		keys, err := marking.NewKeys(score, read(t, q), c)
		require.NoError(t, err)
		m.Keys = append(m.Keys, keys...)
		questions, answers = append(questions, string(q)), append(answers, string(a))
	}
	return m, questions, answers
}

// TestFindsItsExercise: what is far from its own answer, everything an octave higher or the
// question itself, is still marked by that and not by another that it fits by chance.
func TestFindsItsExercise(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	higher := strings.NewReplacer("<octave>2", "<octave>3", "<octave>3", "<octave>4", "<octave>4", "<octave>5", "<octave>5", "<octave>6")
	unsaid := strings.NewReplacer(`name="deskpart-exercise"`, `name="x"`)
	for _, row := range []struct {
		topic    exercise.Topic
		level    int
		mistakes int // of everything an octave higher; -1 where that is not tried
	}{{exercise.ScoreReading, 3, 4}, {exercise.ScoreReading, 5, 5}, {exercise.ClefTopic, 1, -1}, {exercise.Signature, 1, 0}, {exercise.Signature, 3, -1}} {
		m, questions, answers := topicSheet(t, c, exercise.Settings{Topic: row.topic, Level: row.level, Seed: uint64(row.level), Count: 6})
		for i := range answers[:3] {
			if row.mistakes >= 0 {
				r := mark(t, m, unsaid.Replace(higher.Replace(answers[i])))
				assert.Equal(t, i+1, r.Exercise, row)
				assert.Len(t, r.Mistakes, row.mistakes, row)
			}
			if !strings.Contains(questions[i], "<pitch>") {
				continue
			}
			r := mark(t, m, unsaid.Replace(questions[i]))
			assert.Equal(t, i+1, r.Exercise, row)
			assert.Zero(t, r.Marks.Lenient, row)
		}
	}
}

// TestSignaturesLeftOut: the signatures that are missing one after another are said once,
// with all their bars.
func TestSignaturesLeftOut(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, _, answer := topicKeys(t, c, exercise.Settings{Topic: exercise.Signature, Seed: 7, Level: 2})
	first := strings.Index(answer, "</key>") + len("</key>")
	r := mark(t, m, answer[:first]+regexp.MustCompile("<key>.*?</key>").ReplaceAllString(answer[first:], ""))
	require.NotEmpty(t, r.Mistakes)
	last := r.Mistakes[len(r.Mistakes)-1]
	assert.Equal(t, "bar 2, beat 1", last.Place)
	assert.Regexp(t, `^the change of the key signature is missing: .* \(bars 2–4\)`, last.Text)
}

// TestTopicsAreMarkedRight: the answer to every topic at every level is marked right,
// and the question handed in earns nothing.
func TestTopicsAreMarkedRight(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, topic := range exercise.Topics() {
		t.Run(string(topic), func(t *testing.T) {
			t.Parallel()
			for level := 1; level <= exercise.Levels; level++ {
				for seed := range musicxmltest.Sweep[uint64](2, 60) {
					m, question, answer := topicKeys(t, c, exercise.Settings{Topic: topic, Seed: seed, Level: level})
					results, err := m.Mark(read(t, []byte(answer)))
					require.NoError(t, err)
					require.Len(t, results, 1)
					r := results[0]
					require.Empty(t, r.Mistakes, "level %d, seed %d", level, seed)
					require.Equal(t, r.Notes, r.Right)
					require.Equal(t, r.Marks.Of, r.Marks.Strict)
					require.Equal(t, r.Marks.Of, r.Marks.Lenient)
					if topic == exercise.Signature || topic == exercise.ConcertScale || topic == exercise.BandKey {
						continue // the question holds no notes to copy, or is some player's answer
					}
					results, err = m.Mark(read(t, []byte(question)))
					require.NoError(t, err)
					for _, r := range results {
						assert.Zero(t, r.Right, "level %d, seed %d", level, seed)
						assert.Zero(t, r.Lenient, "level %d, seed %d", level, seed)
					}
				}
			}
		})
	}
}

// mark marks a file as changed.
func mark(t *testing.T, m marking.Marker, text string) marking.Result {
	t.Helper()
	s, err := musicxml.Read([]byte(text), musicxml.ReadOptions{Name: "answer.musicxml"})
	require.NoError(t, err)
	results, err := m.Mark(s)
	require.NoError(t, err)
	require.Len(t, results, 1)
	return results[0]
}

// partOf cuts a part out of a document.
func partOf(text, id string) (before, part, after string) {
	from := strings.Index(text, `<part id="`+id+`">`)
	to := from + strings.Index(text[from:], "</part>") + len("</part>")
	return text[:from], text[from:to], text[to:]
}

// TestBandMistakes: what a player of a band has wrong is said with its staff, and the
// octave is the player's own.
func TestBandMistakes(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, _, answer := topicKeys(t, c, exercise.Settings{Topic: exercise.ConcertScale, Seed: 2, Level: 2})
	before, clarinet, after := partOf(answer, "P2")

	octave := strings.NewReplacer("<octave>4</octave>", "<octave>5</octave>", "<octave>5</octave>", "<octave>6</octave>", "<octave>3</octave>", "<octave>4</octave>")
	assert.Empty(t, mark(t, m, before+octave.Replace(clarinet)+after).Mistakes, "an octave higher")

	from, to := strings.Index(clarinet, "<fifths>"), strings.Index(clarinet, "</fifths>")
	r := mark(t, m, before+clarinet[:from]+"<fifths>-7"+clarinet[to:]+after)
	require.NotEmpty(t, r.Mistakes)
	assert.Equal(t, marking.KeySignature, r.Mistakes[0].Kind)
	assert.Equal(t, "Clarinet in B♭", r.Mistakes[0].Part)
	assert.True(t, strings.HasPrefix(r.Mistakes[0].Place, "Clarinet in B♭, bar 1"), r.Mistakes[0].Place)

	// A staff that is missing is said once and costs its notes.
	list, part := before[:strings.Index(before, `<score-part id="P2">`)], before[strings.Index(before, `<score-part id="P3">`):]
	r = mark(t, m, list+part+after)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, "the staff for Clarinet in B♭ is missing", r.Mistakes[0].Text)
	assert.Equal(t, 8, r.Mistakes[0].Notes)
	assert.Equal(t, r.Notes-8, r.Right)
	assert.Equal(t, r.Notes-8, r.Lenient)
}

// TestChordNames: a chord that is not named, or named otherwise, costs its mark.
func TestChordNames(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, _, answer := topicKeys(t, c, exercise.Settings{Topic: exercise.ScoreReading, Seed: 1, Level: 1})
	right := mark(t, m, answer)
	require.Empty(t, right.Mistakes)
	assert.GreaterOrEqual(t, right.Marks.Of, right.Notes+4)

	r := mark(t, m, strings.Replace(answer, "<kind>major</kind>", "<kind>minor</kind>", 1))
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, marking.ChordKind, r.Mistakes[0].Kind)
	assert.Regexp(t, `^([A-G].?) minor in place of ([A-G].?) major$`, r.Mistakes[0].Text)
	assert.Equal(t, right.Marks.Of-1, r.Marks.Strict)

	none := answer
	for strings.Contains(none, "<harmony>") {
		from, to := strings.Index(none, "<harmony>"), strings.Index(none, "</harmony>")+len("</harmony>")
		none = none[:from] + none[to:]
	}
	r = mark(t, m, none)
	require.Len(t, r.Mistakes, 1, "said once")
	assert.Equal(t, right.Marks.Of-4, r.Marks.Strict)
	assert.Equal(t, right.Marks.Of-1, r.Marks.Lenient)
}

// TestSightNeedsItsClef: the right notes under another clef are right, and the clef is
// not.
func TestSightNeedsItsClef(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, _, answer := topicKeys(t, c, exercise.Settings{Topic: exercise.Sight, Seed: 1, Level: 1})
	from, to := strings.Index(answer, "<clef>"), strings.Index(answer, "</clef>")
	r := mark(t, m, answer[:from]+"<clef><sign>G</sign><line>2</line>"+answer[to:])
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, marking.WrongClef, r.Mistakes[0].Kind)
	assert.Equal(t, r.Notes, r.Right)
	assert.Equal(t, r.Marks.Of-1, r.Marks.Strict)
}
