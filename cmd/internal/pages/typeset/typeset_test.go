package typeset_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/pages/typeset"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/paper"
)

// inOrder are the texts of a page from its first block to its last, with a "♪" for each
// system.
func inOrder(p *display.Page) (list []string) {
	for _, b := range p.Blocks {
		switch {
		case b.Purpose == display.Furniture:
		case b.System != nil:
			list = append(list, "♪")
		default:
			text := ""
			b.Items.Walk(func(item display.Item) {
				if t, ok := item.Shape.(display.Text); ok {
					text += " " + t.Text
				}
			})
			if text = strings.Join(strings.Fields(text), " "); text != "" {
				list = append(list, text)
			}
		}
	}
	return list
}

// drawing is so many systems.
func drawing(t *testing.T, systems int) *engraving.Drawing {
	t.Helper()
	bar := engraving.Measure{Voices: []engraving.Voice{{Events: []engraving.Event{{Value: engraving.Whole, Notes: []engraving.Note{{Place: engraving.Place{Step: 4, Octave: 4}}}}}}}}
	m := &engraving.Music{Bars: make([]engraving.Bar, systems), Staves: []engraving.Staff{{}}}
	for i := range systems {
		m.Bars[i].NewLine = true
		m.Staves[0].Measures = append(m.Staves[0].Measures, bar)
	}
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	require.Len(t, d.Systems, systems)
	return d
}

// TestBreaks: what stays together, and where pages end.
func TestBreaks(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name string
		set  func(d *typeset.Setter)
		want [][]string
	}{
		{"a heading goes with the system that follows, and systems are parted", func(d *typeset.Setter) {
			d.Text(typeset.Plain("a"))
			d.Space(45) // of some fifty lines
			d.Heading("H")
			d.Lead(typeset.Plain("text"))
			d.Music(drawing(t, 2))
		}, [][]string{{"a"}, {"H", "text", "♪", "♪"}}},
		{"systems are parted", func(d *typeset.Setter) {
			d.Space(46)
			d.Lead(typeset.Plain("text"))
			d.Music(drawing(t, 2))
		}, [][]string{{"text", "♪"}, {"♪"}}},
		{"what no font has is a question mark", func(d *typeset.Setter) { d.Text(typeset.Plain("Σ Я 王 ♭")) }, [][]string{{"Σ Я ? ♭"}}},
		{"together on the next page", func(d *typeset.Setter) {
			d.Text(typeset.Plain("first"))
			d.Space(30)
			d.Together(func() {
				d.Text(typeset.Plain("one"))
				d.Space(20)
				d.Text(typeset.Plain("two"))
			})
		}, [][]string{{"first"}, {"one", "two"}}},
		{"more than a page holds", func(d *typeset.Setter) {
			d.Together(func() { d.Music(drawing(t, 40)) })
		}, nil},
		{"a new page is begun once", func(d *typeset.Setter) {
			d.NewPage()
			d.Text(typeset.Plain("a"))
			d.NewPage()
			d.Text(typeset.Plain("b"))
		}, [][]string{{"a"}, {"b"}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			d := typeset.New(typeset.Options{Paper: paper.Size{Width: 210, Height: 297}})
			row.set(d)
			var got [][]string
			systems := 0
			pages := d.Pages()
			for i := range pages {
				on := inOrder(&pages[i])
				got = append(got, on)
				systems += strings.Count(strings.Join(on, ""), "♪")
			}
			if row.want == nil {
				assert.Equal(t, 40, systems)
				assert.Greater(t, len(pages), 1)
				return
			}
			assert.Equal(t, row.want, got)
		})
	}
}

// TestNothingIsCut sets documents out of chance on many papers: every word is there once
// and in order, nothing reaches over the edges or lies on what stands above it, and the
// same content gives the same bytes.
func TestNothingIsCut(t *testing.T) {
	t.Parallel()
	for n, size := range []paper.Size{{Width: 210, Height: 297}, {Width: 215.9, Height: 279.4}, {Width: 257, Height: 364}, {Width: 100, Height: 150}, {Width: 90, Height: 1000}, {Width: 1000, Height: 90}} {
		for _, large := range []bool{false, true} {
			rng := rand.New(rand.NewPCG(uint64(n), 7))
			make := func(rng *rand.Rand) (*typeset.Setter, []string) { return chance(t, rng, size, large) }
			d, words := make(rng)
			var got []string
			pages := d.Pages()
			for i := range pages {
				got = append(got, inOrder(&pages[i])...)
				within(t, &pages[i], fmt.Sprint(size, large, i))
			}
			text := strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(got, " "), "♪", " ")), "")
			assert.Equal(t, strings.Join(words, ""), text, size)
			first, err := d.PDF()
			require.NoError(t, err)
			again, _ := make(rand.New(rand.NewPCG(uint64(n), 7)))
			second, err := again.PDF()
			require.NoError(t, err)
			assert.True(t, string(first) == string(second), "the same bytes")
		}
	}
}

// chance is a document of chance, and its words in order.
func chance(t *testing.T, rng *rand.Rand, size paper.Size, large bool) (*typeset.Setter, []string) {
	t.Helper()
	d := typeset.New(typeset.Options{Paper: size, Large: large, Title: "T", Language: "en"})
	var words []string
	number := 0
	text := func(most int) string {
		var list []string
		for range 1 + rng.IntN(most) {
			number++
			list = append(list, fmt.Sprint("w", number, strings.Repeat("x", rng.IntN(12)), "♭"[:3*rng.IntN(2)]))
		}
		words = append(words, list...)
		return strings.Join(list, " ")
	}
	for range 40 {
		switch rng.IntN(7) {
		case 0:
			d.Heading(text(4))
		case 1:
			d.Text(typeset.Bold(text(3)), typeset.Plain(" "+text(60)))
		case 2:
			d.Item("", typeset.Italic(text(30)))
		case 3:
			d.Music(drawing(t, 1+rng.IntN(3)))
		case 4:
			d.Table([]string{text(1), text(1)}, [][]string{{text(1), text(1)}, {text(1), text(1)}})
		case 5:
			d.Together(func() { d.Text(typeset.Plain(text(20))) })
		case 6:
			d.Rule()
		}
	}
	return d, words
}

// within checks that a page's ink keeps to the paper, and that no text lies on another.
func within(t *testing.T, p *display.Page, what string) {
	t.Helper()
	floor := display.Millimetres(0)
	for i := range p.Blocks {
		b := &p.Blocks[i]
		last := floor
		b.Walk(func(item display.Item, down display.Spaces) {
			box := item.Shape.Bounds().Moved(0, down)
			left, right := b.Left+box.Left.On(b.Space), b.Left+box.Right.On(b.Space)
			top, bottom := b.Top+box.Top.On(b.Space), b.Top+box.Bottom.On(b.Space)
			assert.True(t, left > 0 && top > 0 && right < p.Width+0.1 && bottom < p.Height, "%s: %v of %T reaches over the edge", what, box, item.Shape)
			if _, isText := item.Shape.(display.Text); isText && b.Purpose != display.Furniture {
				assert.Greater(t, float64(b.Top)+0.01, float64(floor), what)
			}
			last = max(last, b.Top+0.9*(bottom-b.Top))
		})
		if b.System == nil {
			floor = max(floor, b.Top)
			continue
		}
		floor = last
	}
}
