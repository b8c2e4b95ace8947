package transpose_test

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose"
)

// The movements in ../shared/scores/concert are the very music of the editions
// in ../shared/scores/written. Moving the one must give the other, both ways:
// every spelled pitch, and the signature and every printed sign wherever the
// edition's signature is its concert one moved as its notes are.

// printedNote is a note as it stands on the page, and the signature before it.
type printedNote struct {
	pitch, sign string
	fifths      int
}

// printedBars reads a part's notes bar by bar, by code apart from the package.
func printedBars(t *testing.T, part *etree.Element) [][]printedNote {
	t.Helper()
	var bars [][]printedNote
	fifths := 0
	for _, m := range part.SelectElements("measure") {
		var notes []printedNote
		for _, e := range m.ChildElements() {
			if f := e.FindElement("key/fifths"); f != nil {
				var err error
				fifths, err = strconv.Atoi(f.Text())
				require.NoError(t, err)
			}
			if p := e.SelectElement("pitch"); p != nil {
				pitch := musicxml.ChildText(p, "step") + " " + musicxml.ChildText(p, "alter") + " " + musicxml.ChildText(p, "octave")
				notes = append(notes, printedNote{pitch, musicxml.ChildText(e, "accidental"), fifths})
			}
		}
		bars = append(bars, notes)
	}
	return bars
}

// strayKeys are the parts whose edition has signatures that are not those of
// the concert score moved with the notes, with how many fifths they are off.
var strayKeys = map[string]int{
	"Brahms_Op.68_1 Bb Clarinet 1": -2, // three flats until bar 189, as the concert parts
	"Brahms_Op.68_1 Bb Clarinet 2": -2,
	"Brahms_Op.68_1 Eb Horn 3":     -1, // one flat, for none
	"Brahms_Op.68_1 Eb Horn 4":     -1,
	"Brahms_Op.90_3 Bb Clarinet 1": -2, // three flats at the return, as the concert parts
	"Brahms_Op.90_3 Bb Clarinet 2": -2,
	"Brahms_Op.98_4 E Horn 1":      -1, // four flats, for three
	"Brahms_Op.98_4 E Horn 2":      -1,
	"Brahms_Op.98_4 E Trumpet 1":   -1,
	"Brahms_Op.98_4 E Trumpet 2":   -1,
}

func TestEditions(t *testing.T) {
	t.Parallel()
	for _, path := range musicxmltest.SharedFiles(t, "scores/concert/*.mxl") {
		name := strings.TrimSuffix(filepath.Base(path), ".concert.mxl")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			concert, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
			require.NoError(t, err)
			written, err := musicxml.ReadFile(filepath.Join(filepath.Dir(filepath.Dir(path)), "written", name+".mxl"), musicxml.ReadOptions{})
			require.NoError(t, err)
			require.Len(t, concert.Parts, len(written.Parts))
			for i, p := range written.ScoreParts() {
				sounding, err := concert.ReadPart(i, nil)
				require.NoError(t, err)
				page, err := written.ReadPart(i, nil)
				require.NoError(t, err)
				compareWithEdition(t, name+" "+p.Name, sounding, page)
			}
		})
	}
}

func compareWithEdition(t *testing.T, name string, sounding, page *etree.Element) {
	t.Helper()
	own := stretchesOf(t, page)
	by := own[0].To.Interval().Fifths()
	concert, err := transpose.ConcertStretches(timelineOf(t, page))
	require.NoError(t, err)

	toWritten := sounding.Copy()
	move(t, toWritten, transpose.Options{Stretches: own, MaxSignature: 6})
	stray := comparePages(t, name+" written", printedBars(t, page), printedBars(t, toWritten))

	toConcert := page.Copy()
	move(t, toConcert, transpose.Options{Stretches: concert, MaxSignature: 6})
	assert.Equal(t, stray, -comparePages(t, name+" in concert", printedBars(t, sounding), printedBars(t, toConcert)), name)
	assert.Equal(t, strayKeys[name], stray, "%s: signatures, moved by %d fifths", name, by)
}

// comparePages compares pitches everywhere, and signs where the signature is the
// one expected. It returns by how many fifths other signatures are off.
func comparePages(t *testing.T, name string, want, got [][]printedNote) int {
	t.Helper()
	require.Len(t, got, len(want), name)
	stray := 0
	for i := range want {
		require.Len(t, got[i], len(want[i]), "%s, bar %d", name, i+1)
		for k, w := range want[i] {
			g := got[i][k]
			if g.fifths != w.fifths {
				stray = w.fifths - g.fifths
				w.fifths, w.sign = g.fifths, g.sign
			}
			assert.Equal(t, w, g, "%s, bar %d, note %d", name, i+1, k+1)
		}
	}
	return stray
}
