package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// A picture's file must travel with the part (musicxml-coverage, section 11): the
// copyist says which.
func TestPicturesAreSaid(t *testing.T) {
	t.Parallel()
	text := miniText(miniPart{"Flute", []string{direction("", dtype(`<image source="map.png" type="image/png"/>`), "") + whole}})
	score := scoreFrom(t, strings.Replace(text, "<part-list>", `<credit page="1"><credit-image source="seal.png" type="image/png"/></credit><part-list>`, 1))
	var said, codes []string
	for _, w := range makeMini(t, score, 0, parts.DefaultOptions()).Report.Warnings {
		codes = append(codes, string(w.Code))
		if w.Code == "picture" {
			said = append(said, strings.Split(w.Text, `"`)[1])
		}
	}
	assert.Contains(t, codes, "picture")
	assert.Equal(t, []string{"map.png", "seal.png"}, said, "in the music and on the first page")
}

// Names in a header that is hostile or bare do no harm: no part-list entry, no
// defaults, a page of no size.
func TestBareHeaders(t *testing.T) {
	t.Parallel()
	for _, header := range []string{
		`<part-list><score-part id="P1"><part-name/></score-part></part-list>`,
		`<defaults/><part-list><score-part id="P1"><part-name/></score-part></part-list>`,
		`<defaults><scaling><millimeters>0</millimeters><tenths>0</tenths></scaling><page-layout><page-height>0</page-height><page-width>NaN</page-width></page-layout></defaults>` +
			`<credit page="1"><credit-words default-x="1e300" default-y="x">Title</credit-words></credit><credit/>` +
			`<part-list><score-part id="P1"><part-name/></score-part></part-list>`,
	} {
		text := `<score-partwise>` + header + `<part id="P1"><measure number="1">` + opening + whole + `</measure></part></score-partwise>`
		score, err := musicxml.Read([]byte(text), musicxml.ReadOptions{})
		require.NoError(t, err)
		root := makeMini(t, score, 0, parts.DefaultOptions()).Document.Root()
		assert.Equal(t, "P1", root.FindElement("part-list/score-part/part-name").Text(), "the id where there is no name")
		assert.Equal(t, "8", root.FindElement("defaults/scaling/millimeters").Text())
		for _, words := range root.FindElements("credit/credit-words") {
			assert.False(t, strings.Contains(words.SelectAttrValue("default-y", ""), "NaN"))
		}
	}
}
