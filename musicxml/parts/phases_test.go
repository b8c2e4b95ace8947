package parts_test

import (
	"errors"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Options are refused where they come in, with what would be right.
func TestOptionsAreChecked(t *testing.T) {
	t.Parallel()
	catalogue := theCatalogue(t)
	score := readScore(t, "../../examples/two-ferries.musicxml")
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
	job := jobOf(t, score, o)
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
		wait.Add(1)
		go func() {
			defer wait.Done()
			errs[i] = do(new(parts.Workspace), i)
		}()
	}
	wait.Wait()
	return errors.Join(errs...)
}

// Give makes another job and leaves the first as it was.
func TestGiveLeavesTheJob(t *testing.T) {
	t.Parallel()
	job := jobOf(t, readScore(t, "../../examples/two-ferries.musicxml"), parts.DefaultOptions())
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
	job, err := surveyed.Assign()
	require.NoError(t, err)
	assert.Empty(t, job.Assignments())
	for _, j := range []*parts.Job{job, new(parts.Job)} {
		_, err = j.Make(0)
		assert.EqualError(t, err, "there is no part file 0; there are 0, counted from 0")
		_, err = j.Give(-1, parts.PlanRow{})
		assert.EqualError(t, err, "there is no part file -1; there are 0, counted from 0")
	}
}

// A score is converted to one of two pitches.
func TestConvertToNothing(t *testing.T) {
	t.Parallel()
	catalogue := theCatalogue(t)
	surveyed, err := parts.Survey(readScore(t, "../../examples/two-ferries.musicxml"), catalogue, parts.DefaultOptions())
	require.NoError(t, err)
	_, err = surveyed.Convert(nil, 0, parts.Auto)
	assert.ErrorContains(t, err, `a score is converted to concert or to written pitch, not to "auto"`)
}
