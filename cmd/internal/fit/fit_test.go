package fit_test

import (
	"cmp"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

func musicOf(t testing.TB, level instruments.Level, all ...scoredPart) []*fit.Music {
	t.Helper()
	o := open(t, scoreText(t, all...), level)
	var music []*fit.Music
	for i := range o.assignments {
		m, err := fit.ReadMusic(o.job, i, nil)
		require.NoError(t, err)
		music = append(music, m)
	}
	return music
}

// Worked by hand from the rows of trade/ranges.csv that are named; shares are
// notes in range by all notes.
func TestFit(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		part scoredPart
		// want is how much is in range, and comfortable; the octave, key and clef.
		have, want, why string
		level           instruments.Level // default: professional
	}{
		{scoredPart{"Viola", "", 0, "C3 D3 E3 F3 G3 A3 B3 C4"}, "clarinet-bflat", "1 1 +1 +2 treble", "C3 is below its D3 (rk-tables), so the line goes up an octave; C major is D major", ""},
		{scoredPart{"Bassoon", "", -1, "C2 D2 E2 F2"}, "trombone", "1 1 +1 -1 bass", "C2 and D2 are below E2 (gehrkens-mnt)", ""},
		{scoredPart{"Bassoon", "", -2, "G2 A2 Bb2 D3"}, "euphonium t.c.", "1 1 +0 +0 treble", "G2 to D3 are its written A3 to E4, two flats become none", ""},
		{scoredPart{"Violin", "", 1, "G3 A3 Bb3 D4"}, "flute", "1 1 +1 +1 treble", "three notes of four are below B3 (rk-tables)", ""},
		{scoredPart{"Tuba", "", 0, "D1 E1 F1 G1"}, "double-bass", "1 0.75 +0 +0 bass", "D1 to G1 with the low C extension (mem-adler), comfortable from E1 on", ""},
		{scoredPart{"Trumpet in Bb", "-1 -2 0", 0, "C6 D6"}, "horn-f", "1 1 -1 -1 treble", "sounding Bb5 and C6 are past F5 (rk-tables); B flat major is F major", ""},
		{scoredPart{"Piano", "", 0, "C1 C2 C3 C4 | C5 C6 C7 r"}, "trombone", "0.8571 0.5714 +1 +0 bass", "too wide for any octave: seven octaves of C on a trombone (E2 to F5, comfortable F2 to Bb4): the first bar an octave higher without its lowest note, the second two lower, from the barline on; C3 and C4 are comfortable in both", ""},
		{scoredPart{"Flute", "", 0, "A5 G5 F5 E5"}, "trumpet-bflat", "1 1 -1 +2 treble", "Trumpet in Bb (grade 2): G3 to F5, sounding F3 to Eb5 (pearson-grades): A5 is too high in any octave but the lower", "school"},
		{scoredPart{"Flute", "", 0, "E6 C6 C6 C6 | C6 C6 C6 C6 | C6 C6 C6 C6"}, "flute", "0.9166 0.9166 +0 +0 treble", "its own instrument keeps its octave: high for young players (Eb6), yet written for them", "school"},
		{scoredPart{"Violin", "", 4, "E4 G#4 B4"}, "alto-saxophone-eflat", "1 1 +0 -5 treble", "E major is C sharp major, read as D flat", ""},
		{scoredPart{"Piccolo", "0 0 1", 0, "C5 E5"}, "flute", "1 1 +0 +0 treble", "written C5 sounds C6", ""},
		{scoredPart{"Double Bass", "0 0 -1", 0, "E2 F2 G2 A2"}, "tuba", "1 0.75 +0 +0 bass", "written E2 sounds E1, comfortable from F1 on", ""},
	} {
		t.Run(test.part.name+" on "+test.have, func(t *testing.T) {
			t.Parallel()
			level := cmp.Or(test.level, instruments.Professional)
			band, err := fit.ParseBand(instrumentstest.Load(t), test.have)
			require.NoError(t, err)
			found := fit.Fit(musicOf(t, level, test.part)[0], instrumentstest.Load(t), band.Instruments(), level)
			require.Len(t, found, 1)
			c := found[0]
			assert.Equal(t, band[0].Instrument.ID, c.Instrument)
			assert.Equal(t, test.want, fmt.Sprintf("%v %v %+d %+d %s", c.InRange, c.Comfortable, c.Octave, c.Key, c.Clef), test.why)
			assert.NotEmpty(t, c.Text)
		})
	}
}

// Who comes first is taste; what must hold is common practice, no source.
func TestFitRanks(t *testing.T) {
	t.Parallel()
	bassoon := musicOf(t, "", scoredPart{"Bassoon", "", 0, "C3 D3 E3 F3 | G3 A3 B3 C4"})[0]
	found := fit.Fit(bassoon, instrumentstest.Load(t), nil, instruments.Professional)
	place := map[string]int{}
	for i, c := range found {
		place[c.Instrument] = i + 1
		assert.GreaterOrEqual(t, c.InRange, 0.8, c.Instrument)
	}
	assert.Equal(t, 1, place["bassoon"], "the part's own instrument comes first")
	for _, pair := range [][2]string{
		{"bass-clarinet-bflat", "flute"}, {"baritone-saxophone-eflat", "alto-saxophone-eflat"}, {"euphonium", "trumpet-bflat"},
		{"trombone", "violin"}, {"cello", "violin"},
	} {
		require.NotZero(t, place[pair[0]], pair[0])
		if place[pair[1]] > 0 {
			assert.Less(t, place[pair[0]], place[pair[1]], "%s before %s: nearer in sound or family", pair[0], pair[1])
		}
	}
	for _, never := range []string{"timpani", "snare-drum", "percussion", "soprano-voice", "bass-voice"} {
		assert.Zero(t, place[never], "%s for a bassoon's tune", never)
	}
}

func TestFitStrokes(t *testing.T) {
	t.Parallel()
	m := musicOf(t, "", scoredPart{"Snare Drum", "", 0, "u!C5"})
	found := fit.Fit(m[0], instrumentstest.Load(t), nil, instruments.Professional)
	require.NotEmpty(t, found)
	assert.Equal(t, "snare-drum", found[0].Instrument)
	for _, c := range found {
		assert.True(t, instrumentstest.Load(t).ByID(c.Instrument).Flags.Unpitched, c.Instrument)
	}
}

// Bands in words and out of files: who is found, or what is wrong. A word that may mean a
// voice is heard beside the other players.
func TestBands(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	words := func(list string) (fit.Band, error) { return fit.ParseBand(c, list) }
	file := func(text string) (fit.Band, error) { return fit.ReadBand(c, strings.NewReader(text)) }
	for _, test := range []struct {
		read       func(string) (fit.Band, error)
		from, want string
	}{
		{words, "2 flute, 3 clarinet, euphonium t.c.", "flute×2 clarinet-bflat×3 euphonium-bflat-treble×1"},
		{words, "2 flutes; 1x oboe\nhorn in F x 4", "flute×2 oboe×1 horn-f×4"},
		{words, "clarinet-a, 2 clarinet-a", "clarinet-a×3"},
		{words, "Klarinette in A, violino", "clarinet-a×1 violin×1"},
		{words, "2 cornet, tenor horn, baritone, tuba", "cornet-bflat×2 tenor-horn-eflat×1 baritone-horn-bflat-treble×1 tuba×1"},
		{words, "soprano, alto, tenor, baritone", "soprano-voice×1 alto-voice×1 tenor-voice×1 baritone-voice×1"},
		{words, "baritone", "baritone-voice×1"},
		{words, "flute, bassoom", `no instrument is known by "bassoom"; did you mean bassoon, bass-oboe?`},
		{words, "", `the ensemble has no players; name them as in "2 flute, 3 clarinet"`},
		{words, "0 flute", `the ensemble has no players; name them as in "2 flute, 3 clarinet"`},
		{words, "501 flute", "the ensemble has 501 players; the most is 500"},
		{file, "instrument,count\nflute,2\n\"Clarinet in A\",1\n", "flute×2 clarinet-a×1"},
		{file, "\ufeffInstrument;Count\nflute;2\noboe;\n", "flute×2 oboe×1"},
		{file, "# our band\n2 flute\noboe\n", "flute×2 oboe×1"},
		{file, "flute,2\nobeo,1\n", `line 2: no instrument is known by "obeo"; did you mean oboe?`},
		{file, "flute,many\n", `line 1: "many" players of flute is not a number`},
	} {
		band, err := test.read(test.from)
		found := fmt.Sprint(err)
		if err == nil {
			found = bandText(band)
		}
		assert.Equal(t, test.want, found, test.from)
	}
}

func bandText(band fit.Band) string {
	var words []string
	for _, s := range band {
		words = append(words, fmt.Sprintf("%s×%d", s.Instrument.ID, s.Count))
	}
	return strings.Join(words, " ")
}
