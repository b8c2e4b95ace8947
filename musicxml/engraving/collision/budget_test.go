package collision_test

import (
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
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

var update = flag.Bool("update", false, "lower the budget to what was counted; it never rises")

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

// budgetScores are the scores that are counted: a spread of the shared ones, or
// all under DESKPART_EVERY_SCORE.
func budgetScores(t testing.TB) (files []string, column string) {
	if os.Getenv("DESKPART_EVERY_SCORE") != "" {
		return musicxmltest.SharedFiles(t, "scores/*/*"), "all"
	}
	return musicxmltest.SharedFiles(t, "scores/written/Haydn_104_1.mxl", "scores/quartets/sq7524617.mxl", "scores/songs/*",
		"scores/leadsheets/*"), "spread"
}

// Collisions of each class, counted on all parts of the scores, are at most those
// of the budget, which only falls: -update lowers it.
func TestCollisionsStayWithinTheBudget(t *testing.T) {
	t.Parallel()
	files, column := budgetScores(t)
	counted := map[string]*counts{}
	for _, file := range files {
		g := group(file)
		if counted[g] == nil {
			counted[g] = &counts{found: map[collision.Class]int{}, where: map[collision.Class][]string{}}
		}
		counted[g].score(t, file)
	}
	b := readBudget(t)
	for g, c := range counted {
		t.Logf("%s: %d systems", g, c.systems)
		for _, class := range collision.Classes() {
			most := b.most(class, g, column)
			assert.LessOrEqual(t, c.found[class], most, "%s, %s: %v", g, class, c.where[class])
			if *update && c.found[class] < most {
				b.lower(class, g, column, c.found[class])
			}
		}
	}
	assert.Zero(t, counted["orchestra"].found[collision.TextOutside]+counted["chamber"].found[collision.TextOutside], "no text is cut")
	if *update {
		b.write(t)
	}
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
		for _, f := range collision.In(&d.Systems[i]) {
			c.found[f.Class]++
			if len(c.where[f.Class]) < 3 {
				c.where[f.Class] = append(c.where[f.Class], fmt.Sprintf("%s, from bar %s", name, m.Bars[d.Systems[i].First-1].Number))
			}
		}
	}
}

// budget is testdata/budget.csv: for each class and group how many there may be;
// what has no row may not be.
type budget struct{ rows [][]string }

const budgetFile = "testdata/budget.csv"

func readBudget(t testing.TB) *budget {
	file, err := os.Open(budgetFile)
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	return &budget{rows}
}

func (b *budget) cell(class collision.Class, group, column string) *string {
	for at, name := range b.rows[0] {
		for _, row := range b.rows {
			if name == column && row[0] == class.String() && row[1] == group {
				return &row[at]
			}
		}
	}
	return nil
}

// most is what the budget allows, nothing where it has no row.
func (b *budget) most(class collision.Class, group, column string) int {
	if cell := b.cell(class, group, column); cell != nil {
		n, _ := strconv.Atoi(*cell)
		return n
	}
	return 0
}

func (b *budget) lower(class collision.Class, group, column string, n int) {
	*b.cell(class, group, column) = strconv.Itoa(n)
}

func (b *budget) write(t testing.TB) {
	var out strings.Builder
	w := csv.NewWriter(&out)
	require.NoError(t, w.WriteAll(slices.DeleteFunc(b.rows, func(row []string) bool { return row[2] == "0" && row[3] == "0" })))
	require.NoError(t, os.WriteFile(budgetFile, []byte(out.String()), 0o644))
}
