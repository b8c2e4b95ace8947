package printing_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// books are the books of all parts of a score, by their labels.
func books(t *testing.T, path string, visit func(label string, b *paper.Book)) {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	job := partstest.Job(t, score, parts.DefaultOptions())
	for i, a := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		b, err := paper.Read(sheet.Document.Root(), 0)
		require.NoError(t, err)
		visit(a.Label, b)
	}
}

// No turn without time is left that other page ends would have avoided: the turns of
// long parts are held against a search over all page ends, with every line that may
// be drawn drawn and measured by its own boxes. By default over one part; over all
// parts of the orchestral movements under DESKPART_EVERY_SCORE.
func TestNoAvoidableBadTurn(t *testing.T) {
	t.Parallel()
	every := os.Getenv(musicxmltest.EveryScore) != ""
	for _, path := range musicxmltest.SharedFiles(t, "scores/concert/*.mxl") {
		if !every && filepath.Base(path) != "Haydn_104_1.concert.mxl" {
			continue
		}
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			books(t, path, func(label string, b *paper.Book) {
				if !every && label != "Viola" {
					return
				}
				b.Rights = ""
				laid, err := paper.Lay(b, paper.Options{})
				require.NoError(t, err)
				bad := 0
				for _, turn := range laid.Turns {
					if !turn.InTime() {
						bad++
					}
				}
				if len(laid.Turns) == 0 || bad == 0 {
					return
				}
				least := fewestBadTurns(t, b, laid)
				t.Logf("%s: %d bad turns of %d, at least %d", label, bad, len(laid.Turns), least)
				assert.LessOrEqual(t, bad, least, "%s: bad turns of %d pages", label, len(laid.Pages))
			})
		})
	}
}

// The geometry of a page as the trade has it, in staff spaces of 2 mm: 8 mm clear
// between staves, and lines that are stretched by two thirds at most.
const (
	clearOf  = 4
	airOf    = 0.8
	aside    = 2   // how far ink of two lines must be apart sideways to reach past each other
	widest   = 0.3 // the engraver's cost of such a line
	pageFull = 0.5
)

// fewestBadTurns searches all page ends for the way with the fewest turns in less
// than three seconds.
func fewestBadTurns(t *testing.T, b *paper.Book, laid *paper.Laid) int {
	m := b.Movements[0].Music
	layout, err := engraving.NewLayout(m, engraving.Options{Width: 90, Space: 2, RestRanges: true})
	require.NoError(t, err)
	lines := measureLines(layout, len(m.Bars))
	seconds := paper.Times(m)
	first, later := roomOf(laid, 0), roomOf(laid, 1)
	n := len(m.Bars)
	// fewest[place][right]: bad turns up to a page that begins at a place.
	fewest := make([][2]int, n+1)
	for i := range fewest {
		fewest[i] = [2]int{math.MaxInt, math.MaxInt}
	}
	fewest[0][1] = 0
	best := math.MaxInt
	for from := range n {
		for right, bad := range fewest[from] {
			if bad == math.MaxInt {
				continue
			}
			room := later
			if from == 0 {
				room = first
			}
			for to, height := range pagesFrom(lines, from, room) {
				switch {
				case to == n:
					best = min(best, bad)
				case height < pageFull*room:
				case right == 1 && restAround(seconds, to) < 3:
					fewest[to][0] = min(fewest[to][0], bad+1)
				default:
					fewest[to][1-right] = min(fewest[to][1-right], bad)
				}
			}
		}
	}
	return best
}

// restAround is the rest on both sides of a place, general pauses left out.
func restAround(bars []paper.BarTime, place int) float64 {
	rest := 0.0
	for i := place - 1; i >= 0 && !bars[i].Pause; i-- {
		rest += bars[i].After
		if bars[i].After < bars[i].Seconds {
			break
		}
	}
	for i := place; i < len(bars) && !bars[i].Pause; i++ {
		rest += bars[i].Before
		if bars[i].Before < bars[i].Seconds {
			break
		}
	}
	return rest
}

// roomOf is the height from the first ink of music on a page to the lower margin of
// 12 mm, in spaces.
func roomOf(laid *paper.Laid, page int) float64 {
	p := &laid.Pages[page]
	top := p.Height
	for i := range p.Blocks {
		if b := &p.Blocks[i]; b.System != nil {
			b.System.Walk(func(item display.Item, down display.Spaces) {
				top = min(top, b.Top+(item.Shape.Bounds().Top+down).On(b.Space))
			})
		}
	}
	return float64(p.Height-12-top) / 2
}

// ink is a line's boxes around its staves.
type ink struct {
	to     int
	staves float64
	boxes  []display.Rect // y from the top of the first staff
	rises  float64
	hangs  float64
}

// measureLines draws every line that is not too loose, by the bar it begins with.
func measureLines(layout *engraving.Layout, bars int) map[int][]*ink {
	lines := map[int][]*ink{}
	for last := 1; last <= bars; last++ {
		all := layout.LinesTo(last)
		least := math.Inf(1)
		for _, l := range all {
			least = min(least, l.Cost)
		}
		for _, l := range all {
			if l.Cost > max(least, widest) {
				continue
			}
			system, _ := layout.Draw(l.First, l.Last, 1)
			lines[l.First-1] = append(lines[l.First-1], inkOf(&system))
		}
	}
	return lines
}

func inkOf(system *display.System) *ink {
	top, foot := system.Staves[0].Y-2, system.Staves[len(system.Staves)-1].Y+2
	line := &ink{to: system.Last, staves: float64(foot - top)}
	system.Walk(func(item display.Item, down display.Spaces) {
		box := item.Shape.Bounds().Moved(0, down-top)
		line.rises, line.hangs = max(line.rises, float64(-box.Top)), max(line.hangs, float64(box.Bottom+top-foot))
		line.boxes = append(line.boxes, box)
	})
	return line
}

// gap is the least distance between the staves of two lines: boxes one above the
// other keep apart.
func (k *ink) gap(next *ink) float64 {
	least := float64(clearOf)
	for _, a := range k.boxes {
		if under := float64(a.Bottom) - k.staves; under > 0 {
			for _, b := range next.boxes {
				if b.Top < 0 && a.Left < b.Right+aside && b.Left < a.Right+aside {
					least = max(least, under-float64(b.Top)+airOf)
				}
			}
		}
	}
	return least
}

// pagesFrom are the places that a page from one place can end at, with the least
// height that it takes.
func pagesFrom(lines map[int][]*ink, from int, room float64) map[int]float64 {
	type reached struct {
		line   *ink
		height float64 // to the foot of the line's staves
	}
	open := map[int][]reached{}
	ends := map[int]float64{}
	add := func(r reached) {
		if r.height+r.line.hangs > room {
			return
		}
		open[r.line.to] = append(open[r.line.to], r)
		if height, known := ends[r.line.to]; !known || r.height+r.line.hangs > height {
			ends[r.line.to] = r.height + r.line.hangs
		}
	}
	for _, l := range lines[from] {
		add(reached{l, l.rises + l.staves})
	}
	for place := from + 1; len(open) > 0; place++ {
		best := map[*ink]float64{}
		for _, r := range open[place] {
			if h, known := best[r.line]; !known || r.height < h {
				best[r.line] = r.height
			}
		}
		delete(open, place)
		for line, height := range best {
			for _, next := range lines[place] {
				add(reached{next, height + line.gap(next) + next.staves})
			}
		}
	}
	return ends
}
