package engraving_test

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/musicxmltest"
)

// inkBox is the box of a drawn glyph in drawing units.
type inkBox struct {
	name                     string
	left, top, right, bottom float64
}

func (a inkBox) overlaps(b inkBox) bool {
	touch := 0.6 // glyphs may come as near as this without colliding
	if strings.HasPrefix(a.name, "head-") && strings.HasPrefix(b.name, "head-") {
		touch = 1.3 // heads a third apart touch, heads a second apart share the stem
	}
	return a.left+touch < b.right && b.left+touch < a.right && a.top+touch < b.bottom && b.top+touch < a.bottom
}

func (a inkBox) sameAs(b inkBox) bool { return a == b }

// glyphBoxes reads the boxes of the glyphs, in hundredths of a staff space.
func glyphBoxes(t testing.TB) map[string]inkBox {
	t.Helper()
	data, err := os.ReadFile("fonts/signs.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	require.NoError(t, err)
	boxes := map[string]inkBox{}
	for _, row := range rows[1:] {
		n := [4]float64{}
		for i := range n {
			n[i], err = strconv.ParseFloat(row[3+i], 64)
			require.NoError(t, err)
		}
		boxes[row[0]] = inkBox{row[0], n[0] / 10, n[1] / 10, n[2] / 10, n[3] / 10}
	}
	return boxes
}

// barBoxes are the heads, accidentals, dots and rests of each bar drawn.
func barBoxes(t testing.TB, d *engraving.Drawing, glyphs map[string]inkBox) [][]inkBox {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString("<page>"+d.Figures()+"</page>"))
	var bars [][]inkBox
	for _, g := range doc.FindElements("//g[@data-bar]") {
		var bar []inkBox
		for _, use := range g.SelectElements("use") {
			if box, ok := placedBox(t, use, glyphs); ok {
				bar = append(bar, box)
			}
		}
		bars = append(bars, bar)
	}
	return bars
}

func placedBox(t testing.TB, use *etree.Element, glyphs map[string]inkBox) (inkBox, bool) {
	name := strings.TrimPrefix(use.SelectAttrValue("href", ""), "#dp-")
	full := strings.TrimSuffix(name, "-s")
	scale := 1.0
	if full != name {
		scale = 0.7
	}
	if strings.HasPrefix(full, "flag-") || full == "dot" {
		return inkBox{}, false // flags may pass beside heads, repeat dots are dots too
	}
	box, known := glyphs[full]
	require.True(t, known, name)
	x, errX := strconv.ParseFloat(use.SelectAttrValue("x", ""), 64)
	y, errY := strconv.ParseFloat(use.SelectAttrValue("y", ""), 64)
	require.NoError(t, errX)
	require.NoError(t, errY)
	return inkBox{full, x + box.left*scale, y + box.top*scale, x + box.right*scale, y + box.bottom*scale}, true
}

// collisions lists pairs of glyphs in a bar that lie over one another. Two voices
// in unison share a head: equal boxes are one.
func collisions(bar []inkBox) []string {
	var found []string
	for i, a := range bar {
		for _, b := range bar[:i] {
			if a.overlaps(b) && !a.sameAs(b) && !nested(a, b) {
				found = append(found, fmt.Sprintf("%+v and %+v", a, b))
			}
		}
	}
	return found
}

// nested accidentals stand one above the other with the tail of one beside the
// body of the next, as in printed music: boxes of signs a fifth apart may cross.
func nested(a, b inkBox) bool {
	if strings.HasPrefix(a.name, "head-") || strings.HasPrefix(b.name, "head-") {
		return false
	}
	return a.bottom-b.top < 3 || b.bottom-a.top < 3
}

// Chords of up to five notes in one and two voices, with accidentals on all of
// them: nothing may lie over anything else ("accidentals and chords that do not
// collide").
func TestChordsDoNotCollide(t *testing.T) {
	t.Parallel()
	glyphs := glyphBoxes(t)
	for seed := range musicxmltest.Sweep(uint64(120), 300) {
		m := crowd{rand.New(rand.NewPCG(seed, 2))}.music()
		d, err := engraving.Draw(m, engraving.Options{Width: 80})
		require.NoError(t, err)
		for _, bar := range barBoxes(t, d, glyphs) {
			if !assert.Empty(t, collisions(bar), "seed %d", seed) {
				return
			}
		}
	}
}

// crowd makes up bars of thick chords.
type crowd struct{ *rand.Rand }

func (r crowd) music() *engraving.Music {
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, engraving.Time{Beats: "4", BeatType: "4"})
	for range 4 {
		m.AddBar(r.voice(5)...)
		if r.IntN(2) == 0 {
			measure := m.LastMeasure()
			measure.Voices = append(measure.Voices, engraving.Voice{Events: engraving.Sequence(r.voice(4))})
		}
	}
	m.Beam()
	return m
}

func (r crowd) voice(octave int) []engraving.Event {
	signs := []string{"sharp", "flat", "natural", "double-sharp", "flat-flat", "quarter-sharp"}
	var events []engraving.Event
	for _, v := range []engraving.Value{engraving.Half, engraving.Quarter, engraving.Eighth, engraving.Eighth} {
		e := engraving.Event{Value: v, Dots: 0}
		for range 1 + r.IntN(5) {
			n := engraving.Note{Place: engraving.Place{Step: r.IntN(7), Octave: octave - r.IntN(2)}}
			if r.IntN(3) > 0 {
				n.Accidental = &engraving.Accidental{Sign: signs[r.IntN(len(signs))], Parentheses: r.IntN(8) == 0}
			}
			e.Notes = append(e.Notes, n)
		}
		if r.IntN(5) == 0 {
			e.Notes = nil
		}
		events = append(events, distinct(e))
	}
	return events
}
