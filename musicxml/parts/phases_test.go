package parts_test

import (
	"errors"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// Options are refused where they come in, with what would be right.
func TestOptionsAreChecked(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	score := readScore(t, "../../examples/two-ferries.musicxml")
	assert.Equal(t, parts.Options{Input: "auto", MaxSignature: 6, RestBars: 2, Tacet: "write", Language: "en", Level: "professional"}, parts.DefaultOptions(), "as the fields' own words say")
	for _, test := range []struct {
		change func(*parts.Options)
		want   string
	}{
		{func(o *parts.Options) {}, ""},
		{func(o *parts.Options) { o.Input, o.Tacet, o.Language, o.Level = "", "", "", "" }, ""},
		{func(o *parts.Options) { o.MaxSignature = 0 }, ""},
		{func(o *parts.Options) { o.MaxSignature = 7 }, ""},
		{func(o *parts.Options) { o.MaxSignature = parts.Unlimited }, ""},
		{func(o *parts.Options) { o.WithoutSignature = []string{"horn", "timpani"} }, ""},
		{func(o *parts.Options) { o.Language = "xx" }, `language "xx" is none of en, de, fr, it, es`},
		{func(o *parts.Options) { o.Input = "loud" }, `input "loud" is none of auto, concert, written`},
		{func(o *parts.Options) { o.Tacet = "shred" }, `tacet "shred" is none of write, skip`},
		{func(o *parts.Options) { o.Level = "beginner" }, `level "beginner" is none of professional, school`},
		{func(o *parts.Options) { o.MaxSignature = -4 }, "a signature of -4 sharps or flats at most is asked for; it is a number from 0 to 7"},
		{func(o *parts.Options) { o.MaxSignature = 8 }, "a signature of 8 sharps or flats at most is asked for; it is a number from 0 to 7"},
		{func(o *parts.Options) { o.RestBars = -1 }, "multi-bar rests from -1 bars on are asked for; it is a number from 0"},
		{func(o *parts.Options) { o.Cues = -2 }, "cue notes after -2 bars are asked for; it is a number from 0"},
		{func(o *parts.Options) { o.Spelling = 9 }, "spelling 9 is neither exact nor readable"},
		{func(o *parts.Options) { o.Choir, o.Percussionists = "both", 20 }, `choir "both" is none of score, parts`},
		{func(o *parts.Options) { o.Percussionists = -1 }, "-1 percussionists are asked for; it is a number from 0 to 20"},
		{func(o *parts.Options) { o.Percussionists = 21 }, "21 percussionists are asked for; it is a number from 0 to 20"},
		{func(o *parts.Options) { o.RestBars, o.Cues, o.Percussionists = 0, 0, 20 }, ""},
		{func(o *parts.Options) { o.WithoutSignature = []string{"hrn"} }, `without signature: no instrument or family is called "hrn"`},
		{func(o *parts.Options) { o.Plan = []parts.PlanRow{{Part: "P1", Octave: "9"}} }, `plan, part "P1": octave "9" is not a whole number from -5 to 5 or auto`},
	} {
		o := parts.DefaultOptions()
		test.change(&o)
		_, err := parts.Survey(score, catalogue, o)
		if test.want == "" {
			assert.NoError(t, err)
			continue
		}
		assert.EqualError(t, err, test.want)
	}
}

// What a phase has found out may be asked by several goroutines at once, and the
// answers are those that one gets. The race detector looks on.
func TestPhasesServeSeveralGoroutines(t *testing.T) {
	t.Parallel()
	score := readScore(t, "../../examples/lanterns-on-the-quay.musicxml")
	o := parts.DefaultOptions()
	o.Players, o.Cues, o.Each = true, 2, atOnce
	job := partstest.Job(t, score, o)
	n := len(job.Assignments())
	require.Greater(t, n, 10)
	want := make([]string, n)
	for i := range want {
		want[i] = madeOf(t, job, i)
	}
	require.NoError(t, atOnce(4*n, func(w *parts.Workspace, k int) error {
		i := k % n
		pitch, why := job.Surveyed().Pitch()
		if pitch == "" || why == "" {
			return errors.New("no pitch")
		}
		again, err := job.Surveyed().Assign()
		if err != nil {
			return err
		}
		sheet, err := again.MakeIn(w, i)
		if err != nil {
			return err
		}
		if string(sheet.Bytes(musicxml.NoteALine)) != want[i] {
			return errors.New("another part")
		}
		part := again.Assignment(i).Part
		_ = job.Surveyed().SourceTransposition(part)
		if _, _, err = job.Surveyed().Source(w, part); err != nil {
			return err
		}
		_, err = job.Surveyed().Convert(w, part, parts.Concert)
		return err
	}))
	for i := range want {
		assert.Equal(t, want[i], madeOf(t, job, i), "part file %d is still what it was", i)
	}
}

func madeOf(t *testing.T, job *parts.Job, i int) string {
	t.Helper()
	sheet, err := job.Make(i)
	require.NoError(t, err)
	return string(sheet.Bytes(musicxml.NoteALine))
}

// atOnce does all pieces of work at once, each in a workspace of its own.
func atOnce(n int, do func(w *parts.Workspace, i int) error) error {
	var wait sync.WaitGroup
	errs := make([]error, n)
	for i := range n {
		wait.Go(func() {
			errs[i] = do(new(parts.Workspace), i)
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}

// Give makes another job and leaves the first as it was.
func TestGiveLeavesTheJob(t *testing.T) {
	t.Parallel()
	job := partstest.Job(t, readScore(t, "../../examples/two-ferries.musicxml"), parts.DefaultOptions())
	before, made := job.Assignments(), madeOf(t, job, 1)
	given, err := job.Give(1, parts.PlanRow{Instrument: "viola", Label: "Viola for the clarinet"})
	require.NoError(t, err)
	assert.Equal(t, "Viola for the clarinet", given.Assignment(1).Label)
	assert.NotEqual(t, made, madeOf(t, given, 1))
	assert.Equal(t, before, job.Assignments())
	assert.Equal(t, made, madeOf(t, job, 1))
	_, err = job.Give(1, parts.PlanRow{Instrument: "no such thing"})
	assert.ErrorContains(t, err, `no instrument is known by "no such thing"`)
}

// There is no way to ask too early: an empty phase has no parts, and says so.
func TestNothingIsAskedTooEarly(t *testing.T) {
	t.Parallel()
	var surveyed parts.Surveyed
	assert.Empty(t, surveyed.Title())
	assert.Empty(t, surveyed.PartNames())
	_, _, err := surveyed.Source(nil, 0)
	assert.EqualError(t, err, "there is no part 0; there are 0, counted from 0")
	_, err = surveyed.Convert(nil, 0, parts.Concert)
	assert.EqualError(t, err, "there is no part 0; there are 0, counted from 0")
	_, _, err = surveyed.Forward(0, nil)
	assert.EqualError(t, err, "there is no part 0; there are 0, counted from 0")
	_, err = surveyed.Find("Oboe")
	assert.EqualError(t, err, `no part is called "Oboe"; the score has no parts`)
	job, err := surveyed.Assign()
	require.NoError(t, err)
	assert.Empty(t, job.Assignments())
	for _, j := range []*parts.Job{job, new(parts.Job)} {
		_, err = j.Make(0)
		assert.EqualError(t, err, "there is no part file 0; there are 0, counted from 0")
		_, err = j.Choose("Oboe", 0)
		assert.EqualError(t, err, `no part is called "Oboe"; the score has no parts`)
		_, err = j.MakeTacet(nil, "Oboe", nil)
		assert.EqualError(t, err, "there is no part 0; there are 0, counted from 0")
		assert.Empty(t, j.Names())
		assert.Empty(t, j.Silent(nil))
		proposed, err := j.Propose()
		assert.NoError(t, err)
		assert.Empty(t, proposed)
		_, err = j.Give(-1, parts.PlanRow{})
		assert.EqualError(t, err, "there is no part file -1; there are 0, counted from 0")
	}
}

// A score is converted to one of two pitches.
func TestConvertToNothing(t *testing.T) {
	t.Parallel()
	surveyed := partstest.Survey(t, readScore(t, "../../examples/two-ferries.musicxml"), parts.DefaultOptions())
	_, err := surveyed.Convert(nil, 0, parts.Auto)
	assert.ErrorContains(t, err, `: a score is converted to concert or to written pitch, not to "auto"`)
}

// Extract is all three phases in one: every part in order, an error where it is.
func TestExtract(t *testing.T) {
	t.Parallel()
	score, catalogue := readScore(t, "../../examples/two-ferries.musicxml"), instrumentstest.Load(t)
	job := partstest.Job(t, score, parts.DefaultOptions())
	i := 0
	for made, err := range parts.Extract(score, catalogue, parts.DefaultOptions()) {
		require.NoError(t, err)
		assert.Equal(t, job.Assignment(i), made.Assignment)
		assert.Equal(t, madeOf(t, job, i), string(made.Bytes(musicxml.NoteALine)))
		i++
	}
	assert.Equal(t, len(job.Assignments()), i)
	for made, err := range parts.Extract(score, catalogue, parts.DefaultOptions()) {
		require.NoError(t, err)
		assert.Equal(t, 1, made.Number, "no more than was asked for")
		break
	}
	for _, change := range []func(*parts.Options){
		func(o *parts.Options) { o.Input = "loud" },
		func(o *parts.Options) { o.Share = [][]string{{"Quayphone 1", "Quayphone 2"}} },
	} {
		o := parts.DefaultOptions()
		change(&o)
		errs := 0
		for made, err := range parts.Extract(score, catalogue, o) {
			assert.Error(t, err)
			assert.Nil(t, made.Part)
			errs++
		}
		assert.Equal(t, 1, errs, "the error comes alone")
	}
}

// What a first reading tells of a score and its parts.
func TestSurveyed(t *testing.T) {
	t.Parallel()
	text := strings.NewReplacer(`<part-list>`, `<work><work-title>Dances</work-title></work><movement-number>2</movement-number><movement-title>Jig</movement-title><part-list>`,
		`<measure number="1">`, `<measure number="0">`).Replace(string(shorthand.Score(t,
		shorthand.Entry{Name: "Clarinet in Bb", Music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | u!E4:w | [key -1] E4:q F5:hd`}, shorthand.Entry{Name: "", Music: `[key 0] [for -1 -2] C5:w // C3:w | R | R`})))
	surveyed := partstest.Survey(t, scoreFrom(t, text), parts.DefaultOptions())
	work, number, title := surveyed.Movement()
	assert.Equal(t, []string{"Dances", "2", "Jig", "Dances: Jig"}, []string{work, number, title, surveyed.Title()})
	assert.Equal(t, []string{"Clarinet in Bb", "P2"}, surveyed.PartNames())
	name, id := surveyed.PartName(0)
	assert.Equal(t, "Clarinet in Bb P1", name+" "+id)
	told, other := surveyed.Part(0), surveyed.Part(1)
	assert.Equal(t, []string{"0", "2", "3"}, told.Measures)
	assert.Equal(t, []parts.SurveyedKey{{Measure: "0", Fifths: 2}, {Measure: "3", Fifths: -1}}, told.Keys)
	assert.Equal(t, []any{"clarinet-bflat", 1, 3, 1, false, 1}, []any{told.Match.Instrument.ID, told.Staves, told.Notes, told.Unpitched, told.ForPart, len(told.Source)})
	assert.Equal(t, []string{"E4", "F5", "D4", "Eb5"}, []string{told.Lowest.String(), told.Highest.String(), told.LowestSounding.String(), told.HighestSounding.String()})
	assert.Equal(t, []any{2, 2, true, 0}, []any{other.Staves, other.Notes, other.ForPart, len(other.Source)})
	assert.Equal(t, -2, surveyed.SourceTransposition(0).Chromatic)
	for _, i := range []int{-1, 2} {
		_, concert, err := surveyed.Forward(i, nil)
		assert.ErrorContains(t, err, "there is no part")
		assert.False(t, concert)
	}
	_, source, err := surveyed.Source(nil, 0)
	require.NoError(t, err)
	stretches, concert, err := surveyed.Forward(0, source)
	require.NoError(t, err)
	assert.True(t, concert, "what its player reads already goes to concert pitch")
	require.NotEmpty(t, stretches)
	assert.Equal(t, 0, stretches[0].To.Chromatic)
	_, source, err = surveyed.Source(nil, 1)
	require.NoError(t, err)
	stretches, concert, err = surveyed.Forward(1, source)
	require.NoError(t, err)
	assert.False(t, concert)
	assert.Equal(t, -2, stretches[0].To.Chromatic)
	found, err := surveyed.Find("clarinet")
	require.NoError(t, err)
	assert.Equal(t, 0, found)
}

// What cannot be read is said with the part and the bar, whichever part it is.
func TestBrokenPart(t *testing.T) {
	t.Parallel()
	broken := strings.Replace(whole, "<duration>4<", "<duration>four<", 1)
	_, err := parts.Survey(miniScore(t, miniPart{"Oboe", []string{whole}}, miniPart{"Violin", []string{whole, broken}}), instrumentstest.Load(t), parts.DefaultOptions())
	assert.ErrorContains(t, err, `part "Violin" (P2), measure 2`)
}

// A movement of a work is surveyed so that its staves can be divided when the players of all
// movements are known, also where only the music tells of several.
func TestDivided(t *testing.T) {
	t.Parallel()
	for _, change := range []func(*parts.Options){func(o *parts.Options) { o.Work = true }, func(o *parts.Options) { o.Players = true }} {
		o := parts.DefaultOptions()
		change(&o)
		surveyed := partstest.Survey(t, scoreIn(t, shorthand.Score(t, shorthand.Entry{Name: "Flutes", Music: "E5:w / C5:w"}, shorthand.Entry{Name: "Oboes", Music: "E5:w / C5:w"})), o)
		var labels []string
		job, err := surveyed.Divided("P1").Assign()
		require.NoError(t, err)
		for _, a := range job.Assignments() {
			labels = append(labels, a.Label)
		}
		assert.Equal(t, []string{"Flute 1", "Flute 2"}, labels[:2])
		assert.Len(t, labels, map[bool]int{true: 3, false: 4}[o.Work])
		job, err = surveyed.Assign()
		require.NoError(t, err)
		assert.Len(t, job.Assignments(), map[bool]int{true: 2, false: 4}[o.Work])
	}
}

// A staff of several that another instrument reads keeps its lines, whether a plan says so, or
// an edition or a stand-in does.
func TestLinesOfSharedStaves(t *testing.T) {
	t.Parallel()
	score := shorthand.Score(t, shorthand.Entry{Name: "Flutes", Music: "E5:w / C5:w"})
	substitutes, err := instrumentstest.Load(t).ReadSubstitutes(strings.NewReader("instrument,substitute\nflute,oboe\n"))
	require.NoError(t, err)
	for _, change := range []func(*parts.Options){
		func(o *parts.Options) { o.Plan = []parts.PlanRow{{Part: "P1", Instrument: "oboe", Octave: "0"}} },
		func(o *parts.Options) { o.Substitutes = substitutes },
		func(o *parts.Options) { o.Editions = readersOf(t, "C treble") },
	} {
		o := parts.DefaultOptions()
		change(&o)
		sheets := sheetsFrom(t, score, o)
		assert.Equal(t, "E5:w / C5:w", shorthand.Read(partOf(sheets[len(sheets)-1])))
	}
}

// What is reported of a part: the octaves that a plan moves it by, from where on.
func TestOctavesAreReported(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "Flute", Instrument: "oboe", Octave: "-1"}}
	made := makeMini(t, miniScore(t, miniPart{"Flute", []string{whole, whole}}), 0, o)
	assert.Equal(t, []parts.OctaveChange{{Measure: "1", Beat: "1", Octave: -1}}, made.Report.Octaves)
}
