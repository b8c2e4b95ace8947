package engraving_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/svgread"
)

var update = flag.Bool("update", false, "write the golden files anew")

var treble44 = engraving.Time{Beats: "4", BeatType: "4", Symbol: engraving.TimeCommon}

// The goldens were looked at as pictures and read line by line; each is small
// enough for that.
var goldens = []struct {
	name, why string
	music     func() *engraving.Music
}{
	{"scale", "clef, signature, stems on both sides, a ledger line", scale},
	{"beams", "beams with a hook, a secondary beam, a triplet, a flag, dots", beams},
	{"chords", "a second in a chord, three accidentals side by side, a courtesy sign, an editor's sign", chords},
	{"ties", "a tie over the barline, a slur, a staccato dot, a fermata on a rest", ties},
	{"voices", "two voices: stems apart, a shared unison, rests to the sides", voices},
	{"changes", "a clef before the barline, naturals that cancel, a repeat, a multi-bar rest", changes},
}

func event(v engraving.Value, step, octave int, alter float64) engraving.Event {
	return engraving.Pitched(v, 0, step, octave, alter)
}

func scale() *engraving.Music {
	m := engraving.NewMusic("Horn in F", engraving.Treble(), engraving.Key{Fifths: 2}, treble44)
	m.AddBar(event(engraving.Quarter, 0, 4, 1), event(engraving.Quarter, 6, 4, 0), event(engraving.Half, 5, 5, 0))
	m.Bars[0].Right.Style = engraving.BarFinal
	return m
}

func beams() *engraving.Music {
	m := engraving.NewMusic("", engraving.Bass(), engraving.Key{Fifths: -1}, treble44)
	dotted := engraving.Pitched(engraving.Eighth, 1, 1, 3, 0)
	triplet := []engraving.Event{event(engraving.Eighth, 3, 3, 0), event(engraving.Eighth, 4, 3, 0), event(engraving.Eighth, 5, 3, 0)}
	for i := range triplet {
		triplet[i].Ratio = engraving.Ratio{Actual: 3, Normal: 2}
	}
	triplet[0].Tuplets = []engraving.TupletEnd{{ID: 1, Start: true, Text: "3"}}
	triplet[2].Tuplets = []engraving.TupletEnd{{ID: 1}}
	events := append([]engraving.Event{dotted, event(engraving.Sixteenth, 2, 3, 0)}, triplet...)
	events = append(events, event(engraving.Sixteenth, 0, 3, 0), event(engraving.Sixteenth, 2, 3, 0), event(engraving.Eighth, 4, 2, 0),
		engraving.RestOf(engraving.Eighth, 0), event(engraving.Eighth, 0, 2, 0))
	m.AddBar(events...)
	m.Beam()
	return m
}

func chords() *engraving.Music {
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, treble44)
	chord := engraving.Event{Value: engraving.Half, Notes: []engraving.Note{
		{Place: engraving.Place{Step: 3, Octave: 4}, Alter: 1, Accidental: &engraving.Accidental{Sign: "sharp"}},
		{Place: engraving.Place{Step: 4, Octave: 4}, Alter: 0, Accidental: &engraving.Accidental{Sign: "natural"}},
		{Place: engraving.Place{Step: 6, Octave: 4}, Alter: -1, Accidental: &engraving.Accidental{Sign: "flat"}},
	}}
	courtesy := event(engraving.Quarter, 0, 5, 0)
	courtesy.Notes[0].Accidental = &engraving.Accidental{Sign: "natural", Parentheses: true}
	editor := event(engraving.Quarter, 1, 5, 0.5)
	editor.Notes[0].Accidental = &engraving.Accidental{Sign: "quarter-sharp", Brackets: true}
	m.AddBar(chord, courtesy, editor)
	return m
}

func ties() *engraving.Music {
	m := engraving.NewMusic("", engraving.Alto(), engraving.Key{}, treble44)
	tied := event(engraving.Half, 0, 4, 1)
	tied.Notes[0].TieTo = true
	m.AddBar(event(engraving.Half, 6, 3, 0), tied)
	end := event(engraving.Quarter, 0, 4, 1)
	end.Notes[0].TieFrom = true
	from, to := event(engraving.Quarter, 4, 3, 0), event(engraving.Quarter, 5, 3, 0)
	from.Slurs = []engraving.SlurEnd{{ID: 1, Start: true}}
	to.Slurs = []engraving.SlurEnd{{ID: 1}}
	from.Articulations = []engraving.Articulation{{Sign: "staccato"}}
	pause := engraving.RestOf(engraving.Quarter, 0)
	pause.Articulations = []engraving.Articulation{{Sign: "fermata"}}
	m.AddBar(end, from, to, pause)
	m.PrintAccidentals()
	return m
}

func voices() *engraving.Music {
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, treble44)
	m.AddBar(event(engraving.Quarter, 4, 5, 0), event(engraving.Quarter, 6, 4, 0), engraving.RestOf(engraving.Half, 0))
	measure := m.LastMeasure()
	measure.Voices = append(measure.Voices, engraving.Voice{Events: engraving.Sequence([]engraving.Event{
		event(engraving.Quarter, 3, 5, 0), event(engraving.Quarter, 6, 4, 0), engraving.RestOf(engraving.Quarter, 0), event(engraving.Quarter, 2, 4, 0),
	})})
	return m
}

func changes() *engraving.Music {
	m := engraving.NewMusic("", engraving.Treble(), engraving.Key{Fifths: 1}, treble44)
	m.AddBar(event(engraving.Whole, 4, 4, 0))
	m.Bars[0].Right = engraving.Barline{Style: engraving.BarFinal, Repeat: true}
	m.AddBar(event(engraving.Whole, 4, 3, 0))
	tenor, plain := engraving.Tenor(), engraving.Key{}
	m.LastMeasure().Changes = []engraving.Change{{Clef: &tenor}, {Key: &plain}}
	m.AddBar()
	m.Bars[2].RestBars = 12
	return m
}

func TestGoldenDrawings(t *testing.T) {
	t.Parallel()
	for _, row := range goldens {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			d, err := engraving.Draw(row.music(), engraving.Options{Width: 60})
			require.NoError(t, err)
			_, err = svgread.Read(d.SVG())
			require.NoError(t, err, "a golden must be readable")
			path := filepath.Join("testdata", row.name+".golden.svg")
			if *update {
				require.NoError(t, os.WriteFile(path, []byte(d.SVG()), 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, string(want), d.SVG(), row.why)
		})
	}
}

// A page must work without a network: the only address is the name of SVG itself.
func TestDrawingsNameNoAddress(t *testing.T) {
	t.Parallel()
	d, err := engraving.Draw(changes(), engraving.Options{})
	require.NoError(t, err)
	text := d.SVG() + d.Figures() + engraving.Definitions(d)
	for _, part := range strings.Split(text, `xmlns="http://www.w3.org/2000/svg"`) {
		assert.NotContains(t, part, "//")
		assert.NotContains(t, part, "url(")
	}
}
