package system

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
)

// Of two bar lines at one place the one that says more of the form wins: the end and the
// repeats over the double line, that over a heavy one, that over dashes; what is drawn for one
// staff says nothing (gehrkens-mnt s.36-44; MusicXML 4.0, bar-style).
func TestRanksOfBarlines(t *testing.T) {
	t.Parallel()
	rank := func(style string) int {
		b := etree.NewElement("barline")
		if style != "" {
			b.CreateElement("bar-style").SetText(style)
		}
		return styleRank(b)
	}
	ranks := [][]string{{"", "regular", "none", "tick", "short"}, {"dashed", "dotted"}, {"heavy"}, {"light-light"}, {"light-heavy", "heavy-light", "heavy-heavy"}}
	for i, styles := range ranks {
		for _, style := range styles {
			assert.Equal(t, rank(styles[0]), rank(style), style)
			if i > 0 {
				assert.Greater(t, rank(style), rank(ranks[i-1][0]), style)
			}
		}
	}
	assert.Zero(t, rank(""))
}

// What of a <sound> is said to everybody: the tempo and where playback goes on (MusicXML 4.0,
// sound).
func TestFacetsOfSounds(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]facet{
		"tempo": saysTempo, "dacapo": saysJump, "dalsegno": saysJump, "segno": saysJump, "coda": saysJump, "tocoda": saysJump, "fine": saysJump, "forward-repeat": saysJump,
		"dynamics": 0, "pizzicato": 0, "pan": 0, "elevation": 0, "damper-pedal": 0, "soft-pedal": 0, "sostenuto-pedal": 0, "divisions": 0, "time-only": 0, "id": 0,
	} {
		assert.Equal(t, want, soundFacet(key), key)
	}
}
