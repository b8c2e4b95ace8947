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
