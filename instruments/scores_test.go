package instruments_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// unnamed are part names of the shared material that say no instrument.
var unnamed = regexp.MustCompile(`^(|P\d+|Part \d+|MusicXML Part|Part name|Staff "Test"|Long\s+Staff\s+Name|displayed .*)$`)

// TestScoresTransposition holds recognition against what editors wrote: in the
// written scores and the test suite every part states its <transpose>, and the
// part's names alone must lead to it.
func TestScoresTransposition(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	checked := 0
	for _, path := range musicxmltest.SharedFiles(t, "scores/written/*.mxl", "testsuite/xmlFiles/72[abd]*.xml", "testsuite/xmlFiles/41c*.xml") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		require.NoError(t, err)
		for n, query := range queries(score) {
			part, err := score.ReadPart(n, nil)
			require.NoError(t, err)
			stated := part.FindElement(".//transpose")
			if stated == nil {
				continue
			}
			m := c.Match(query)
			if unnamed.MatchString(query.Name) {
				continue
			}
			require.NotNil(t, m.Instrument, query.Name)
			by := m.Instrument.Interval()
			octaves := transposeNumber(stated, "octave-change")
			assert.Equal(t, transposeNumber(stated, "diatonic")+7*octaves, by.Diatonic, "%s: %s as %s", filepath.Base(path), query.Name, m.Instrument.ID)
			assert.Equal(t, transposeNumber(stated, "chromatic")+12*octaves, by.Chromatic, "%s: %s as %s", filepath.Base(path), query.Name, m.Instrument.ID)
			checked++
		}
	}
	assert.Greater(t, checked, 60, "the material has that many transposing parts")
}

// transposeNumber returns a number of a <transpose>, 0 where it says none.
func transposeNumber(transpose *etree.Element, tag string) int {
	n, _ := strconv.Atoi(musicxml.ChildText(transpose, tag))
	return n
}

// TestScoresNames wants every part of the shared material recognised by its names,
// but for those that name no instrument.
func TestScoresNames(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	parts := 0
	for _, path := range musicxmltest.SharedFiles(t, "scores/*/*.mxl", "testsuite/xmlFiles/*.*") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			continue // the test suite has broken files on purpose
		}
		for _, query := range queries(score) {
			parts++
			if unnamed.MatchString(query.Name) {
				continue
			}
			m := c.Match(query)
			require.NotNil(t, m.Instrument, query.Name)
			assert.NotEqual(t, instruments.ByNone, m.By)
		}
	}
	assert.Greater(t, parts, 350)
}

func queries(score *musicxml.Score) []instruments.Query {
	var all []instruments.Query
	for _, part := range score.ScoreParts() {
		q := instruments.Query{Name: part.Name, Abbreviation: part.Abbreviation}
		for _, i := range part.Instruments {
			q.InstrumentNames = append(q.InstrumentNames, i.Name)
			if q.Sound == "" {
				q.Sound = i.Sound
			}
		}
		all = append(all, q)
	}
	return all
}

var soundID = regexp.MustCompile(`<sound id="([^"]+)"`)

// TestStandardSounds wants every sound id of the catalogue in the standard's list.
func TestStandardSounds(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile(filepath.Join(musicxmltest.SharedDir(t), "musicxml-4.0", "sounds.xml"))
	require.NoError(t, err)
	standard := map[string]bool{}
	for _, id := range soundID.FindAllStringSubmatch(string(list), -1) {
		standard[id[1]] = true
	}
	require.Greater(t, len(standard), 800)
	for _, i := range instrumentstest.Load(t).All() {
		for _, sound := range i.Sounds {
			assert.True(t, standard[sound], "%s: %s is no standard sound", i.ID, sound)
		}
	}
}
