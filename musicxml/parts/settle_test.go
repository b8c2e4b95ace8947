package parts

import (
	"slices"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/stages"
)

// TestStagesKeepTimelineTrue checks after each stage that the timeline, which is
// brought up to date by what the stage said it did, says the same as one laid out from
// the tree afresh.
func TestStagesKeepTimelineTrue(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	var all []Options
	for _, change := range []func(*Options){
		func(*Options) {},
		func(o *Options) { o.Players, o.Cues = true, 4 },
		func(o *Options) { o.Plan = []PlanRow{{Part: "*", Instrument: "clarinet-a", Octave: "auto"}} },
	} {
		o := DefaultOptions()
		change(&o)
		all = append(all, o)
	}
	few := []string{"scores/songs/[1-4]_*", "scores/leadsheets/*", "scores/quartets/sq7093885.mxl", "scores/written/Bach_BWV.232_01.mxl", "testsuite/xmlFiles/*"}
	files := musicxmltest.SharedSample(t, few, []string{"scores/*/*.mxl", "testsuite/xmlFiles/*"})
	musicxmltest.EachFile(t, files, func(t *testing.T, file string) {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		if err != nil {
			t.Skipf("refused: %v", err)
		}
		for _, o := range all {
			surveyed, err := Survey(score, catalogue, o)
			if err != nil {
				t.Skipf("refused: %v", err)
			}
			job, err := surveyed.Assign()
			require.NoError(t, err)
			w := new(stages.Workspace)
			for i := range job.cast.Files {
				followStages(t, job, i, w)
			}
		}
	})
}

// followStages makes a part and looks on stage by stage.
func followStages(t *testing.T, job *Job, i int, w *stages.Workspace) {
	t.Helper()
	a := job.cast.Files[i]
	d := w.Draft(&job.surveyed.score.Score, a)
	err := job.maker.Score.Make(d, w, func(stage string) {
		requireTrueTimeline(t, d.Timeline, d.Part, a.Label+": "+stage)
		if stage == "set the cue notes on the staff" && !d.Elsewhere {
			var now staff.Page
			require.NoError(t, now.Read(d))
			require.True(t, slices.Equal(now.Notes, w.Page.Notes), "%s is said not to have moved", a.Label)
		}
	})
	if err != nil {
		t.Logf("%s cannot be made: %v", a.Label, err)
	}
}

func requireTrueTimeline(t *testing.T, got *musicxml.Timeline, part *etree.Element, what string) {
	t.Helper()
	want, err := musicxml.NewTimeline(part)
	require.NoError(t, err, what)
	require.Len(t, got.Measures, len(want.Measures), what)
	for i := range want.Measures {
		g, w := &got.Measures[i], &want.Measures[i]
		require.True(t, g.Element == w.Element && g.Index == w.Index && g.Number == w.Number && g.Start == w.Start && g.Length == w.Length &&
			g.Beats == w.Beats && g.BeatType == w.BeatType, "%s: bar %s differs", what, w.Number)
		require.Len(t, g.Events, len(w.Events), "%s: bar %s", what, w.Number)
		for k := range w.Events {
			require.True(t, g.Events[k] == w.Events[k], "%s: bar %s, event %d: %+v instead of %+v", what, w.Number, k, g.Events[k], w.Events[k])
		}
	}
}
