package parts_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/reading"
)

// TestPercussionists: one to four players have every stroke of the percussion but those
// that are said to be nobody's, none of them twice; nobody has two things at once; the
// list at the head names the instruments. What two play was read through by eye, on paper.
func TestPercussionists(t *testing.T) {
	t.Parallel()
	score := readScore(t, filepath.Join(musicxmltest.ProjectRoot(t), "examples", "lanterns-on-the-quay.musicxml"))
	part, err := score.ReadPart(13, nil)
	require.NoError(t, err)
	all := strokesOf(t, part)
	for players, want := range map[int][]string{
		1: {"Percussion 1: Triangle, Suspended Cymbal, Side Drum"},
		2: {"Percussion 1: Suspended Cymbal", "Percussion 2: Triangle, Side Drum"},
		3: {"Percussion 1: Suspended Cymbal", "Percussion 2: Triangle", "Percussion 3: Side Drum"},
		4: {"Percussion 1: Suspended Cymbal", "Percussion 2: Triangle", "Percussion 3: Side Drum"}, // no fourth is needed
	} {
		o := parts.DefaultOptions()
		o.Percussionists = players
		job := partstest.Job(t, score, o)
		var together, lists []string
		lost := 0
		for i, a := range job.Assignments() {
			if !strings.HasPrefix(a.Label, "Percussion ") {
				continue
			}
			sheet, err := job.Make(i)
			require.NoError(t, err)
			own := strokesOf(t, partOf(sheet))
			together = append(together, own...)
			lists = append(lists, a.Label+": "+firstListOf(sheet))
			for _, w := range sheet.Report.Warnings {
				assert.NotEqual(t, notice.TwoAtOnce, w.Code)
				if w.Code == notice.MusicLost && strings.HasPrefix(w.Text, "nobody is free") {
					lost++
				}
			}
		}
		slices.Sort(together)
		assert.Equal(t, slices.Compact(slices.Clone(together)), together, "%d players: nothing twice", players)
		if players == 1 {
			assert.Positive(t, lost, "one player cannot have all of it")
			assert.Less(t, len(together), len(all))
		} else {
			assert.Zero(t, lost)
			assert.Equal(t, all, together, "%d players", players)
		}
		assert.Equal(t, want, lists)
	}
}

// strokesOf lists what a percussion part sounds.
func strokesOf(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return heardIn(t, part, func(s reading.Sound) string {
		return fmt.Sprintf("%04d %s %s %s", s.MeasureIndex, s.Onset, s.Pitch, s.Duration)
	})
}

// firstListOf is the list of instruments at the head of a sheet.
func firstListOf(sheet *parts.Part) string {
	for d := range musicxml.Each(musicxml.Child(partOf(sheet), "measure"), "direction") {
		if words := musicxml.Descend(d, "direction-type", "words"); words != nil && musicxml.Attr(words, "font-style") == "italic" {
			return musicxml.Text(words)
		}
	}
	return ""
}
