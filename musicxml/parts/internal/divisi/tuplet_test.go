package divisi

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// In whose time a piece of a note is written: the note's own tuplet where its values hold the
// piece, else so many in the time of the next lower power of two (MusicXML 4.0,
// time-modification).
func TestTupletOfAPiece(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		own            string // actual and normal, "" for none
		num, den       int64
		actual, normal int64
	}{
		{"", 1, 2, 1, 1}, {"", 3, 4, 1, 1}, {"", 1, 3, 3, 2}, {"", 2, 3, 3, 2}, {"", 1, 6, 3, 2}, {"", 1, 5, 5, 4}, {"", 1, 7, 7, 4}, {"", 1, 9, 9, 8}, {"", 1, 15, 15, 8}, {"", 1, 17, 1, 1},
		{"3 2", 1, 3, 3, 2}, {"6 4", 1, 6, 6, 4}, {"6 4", 2, 3, 6, 4}, {"5 4", 4, 5, 5, 4}, {"3 2", 1, 5, 5, 4}, {"0 4", 1, 3, 3, 2}, {"6 0", 1, 3, 3, 2}, {"x 4", 1, 2, 1, 1},
	} {
		xml := "<note/>"
		if row.own != "" {
			xml = "<note><time-modification><actual-notes>" + row.own[:1] + "</actual-notes><normal-notes>" + row.own[2:] + "</normal-notes></time-modification></note>"
		}
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(xml))
		actual, normal := tupletOf(doc.Root(), musicxml.NewFraction(row.num, row.den))
		assert.Equal(t, []int64{row.actual, row.normal}, []int64{actual, normal}, "%d/%d in %q", row.num, row.den, row.own)
	}
}
