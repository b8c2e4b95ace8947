package transpose_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose"
)

// suiteParts reads the parts of a file of the test suite.
func suiteParts(t *testing.T, pattern string) []*etree.Element {
	t.Helper()
	path := musicxmltest.SharedFiles(t, filepath.Join("testsuite", "xmlFiles", pattern+"*"))[0]
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	return shorthand.PartsOf(t, score)
}

// Files of the test suite with what their own descriptions, or reading them by
// hand, say of the moved part.
func TestSuite(t *testing.T) {
	t.Parallel()
	rows := []struct {
		file string
		part int
		to   []transpose.Stretch
		want string
		why  string
	}{
		{"01d", 0, clarinetBFlat, "key:2 tr:-1,-2 D(-1.5)4+three-quarters-flat E(-0.5)4+quarter-flat F(1.5)4+three-quarters-sharp G(1.5)4+three-quarters-sharp | " +
			"D(-1.5)5+three-quarters-flat E(-0.5)5+quarter-flat F(1.5)5+three-quarters-sharp G(1.5)5+three-quarters-sharp",
			"quarter tones; the file prints no signs, so they are added"},
		{"13e", 0, clarinetBFlat, "key:4 tr:-1,-2 A4 key:0 A4 key:2 A4 key:-3 tr:-2,-2 Bbb4+flat-flat", "the key changes at every beat; seven sharps would be nine"},
		{"43b", 0, clarinetBFlat, "key1:2 key2:4 tr:-1,-2 G4 C#3", "a key for each staff"},
		{"43c", 0, clarinetBFlat, "key1:2 tr:-1,-2 G4 key2:4 C#3", "the second staff's key stands after the backup"},
		{"72a", 0, sounding, "key:0 C4 D4 E4 F4 | G4 A4 B4 C5", "trumpet in B flat: all show the C major scale"},
		{"72a", 1, sounding, "key:0 C4 D4 E4 F4 | G4 A4 B4 C5", "horn in E flat"},
		{"72a", 2, sounding, "key:0 C4 D4 E4 F4 | G4 A4 B4 C5", "piano"},
		{"72c", 0, sounding, "key:-2 Eb4 | Bb3 | Bb3", "the whole piece is in B flat major, sounding"},
		{"72c", 0, clarinetA, "key:-5 tr:-2,-3 Gb4 | Db4 | Db4", "B flat is D flat for a clarinet in A"},
	}
	for _, row := range rows {
		t.Run(row.file+" "+row.to[0].To.Interval().String(), func(t *testing.T) {
			t.Parallel()
			part := suiteParts(t, row.file)[row.part]
			move(t, part, options(row.to))
			assert.Equal(t, row.want, inShorthand(t, part), row.why)
		})
	}
}

// "Each part plays a c”, just displayed in different display pitches."
func TestSuiteTranspositionsSoundAlike(t *testing.T) {
	t.Parallel()
	for _, file := range []string{"72b", "72d"} {
		for i, part := range suiteParts(t, file) {
			move(t, part, options(sounding))
			for _, p := range part.FindElements("//pitch") {
				got, err := music.ReadPitch(p)
				require.NoError(t, err)
				assert.Equal(t, "C5", got.String(), "%s, part %d", file, i+1)
			}
		}
	}
}

func TestSuiteChurchModes(t *testing.T) {
	t.Parallel()
	part := suiteParts(t, "13b")[0]
	var modes []string
	for _, m := range part.FindElements("//key/mode") {
		modes = append(modes, m.Text())
	}
	move(t, part, options(clarinetBFlat))
	for i, key := range part.FindElements("//key") {
		assert.Equal(t, "4", musicxml.ChildText(key, "fifths"), "all modes are given with two sharps")
		assert.Equal(t, modes[i], musicxml.ChildText(key, "mode"))
	}
}

func TestSuiteFiguredBass(t *testing.T) {
	t.Parallel()
	part := suiteParts(t, "74a")[0]
	move(t, part, options(clarinetBFlat))
	var figures []string
	for _, f := range part.FindElements("//figure") {
		figures = append(figures, strings.TrimSpace(musicxml.ChildText(f, "prefix")+" "+musicxml.ChildText(f, "figure-number")+" "+musicxml.ChildText(f, "suffix")))
	}
	assert.Equal(t, []string{"3", "sharp 1", "natural 3", "natural 5", "6", "5 slash", "flat 127 slash"}, figures,
		"over G: G sharp, B flat, D, and a G flat far above; over A: A sharp, C, E, A flat")
}

// Trees that lie in slabs are moved as well as any other: no element grows into
// its neighbour.
func TestMoveInSlabs(t *testing.T) {
	t.Parallel()
	score, err := musicxml.ReadFile(musicxmltest.SharedFiles(t, "scores/concert/Brahms_Op.45*")[0], musicxml.ReadOptions{})
	require.NoError(t, err)
	var slabs musicxml.Slabs
	for i := range score.Parts {
		slabs.Reset()
		a, err := score.ReadPart(i, &slabs)
		require.NoError(t, err)
		b, err := score.ReadPart(i, nil)
		require.NoError(t, err)
		stretches := []transpose.Stretch{{To: hornF[0].To, WithoutSignature: true}, {Measure: 20, To: clarinetA[0].To}}
		move(t, a, options(stretches))
		move(t, b, options(stretches))
		assert.True(t, sameTree(a, b), score.Parts[i].ID)
	}
}
