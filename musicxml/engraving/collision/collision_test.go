package collision_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/collision"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// counts are the collisions of each class in some systems.
type counts struct {
	systems int
	found   map[collision.Class]int
	// where are some places of each class, to look at.
	where map[collision.Class][]string
}

// group is what a score is counted with, as in trade/engraving.md, section 5.
func group(file string) string {
	switch filepath.Base(filepath.Dir(file)) {
	case "songs", "quartets":
		return "chamber"
	case "leadsheets":
		return "leadsheets"
	}
	return "orchestra"
}

// countedScores are a spread of the shared ones, or all under DESKPART_EVERY_SCORE.
func countedScores(t testing.TB) []string {
	if os.Getenv("DESKPART_EVERY_SCORE") != "" {
		return musicxmltest.SharedFiles(t, "scores/*/*")
	}
	return musicxmltest.SharedFiles(t, "scores/written/Haydn_104_1.mxl", "scores/quartets/sq7524617.mxl", "scores/songs/*",
		"scores/leadsheets/*")
}

// There are no collisions in any part of the scores.
func TestNothingCollides(t *testing.T) {
	t.Parallel()
	files := countedScores(t)
	counted := map[string]*counts{}
	for _, file := range files {
		g := group(file)
		if counted[g] == nil {
			counted[g] = &counts{found: map[collision.Class]int{}, where: map[collision.Class][]string{}}
		}
		counted[g].score(t, file)
	}
	for g, c := range counted {
		t.Logf("%s: %d systems", g, c.systems)
		assert.NotZero(t, c.systems, g)
		assert.Empty(t, c.found, "%s: %v", g, c.where)
	}
	assert.Len(t, counted, 3)
}

func (c *counts) score(t testing.TB, file string) {
	score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
	require.NoError(t, err, file)
	job := partstest.Job(t, score, parts.DefaultOptions())
	for i, a := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err, file)
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromBytes(sheet.Bytes(musicxml.NoteALine)))
		c.part(t, doc.Root().SelectElement("part"), filepath.Base(file)+" "+a.Label)
	}
}

func (c *counts) part(t testing.TB, part *etree.Element, name string) {
	m, err := notate.Part(part, notate.Options{})
	require.NoError(t, err, name)
	d, err := engraving.Draw(m, engraving.Options{Width: 90})
	require.NoError(t, err, name)
	for i := range d.Systems {
		c.systems++
		for _, class := range collision.In(&d.Systems[i]) {
			c.found[class]++
			if len(c.where[class]) < 3 {
				c.where[class] = append(c.where[class], fmt.Sprintf("%s, from bar %s", name, m.Bars[d.Systems[i].First-1].Number))
			}
		}
	}
}
