package transpose_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose"
)

// A concert score holds parts at sounding pitch, or at their own octave, and
// says in <for-part> what leads back.
func TestConcertScoreThereAndBack(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, written, concert, why string }{
		{"clarinet in B flat", "key:2 tr:-1,-2 D4 G#4+sharp", "key:0 fp:-1,-2 C4 F#4+sharp", "MusicXML 4.0, for-part"},
		{"flute", "key:0 C5", "key:0 C5", "there is nothing to say"},
		{"piccolo", "key:0 tr:0,0,1 C5", "key:0 tr:0,0,1 C5", "octaves stay (trade/notation-rules.md §12)"},
		{"bass clarinet", "key:2 tr:-1,-2,-1 D4", "key:0 fp:-1,-2,-1 C3", "sounding pitch, octave included"},
		{"respelled part", "key:3 tr:-1,-3 F#5", "key:-6 fp:-1,-3 Eb5", "its <transpose> says that it is respelled"},
		{"respelled part that does not say so", "key:5 tr:-2,-3 B4 D#5", "key:-4 fp:-1,-3 Ab4 C5",
			"aprl: concert A flat, clarinet in A in five sharps; eight sharps are not written"},
		{"seven sharps are followed back", "key:7 tr:-1,-2 C#5", "key:5 fp:-1,-2 B4", "an edition's own signature"},
		{"change of instrument", "key:1 tr:2,3 C4 | key:0 tr:-1,-2 C4", "key:-2 fp:2,3 Eb4 | fp:-1,-2 Bb3", "test suite 72c"},
		{"to an instrument that sounds as written", "key:1 tr:-3,-5 F#4 | key:2 tr:0,0 F#4", "key:2 fp:-3,-5 C#4 | fp:0,0 F#4", "alto flute to flute: the <for-part> ends"},
		{"to one that transposes by octaves", "key:2 tr:-1,-2 D4 | key:0 tr:0,0,1 C5", "key:0 fp:-1,-2 C4 | tr:0,0,1 fp:0,0 C5", "a <for-part> adds to a <transpose>"},
		{"two staves", "key1:2 key2:0 tr1:-1,-2 tr2:0,0 D5 back:1 s2:C4", "key1:0 key2:0 fp1:-1,-2 fp2:0,0 C5 C4", "one for each staff"},
		{"one key for two staves that move apart", "key:0 tr2:-1,-2 C5 back:1 s2:D4", "key1:0 key2:-2 fp1:0,0 fp2:-1,-2 C5 C4", "one key again on the way back"},
		{"one key for two staves an octave apart", "key:1 tr1:0,0,1 tr2:0,0 C5 back:1 s2:C4", "key:1 tr1:0,0,1 tr2:0,0 C5 C4", "octaves part no key"},
		{"a hidden signature at a change of instrument", "key!1 tr:2,3 C4 | tr:-1,-2 C4", "key!-2 fp:2,3 Eb4+flat | key!-1 fp:-1,-2 Bb3+flat", "it is said again, hidden, and goes again"},
		{"one with octaves of its signs", `{<attributes><key><fifths>1</fifths><key-octave number="1">5</key-octave></key><transpose><diatonic>2</diatonic><chromatic>3</chromatic></transpose></attributes>} C4 | tr:0,0 C4`, "fp:2,3 key:-2 Eb4 | key:1 fp:0,0 C4", "the same"},
		{"tones over two changes of instrument", "{<attributes><key><key-step>D</key-step><key-alter>1</key-alter><key-step>F</key-step><key-alter>1</key-alter></key><transpose><diatonic>2</diatonic><chromatic>3</chromatic></transpose></attributes>} D4 | tr:-1,-2 D4 | tr:-2,-3 D4",
			"fp:2,3 key: F4 | key: fp:-1,-2 C4 | key: fp:-2,-3 B3", "all are said anew from the first, and go again"},
		{"a doubling above that goes below", `{<attributes><key><fifths>2</fifths></key><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><double above="yes"/></transpose></attributes>} D4 | {<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><double/></transpose></attributes>} D4`,
			"tr:0,0 fp:-1,-2 key:0 C4 | tr:0,0 C4", "MusicXML 4.0, double: above"},
		{"a key behind time that was turned back", "key:1 tr:2,3 C4*2 back:2 v2:C4 tr:-1,-2 v2:C4", "key:-2 fp:2,3 Eb4 Eb4 key:-1 fp:-1,-2 Bb3", "it goes again where its <transpose> stands"},
		{"a trill without signature", "key!0 tr:-1,-2 E4[<notations><ornaments><trill-mark/></ornaments></notations>]", "key!-2 fp:-1,-2 D4", "F above E becomes E flat above D, with a sign that goes again"},
		{"a trill in a chord", "key!0 tr:2,3 F4[<notations><ornaments><trill-mark/></ornaments></notations>] &G4+natural(cautionary)", "key!-3 fp:2,3 Ab4+flat Bb4+flat(cautionary)", "what is printed beside it in the chord is seen with it"},
		{"a stretch respelled on the way", "key:5 tr:-2,-3 B4~ | key:1 ~B4 B4", "key:-4 fp:-1,-3 Ab4~ | key:4 fp:-2,-3 ~Ab4 G#4", "ties hold both ways"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, row.written)
			o := transpose.DefaultOptions()
			o.AsPrinted, o.ConcertScore = true, true
			var err error
			o.Stretches, err = transpose.ConcertStretches(timelineOf(t, e))
			require.NoError(t, err)
			move(t, e, o)
			assert.Equal(t, row.concert, inShorthand(t, e), row.why)
			for _, transposition := range e.FindElements("//transpose") {
				said, err := music.ReadTransposition(transposition, 0)
				require.NoError(t, err)
				assert.True(t, said.OctaveOnly(), "a concert score has no other <transpose> (MusicXML 4.0, concert-score)")
			}

			stretches, _, err := transpose.ForPart(timelineOf(t, e))
			require.NoError(t, err)
			move(t, e, transpose.Options{Stretches: stretches, MaxSignature: 7, AsPrinted: true})
			assertSamePage(t, partOf(t, row.written), e, "back by its <for-part>")
			assert.Empty(t, e.FindElements("//for-part"), "the part is made")
		})
	}
}

func TestForPart(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, part string
		ok         bool
		want       []transpose.Stretch
		why        string
	}{
		{"none", "key:0 C4", false, asIs(to(0, 0, 0)), "a part without"},
		{"from the start", "key:0 fp:-1,-2 C4", true, asIs(clarinetBFlat), "MusicXML 4.0, for-part"},
		{"with an octave", "key:0 fp:-1,-2,-1 C4", true, asIs(bassClarinet), "as it is written"},
		{"over a transpose", "{<attributes><transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose></attributes>} {<attributes><for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part></attributes>} C4",
			true, asIs(bassClarinet), "musicxml-coverage §2: combine with an octave transpose already there"},
		{"seven sharps are written", "key:5 fp:-1,-2 B4", true, asIs(clarinetBFlat), "as many as there are letters"},
		{"a change behind a grace note of its moment", "key:0 C4 g:C4 fp:-1,-2 C4", true, []transpose.Stretch{{AsIs: true}, {Onset: musicxml.NewFraction(1, 1), Graces: 1, To: clarinetBFlat[0].To, AsIs: true}}, "behind the grace note, which is read before it"},
		{"more than can be written", "key:-6 fp:-2,-3 Gb4 | key:0 C4", true, []transpose.Stretch{
			{To: clarinetA[0].To}, {Measure: 1, To: clarinetA[0].To, AsIs: true}}, "nine flats are taken by the twin, three flats as they are"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			got, ok, err := transpose.ForPart(timelineOf(t, partOf(t, row.part)))
			require.NoError(t, err)
			assert.Equal(t, row.ok, ok, row.why)
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

// A part that a concert score has as it sounds, though its player reads it by octaves, goes back
// there: the page that was made of it remembers so.
func TestOctavePartAtSoundingPitch(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ concert, written string }{{"key:0 fp:0,0,1 C5", "key:0 tr:0,0,1 C4"}, {"key:0 fp:-1,-2 C5", "key:2 tr:-1,-2 D5"}} {
		e := partOf(t, row.concert)
		stretches, _, err := transpose.ForPart(timelineOf(t, e))
		require.NoError(t, err)
		move(t, e, transpose.Options{Stretches: stretches, MaxSignature: 7, AsPrinted: true})
		assert.Equal(t, row.written, inShorthand(t, e))
		back, err := transpose.ConcertStretches(timelineOf(t, e))
		require.NoError(t, err)
		assert.Equal(t, []transpose.Stretch{{}}, back)
		move(t, e, transpose.Options{Stretches: back, MaxSignature: 7, AsPrinted: true, ConcertScore: true})
		assertSamePage(t, partOf(t, row.concert), e, "and back")
	}
}

// A score that says of a clarinet in B flat that it is to be one in A, made a concert score: the
// one <for-part> leads back to what stood there.
func TestForPartIsSaidOnce(t *testing.T) {
	t.Parallel()
	e := partOf(t, "key:0 tr:-1,-2 fp:-2,-3 D4")
	o := options(sounding)
	o.ConcertScore = true
	move(t, e, o)
	assert.Equal(t, "key:-2 fp:-1,-2 C4", inShorthand(t, e))
}

// A staff on which nothing is played yet has its signature all the same.
func TestKeyOfAnEmptyStaff(t *testing.T) {
	t.Parallel()
	got, _ := moved(t, "key1:0 key2:0 C5", options([]transpose.Stretch{{Staff: 1}, {Staff: 2, To: clarinetBFlat[0].To}}))
	assert.Equal(t, "key1:0 key2:2 tr2:-1,-2 C5", got)
	got, _ = moved(t, "key1:0 key2:2 tr2:-1,-2 C5", options(sounding))
	assert.Equal(t, "key1:0 key2:0 C5", got)
}

// asIs is the stretch to be followed to the letter.
func asIs(stretches []transpose.Stretch) []transpose.Stretch {
	s := stretches[0]
	s.AsIs = true
	return []transpose.Stretch{s}
}

func TestStretches(t *testing.T) {
	t.Parallel()
	got, err := transpose.Stretches(timelineOf(t, partOf(t, "key:0 tr:2,3 C4 | C4 tr:-1,-2 C4 | key:2 tr:-1,-2 C#4")))
	require.NoError(t, err)
	require.Len(t, got, 2)
	assert.Equal(t, transpose.Stretch{To: transpose.Transposition{Diatonic: 2, Chromatic: 3}, AsIs: true}, got[0])
	assert.Equal(t, 1, got[1].Measure)
	assert.Equal(t, "1", got[1].Onset.String())
	assert.Equal(t, transpose.Transposition{Diatonic: -1, Chromatic: -2}, got[1].To)

	got, err = transpose.Stretches(timelineOf(t, partOf(t, "tr2:-1,-2 C5 back:1 s2:C4")))
	require.NoError(t, err)
	assert.Equal(t, []transpose.Stretch{
		{Staff: 1, AsIs: true}, {Staff: 2, To: transpose.Transposition{Diatonic: -1, Chromatic: -2}, AsIs: true},
	}, got, "staff by staff")

	_, err = transpose.Stretches(timelineOf(t, partOf(t, "C4 | tr:x,y C4")))
	assert.Error(t, err)
}

// A part with a stretch in mid-measure, between two notes, under a held note,
// and at the end of a bar, is moved where it says, and the file says so there.
func TestTranspositionsAreWrittenAtTheirTime(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, part string
		at         string // in quarters
		want, why  string
	}{
		{"between two notes", "key:0 C4 C4", "1", "key:0 C4 key:2 tr:-1,-2 D4", "before the note that begins there"},
		{"before grace notes", "key:0 C4 g:B3 C4", "1", "key:0 C4 key:2 tr:-1,-2 C#4 D4", "they belong to what follows"},
		{"where another voice has the time", "key:0 C4*4 back:4 v2:C3 v2:C3*3", "1", "key:0 C4 C3 key:2 tr:-1,-2 D3", "score order, not document order"},
		{"under a held note", "key:0 C4*4", "1", "key:0 C4 key:2 tr:-1,-2", "time is turned back to it"},
		{"at the end of the bar", "key:0 C4*2 | C4", "2", "key:0 C4 key:2 tr:-1,-2 | D4", "it holds from the next note"},
		{"after a left barline and print", "key:0 {<print/>} {<barline location=\"left\"/>} C4", "0", "key:2 tr:-1,-2 D4", "with what stands there"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, row.part)
			onset := timelineOf(t, partOf(t, "R*"+row.at+" R")).Measures[0].Events
			o := options([]transpose.Stretch{{}, {Onset: onset[len(onset)-1].Onset, To: clarinetBFlat[0].To}})
			move(t, e, o)
			assert.Equal(t, row.want, inShorthand(t, e), row.why)

			timeline := timelineOf(t, e)
			require.NotNil(t, timeline)
			o.AsPrinted = true
			page := partOf(t, row.part)
			move(t, page, o)
			move(t, page, transpose.Options{Stretches: []transpose.Stretch{{AsIs: true}}, AsPrinted: true})
			assertSamePage(t, partOf(t, row.part), page, "and back, without the turning of time")

			got, err := transpose.Stretches(timeline)
			require.NoError(t, err)
			assert.Equal(t, o.Stretches[1].Onset, got[len(got)-1].Onset, "read back at the same time")
			assert.Equal(t, timelineOf(t, partOf(t, row.part)).Measures[0].Length, timeline.Measures[0].Length, "the bar is as long as it was")
		})
	}
}

// The move keeps the schema's order: what was valid stays valid.
func TestMovedPartsAreValid(t *testing.T) {
	t.Parallel()
	musicxmltest.SharedDir(t)
	parts := []string{
		"key:2 tr:-1,-2 D4 G#4 | key:0 tr:0,0,1 C5",
		"key1:2 key2:0 tr1:-1,-2 tr2:0,0 D5 back:1 s2:C4",
		"key:0 C4*4",
		"key:0 F#4[<stem>up</stem><notations><ornaments><turn/></ornaments></notations>]",
	}
	dir := t.TempDir()
	var files []string
	for i, part := range parts {
		for _, concert := range []bool{true, false} {
			e := partOf(t, part)
			o := options([]transpose.Stretch{{To: clarinetA[0].To}, {Onset: timelineOf(t, partOf(t, "R R")).Measures[0].Events[1].Onset}})
			if concert {
				o = transpose.DefaultOptions()
				o.ConcertScore = true
			}
			move(t, e, o)
			xml := `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>` +
				text(e) + `</score-partwise>`
			file := filepath.Join(dir, string(rune('a'+2*i))+map[bool]string{true: "c", false: "p"}[concert]+".musicxml")
			require.NoError(t, os.WriteFile(file, []byte(xml), 0o600))
			files = append(files, file)
		}
	}
	out, err := musicxmltest.Validate(t, files...)
	assert.NoError(t, err, out)
}

// What is added at a place of a staff is what was said last for it.
func TestSaidAt(t *testing.T) {
	t.Parallel()
	bflat, ina := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	two := musicxml.NewFraction(2, 1)
	said := []transpose.Stretch{{To: bflat}, {Measure: 1, Onset: two, Staff: 1, To: ina}, {Measure: 3, Staff: 2, To: ina}, {Measure: 4, To: transpose.Transposition{}}}
	for _, row := range []struct {
		at    musicxml.Position
		staff int
		want  transpose.Transposition
	}{
		{musicxml.Position{}, 1, bflat}, {musicxml.Position{Measure: 1}, 1, bflat}, {musicxml.Position{Measure: 1, Onset: two}, 1, ina}, {musicxml.Position{Measure: 2}, 1, ina},
		{musicxml.Position{Measure: 2}, 2, bflat}, {musicxml.Position{Measure: 3}, 2, ina}, {musicxml.Position{Measure: 4}, 1, transpose.Transposition{}}, {musicxml.Position{Measure: 4}, 2, transpose.Transposition{}},
	} {
		assert.Equal(t, row.want, transpose.SaidAt(said, row.at, row.staff), "%v", row)
	}
	assert.Zero(t, transpose.SaidAt(nil, musicxml.Position{}, 1))
}
