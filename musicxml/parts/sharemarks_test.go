package parts_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
)

// TestSharedStaffMarks: what all have stands once, what one has with the voice of its
// player, above for the first and below for the second (common practice, no source); taken
// apart again each player has what the score had.
func TestSharedStaffMarks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why           string
		first, second string
		want          string
		above, below  int // marks that say a voice, and where they stand
	}{
		{"both alike: once", `!p !< E5:h !. E5:h`, `!p !< C5:h !. C5:h`, `!p !< C5+E5:h !. C5+E5:h`, 0, 0},
		{"a hairpin of the first alone", `!< E5:h !. E5:h`, `C5:h C5:h`, `"1." !< E5:h !. E5:h / C5:h C5:h`, 2, 0},
		{"of the second alone, in unison", `E5:h E5:h`, `!> E5:h !. E5:h`, `"2." !> E5:h !. E5:h / E5:h E5:h`, 0, 2},
		{"hairpins that end apart", `!< E5:h !. E5:h`, `!< C5:w !.`, `!< !< E5:h !. E5:h !. / C5:w`, 2, 2},
		{"two dynamics", `!p E5:w`, `!f C5:w`, `!p !f E5:w / C5:w`, 1, 1},
		{"words of one", `"dolce" E5:w`, `C5:w`, `"1." "dolce" E5:w / C5:w`, 1, 0},
		{"one plays alone", `!p E5:w`, `R`, `!p "1." E5:w`, 0, 0},
		{"the second alone", `R`, `!p C5:w`, `"2." !p C5:w`, 0, 0},
	} {
		score := readBytes(t, shorthand.Score(t, shorthand.Entry{Name: "Flute 1", Music: c.first + " | E5:w"}, shorthand.Entry{Name: "Flute 2", Music: c.second + " | E5:w"}))
		o := parts.DefaultOptions()
		single, err := allSheets(t, score, o)
		require.NoError(t, err)
		o.Share = [][]string{{"Flute 1", "Flute 2"}}
		shared, err := allSheets(t, score, o)
		require.NoError(t, err)
		staff := partOf(shared[0])
		assert.Equal(t, c.want+` | "a 2" E5:w`, shorthand.Read(staff), c.why)
		var above, below int
		for _, direction := range directionsOf(staff) {
			switch {
			case musicxml.Child(direction, "voice") == nil || musicxml.Attr(direction, "placement") == "":
			case musicxml.ChildText(direction, "voice") == "1":
				assert.Equal(t, "above", musicxml.Attr(direction, "placement"), c.why)
				above++
			default:
				assert.Equal(t, "below", musicxml.Attr(direction, "placement"), c.why)
				below++
			}
		}
		assert.Equal(t, [2]int{c.above, c.below}, [2]int{above, below}, c.why)
		o = parts.DefaultOptions()
		o.Players = true
		back, err := allSheets(t, readBytes(t, shared[0].Bytes(musicxml.WriteOptions{})), o)
		require.NoError(t, err)
		for k := range single {
			assert.Equal(t, shorthand.Read(partOf(single[k])), shorthand.Read(partOf(back[k])), "%s, player %d", c.why, k+1)
		}
	}
}

func directionsOf(part *etree.Element) []*etree.Element {
	var all []*etree.Element
	for _, measure := range musicxml.Children(part, "measure") {
		all = append(all, musicxml.Children(measure, "direction")...)
	}
	return all
}

func readBytes(t *testing.T, text []byte) *musicxml.Score {
	t.Helper()
	score, err := musicxml.Read(text, musicxml.ReadOptions{})
	require.NoError(t, err)
	return score
}
