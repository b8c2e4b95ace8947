package changes_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/wording"
	"deskpart/transpose/pitch"
)

// The list of a player's instruments stands over the first bar, over the first of several
// staves; nothing where there is none to print (perc-list).
func TestList(t *testing.T) {
	t.Parallel()
	const words = `<direction-type><words font-style="italic">Triangle, Cymbals</words></direction-type>`
	for _, row := range []struct {
		has    string
		staves int
		want   string
	}{{"", 1, ""}, {"Triangle, Cymbals", 1, `<direction placement="above">` + words + `</direction>`}, {"Triangle, Cymbals", 2, `<direction placement="above">` + words + `<staff>1</staff></direction>`}} {
		part := shorthand.Part(t, "u!E4:w")
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		d := &draft.Draft{Part: part, Timeline: timeline, Staves: row.staves}
		d.Assignment.Has = row.has
		require.NoError(t, changes.List(d))
		got := ""
		for _, e := range part.FindElements("measure/direction") {
			text, err := etree.NewDocumentWithRoot(e.Copy()).WriteToString()
			require.NoError(t, err)
			got += text
		}
		assert.Equal(t, row.want, got)
	}
	empty := &draft.Draft{Timeline: new(musicxml.Timeline)}
	empty.Assignment.Has = "Triangle"
	require.NoError(t, changes.List(empty))
}

// What a player is told in any language is what the catalogue reads as a change to that
// very instrument.
func TestAnnouncementsAreChanges(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	for _, language := range pitch.Languages() {
		for from, to := range map[string]string{"flute": "piccolo", "oboe": "english-horn", "clarinet-bflat": "bass-clarinet-bflat", "bassoon": "contrabassoon", "alto-saxophone-eflat": "soprano-saxophone-bflat"} {
			old, in := catalogue.ByID(from), catalogue.ByID(to)
			require.NotNil(t, old, from)
			require.NotNil(t, in, to)
			text := wording.Take(language, in.Label(language, ""))
			m, ok := catalogue.MatchChange(text, old)
			if assert.True(t, ok, text) {
				assert.Equal(t, in.Kind, m.Instrument.Kind, text)
			}
		}
	}
}
