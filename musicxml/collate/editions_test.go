package collate_test

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// TestEditionsAgainstConcertScores holds the parts of the editions in
// ../shared/scores/written against ../shared/scores/concert, which was made from
// them by plain interval arithmetic. They agree, but for the parts whose signature
// contradicts their transposition in the edition. contradictions names those;
// contradictionsIn reads them off the files again.
func TestEditionsAgainstConcertScores(t *testing.T) {
	contradictions := map[string][]string{
		"Brahms_Op.45_1": nil,
		"Brahms_Op.68_1": {"Bb Clarinet 1: 1", "Bb Clarinet 2: 1", "Eb Horn 3: 1", "Eb Horn 4: 1"},
		"Brahms_Op.90_3": {"Bb Clarinet 1: 101", "Bb Clarinet 2: 101"},
		"Brahms_Op.98_4": {"E Horn 1: 1", "E Horn 2: 1", "E Trumpet 1: 1", "E Trumpet 2: 1"},
		"Haydn_104_1":    nil,
	}
	for _, concert := range musicxmltest.SharedSpread(t, "scores/concert/*.mxl") {
		name := strings.TrimSuffix(filepath.Base(concert), ".concert.mxl")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			expected, known := contradictions[name]
			require.True(t, known)
			score := readScore(t, concert)
			edition := readScore(t, filepath.Join(musicxmltest.SharedDir(t), "scores", "written", name+".mxl"))
			assert.Equal(t, expected, contradictionsIn(t, edition, score))
			results, err := collator(t, score).Collate(readFiles(t, extract(t, edition, parts.DefaultOptions())...), collate.Options{Complete: true}, nil)
			require.NoError(t, err)
			var found []string
			for _, r := range results {
				for _, d := range r.Differences {
					assert.Equal(t, collate.Key, d.Kind, "%s: %s", r.Part, d.Text)
					found = append(found, r.Part+": "+d.Measure)
				}
			}
			assert.Equal(t, expected, found)
		})
	}
}

// contradictionsIn lists where an edition's signature with its transposition is
// not the concert score's, by the circle of fifths (seven semitones up are one
// fifth, a letter step more is twelve less). Parts without any signature are left
// out.
func contradictionsIn(t *testing.T, edition, concert *musicxml.Score) []string {
	t.Helper()
	var list []string
	for i, p := range edition.ScoreParts() {
		written, err := edition.ReadPart(i, nil)
		require.NoError(t, err)
		sounding, err := concert.ReadPart(i, nil)
		require.NoError(t, err)
		by, a, b := 0, 0, 0
		bars := sounding.SelectElements("measure")
		for k, m := range written.SelectElements("measure") {
			if e := m.FindElement("attributes/transpose"); e != nil {
				by = 7*number(e, "chromatic") - 12*number(e, "diatonic")
			}
			newA, newB := fifthsAfter(m, a), fifthsAfter(bars[k], b)
			if (newA != a || newB != b) && (newA+by-newB)%12 != 0 {
				list = append(list, p.Name+": "+m.SelectAttrValue("number", ""))
			}
			a, b = newA, newB
		}
	}
	return list
}

func fifthsAfter(measure *etree.Element, before int) int {
	if e := measure.FindElement("attributes/key"); e != nil {
		return number(e, "fifths")
	}
	return before
}

func number(e *etree.Element, tag string) int {
	if c := e.SelectElement(tag); c != nil {
		n, _ := strconv.Atoi(strings.TrimSpace(c.Text()))
		return n
	}
	return 0
}
