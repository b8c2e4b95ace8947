package rests

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// A player who has nothing in a movement is lent the bars of another part: how they are
// counted, divided and keyed, on one staff, and nothing that is played or read.
func TestLeaveNothing(t *testing.T) {
	t.Parallel()
	const from = `<part><measure number="1"><print new-system="yes"/><attributes><divisions>2</divisions><key number="2"><fifths>1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>` +
		`<part-symbol>brace</part-symbol><instruments>2</instruments><clef number="1"><sign>G</sign></clef><staff-details/><transpose number="1"><chromatic>-2</chromatic></transpose><for-part number="1"/><directive>x</directive><measure-style/></attributes>` +
		`<barline location="left"/><note/><backup/><forward/><direction/><harmony/><figured-bass/><sound/><listening/><bookmark/><link/><grouping/><barline/></measure></part>`
	for silent, want := range map[bool]string{false: from, true: `<part><measure number="1"><print new-system="yes"/><attributes><divisions>2</divisions><key><fifths>1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>` +
		`<transpose><chromatic>-2</chromatic></transpose><for-part/></attributes><barline location="left"/><barline/></measure></part>`} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(from))
		d := &draft.Draft{Part: doc.Root(), Assignment: assign.Assignment{Silent: silent}, Survey: &survey.Part{Staves: 2, Source: []transpose.Stretch{{Staff: 1, Measure: 1}, {Staff: 2, Measure: 2}}}, Timeline: &musicxml.Timeline{}}
		require.NoError(t, LeaveNothing(d))
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, want, text)
		assert.Equal(t, map[bool]int{true: 1, false: 2}[silent], d.Survey.Staves)
		assert.Equal(t, map[bool]int{true: 1, false: 2}[silent], len(d.Survey.Source))
		assert.Equal(t, 1, d.Survey.Source[0].Measure, "of the first staff")
	}
}
