package technique_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/technique"
)

// Exact words, one warning a bar for what goes and one for chords.
func TestRemove(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	const note = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration>`
	const third = `<note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration></note>`
	score, err := musicxml.Read([]byte(`<score-partwise><part-list><score-part id="P1"><part-name>Violin</part-name></score-part></part-list><part id="P1">`+
		`<measure number="1"><attributes><divisions>1</divisions></attributes>`+note+`</note>`+
		note+`<notations><technical><up-bow/><string>2</string></technical></notations></note>`+
		note+`<notations><technical><up-bow/></technical></notations></note></measure>`+
		`<measure number="2">`+note+`</note>`+note+`</note>`+third+note+`</note>`+third+`</measure></part></score-partwise>`), musicxml.ReadOptions{})
	require.NoError(t, err)
	part, err := score.ReadPart(0, nil)
	require.NoError(t, err)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	warnings := technique.Remove(timeline, catalogue.ByID("violin"), catalogue.ByID("flute"))
	assert.Equal(t, []musicxml.Warning{
		{Code: "foreign-technique", Measure: "1", Beat: "2", Text: "left out what Flute does not have: string, up bow"},
		{Code: "unplayable", Measure: "2", Beat: "2", Text: "a chord, which Flute cannot play"},
	}, warnings, "chords once a bar")
	assert.Nil(t, part.FindElement(".//notations"))
}
