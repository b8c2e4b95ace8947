package engraving_test

import (
	"fmt"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/svgread"
	"deskpart/musicxml/musicxmltest"
)

// pitchesOf lists what the model wants to be read, by staff and data-bar: the
// printed place and alteration of every head that is drawn, in no order.
func pitchesOf(m *engraving.Music) map[[2]int][]string {
	want := map[[2]int][]string{}
	for s := range m.Staves {
		for b := range m.Staves[s].Measures {
			source := m.Bars[b].Source
			if source == 0 {
				source = b + 1
			}
			key := [2]int{s, source}
			if m.Bars[b].RestBars > 0 {
				continue
			}
			for _, v := range m.Staves[s].Measures[b].Voices {
				for _, e := range v.Events {
					for _, n := range e.Notes {
						if !e.Hidden && !n.Hidden && n.Head != engraving.HeadNone {
							want[key] = append(want[key], svgread.Note{Step: n.Step, Octave: n.Octave, Alter: n.Alter}.String())
						}
					}
				}
			}
			sort.Strings(want[key])
		}
	}
	return want
}

// pitchesIn lists what a reader finds in a drawing, in the same form.
func pitchesIn(t testing.TB, d *engraving.Drawing) map[[2]int][]string {
	t.Helper()
	lines, err := svgread.Read(d.Figures())
	require.NoError(t, err)
	got := map[[2]int][]string{}
	for _, l := range lines {
		for s, staff := range l.Staves {
			for _, bar := range staff.Bars {
				for _, n := range bar.Notes {
					got[[2]int{s, bar.Number}] = append(got[[2]int{s, bar.Number}], n.String())
				}
			}
		}
	}
	for key := range got {
		sort.Strings(got[key])
	}
	return got
}

// tune makes up bars of random music: any clef, key, value, chord and tie.
type tune struct {
	*rand.Rand
}

func (r tune) music() *engraving.Music {
	clefs := []engraving.Clef{engraving.Treble(), engraving.Bass(), engraving.Alto(), engraving.Tenor(),
		{Sign: engraving.ClefG, Line: 2, Octave: -1}, {Sign: engraving.ClefG, Line: 2, Octave: 1},
		{Sign: engraving.ClefF, Line: 4, Octave: -1}, {Sign: engraving.ClefG, Line: 2, Octave: 2},
		{Sign: engraving.ClefC, Line: 1}, {Sign: engraving.ClefC, Line: 2}, {Sign: engraving.ClefF, Line: 3}, {Sign: engraving.ClefG, Line: 1}}
	clef := clefs[r.IntN(len(clefs))]
	m := engraving.NewMusic("", clef, engraving.Key{Fifths: r.IntN(15) - 7}, engraving.Time{Beats: "4", BeatType: "4"})
	center := centerOf(clef)
	for bar := range 3 + r.IntN(6) {
		m.AddBar(r.bar(center)...)
		if bar == 0 {
			continue
		}
		if r.IntN(5) == 0 {
			key := engraving.Key{Fifths: r.IntN(15) - 7}
			m.LastMeasure().Changes = append(m.LastMeasure().Changes, engraving.Change{Key: &key})
		}
		if r.IntN(5) == 0 {
			clef = clefs[r.IntN(len(clefs))]
			other := clef
			center = centerOf(clef)
			m.LastMeasure().Changes = append(m.LastMeasure().Changes, engraving.Change{Clef: &other})
		}
	}
	r.ties(m)
	m.Beam()
	m.PrintAccidentals()
	return m
}

// centerOf is about the middle of a clef's staff, as an octave.
func centerOf(c engraving.Clef) int {
	return map[engraving.ClefSign]int{engraving.ClefG: 4, engraving.ClefF: 3, engraving.ClefC: 4}[c.Sign] + c.Octave
}

func (r tune) bar(center int) []engraving.Event {
	patterns := [][]engraving.Value{
		{engraving.Whole}, {engraving.Half, engraving.Quarter, engraving.Quarter},
		{engraving.Eighth, engraving.Eighth, engraving.Quarter, engraving.Sixteenth, engraving.Sixteenth, engraving.Eighth, engraving.Quarter},
		{engraving.Quarter, engraving.Quarter, engraving.Quarter, engraving.Quarter},
	}
	var events []engraving.Event
	for _, v := range patterns[r.IntN(len(patterns))] {
		e := r.note(v, center)
		for range r.IntN(3) * r.IntN(2) {
			e.Notes = append(e.Notes, r.note(v, center).Notes[0])
		}
		if r.IntN(8) == 0 {
			g := r.note(engraving.Eighth, center)
			g.Grace, g.Duration = true, engraving.Length(engraving.Eighth, 0, engraving.Ratio{}).Sub(engraving.Length(engraving.Eighth, 0, engraving.Ratio{}))
			events = append(events, g)
		}
		events = append(events, distinct(e))
	}
	return events
}

func (r tune) note(v engraving.Value, center int) engraving.Event {
	return engraving.Pitched(v, 0, r.IntN(7), center-1+r.IntN(3), float64(r.IntN(5)-2))
}

// distinct keeps one note of each place: two spellings on one line in one chord
// are tried apart.
func distinct(e engraving.Event) engraving.Event {
	seen := map[engraving.Place]bool{}
	kept := e.Notes[:0]
	for _, n := range e.Notes {
		if !seen[n.Place] {
			seen[n.Place] = true
			kept = append(kept, n)
		}
	}
	e.Notes = kept
	return e
}

// ties ties some last notes of bars to the first of the next, same place.
func (r tune) ties(m *engraving.Music) {
	staff := &m.Staves[0]
	for b := 0; b+1 < len(staff.Measures); b++ {
		last := staff.Measures[b].Voices[0].Events
		next := staff.Measures[b+1].Voices[0].Events
		if r.IntN(3) > 0 || next[0].Grace {
			continue
		}
		from := &last[len(last)-1]
		for i := range from.Notes {
			from.Notes[i].TieTo = true
		}
		next[0].Notes = append([]engraving.Note(nil), from.Notes...)
		for i := range next[0].Notes {
			next[0].Notes[i].TieTo, next[0].Notes[i].TieFrom = false, true
		}
	}
}

// Whatever is drawn can be read: position, clef, signature, accidentals and ties
// give back every pitch. The expectation is the model itself.
func TestDrawnMusicIsReadBack(t *testing.T) {
	t.Parallel()
	for seed := range musicxmltest.Sweep(uint64(200), 600) {
		m := tune{rand.New(rand.NewPCG(seed, 1))}.music()
		d, err := engraving.Draw(m, engraving.Options{Width: 60})
		require.NoError(t, err)
		if !assert.Equal(t, pitchesOf(m), pitchesIn(t, d), "seed %d", seed) {
			t.Log(d.SVG())
			return
		}
	}
}

// The same music gives the same bytes.
func TestDrawingIsDeterministic(t *testing.T) {
	t.Parallel()
	draw := func() string {
		d, err := engraving.Draw(tune{rand.New(rand.NewPCG(7, 7))}.music(), engraving.Options{})
		require.NoError(t, err)
		return d.SVG() + engraving.Definitions(d)
	}
	assert.Equal(t, draw(), draw())
}

func TestReadBackNamesPitches(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, want string
		note            svgread.Note
	}{
		{"sharp", "scientific pitch in ASCII (contract.md)", "F#4", svgread.Note{Step: 3, Octave: 4, Alter: 1}},
		{"double flat", "contract.md: Ebb2", "Ebb2", svgread.Note{Step: 2, Octave: 2, Alter: -2}},
	} {
		assert.Equal(t, row.want, row.note.String(), fmt.Sprint(row.name, ": ", row.why))
	}
}
