package parts

import (
	"path/filepath"
	"slices"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// TestStagesRenewTimeline checks after each stage that only renews the timeline
// that it says the same as one laid out from the tree afresh.
func TestStagesRenewTimeline(t *testing.T) {
	t.Parallel()
	renews := map[string]bool{
		"put the rests in order": true, "add the marks of the whole system": true, "name the instruments that are changed to": true,
		"write for the player's instrument": true, "choose the clefs": true, "mark a silent part": true,
	}
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	o := DefaultOptions()
	o.Players, o.Cues = true, 4
	files := musicxmltest.SharedSpread(t, "scores/*/*.mxl", "scores/*/*.xml", "scores/*/*.musicxml", "testsuite/xmlFiles/*")
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
			if err != nil {
				t.Skipf("refused: %v", err)
			}
			for _, o := range []Options{DefaultOptions(), o} {
				c, err := New(score, catalogue, o)
				require.NoError(t, err)
				desk := new(Desk)
				for i := range score.Parts {
					if err := c.Survey(i, desk); err != nil {
						t.Skipf("refused: %v", err)
					}
				}
				assignments, err := c.Assign()
				require.NoError(t, err)
				for _, a := range assignments {
					s := c.sheet(a, desk)
					s.part, err = score.SkimPart(a.Part, &desk.Slabs, musicxml.Skim{Attribute: notDrawn})
					require.NoError(t, err)
					require.NoError(t, s.layOut())
					for _, stage := range stages {
						if stage.name == "choose the clefs" && !s.mayStandElsewhere() {
							before := slices.Clone(s.page.notes)
							s.page.takeMoved()
							require.True(t, slices.Equal(before, s.page.notes), "%s is said not to have moved", a.Label)
						}
						require.NoError(t, stage.do(s), "%s: %s", a.Label, stage.name)
						if renews[stage.name] {
							requireTrueTimeline(t, s.timeline, s.part, a.Label+": "+stage.name)
						}
					}
					desk.Clear()
				}
			}
		})
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
