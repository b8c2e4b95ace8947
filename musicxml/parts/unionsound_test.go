package parts_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/reading"
)

// TestUnionOfPlayersSounds: of every shared staff in the examples and the goldens,
// the players' parts, read off the page as they sound, together are the staff.
func TestUnionOfPlayersSounds(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
	require.NoError(t, err)
	goldens, err := filepath.Glob("testdata/3[0-46]-*.input.musicxml")
	require.NoError(t, err)
	shared := 0
	for _, file := range append(files, goldens...) {
		score := readScore(t, file)
		o := parts.DefaultOptions()
		o.Players, o.Input = true, parts.Concert
		job := partstest.Job(t, score, o)
		assignments := job.Assignments()
		union := map[int]map[string]bool{}
		for i, a := range assignments {
			if a.Player == 0 {
				continue
			}
			sheet, err := job.Make(i)
			require.NoError(t, err)
			if union[a.Part] == nil {
				union[a.Part] = map[string]bool{}
			}
			page, err := reading.Read(partOf(sheet))
			require.NoError(t, err)
			addSounds(union[a.Part], page)
		}
		for part, got := range union {
			shared++
			source, err := score.ReadPart(part, nil)
			require.NoError(t, err)
			page, err := reading.Read(source)
			require.NoError(t, err)
			want := map[string]bool{}
			addSounds(want, page)
			assert.Equal(t, want, got, "%s, part %d", file, part+1)
		}
	}
	assert.GreaterOrEqual(t, shared, 7)
}

// addSounds lists what a page sounds, each sound once.
func addSounds(sounds map[string]bool, page *reading.Page) {
	for _, s := range page.Sounding() {
		sounds[fmt.Sprint(s.Measure, " ", s.Beat, " ", s.Pitch, " ", s.Duration, " ", s.Grace)] = true
	}
}
