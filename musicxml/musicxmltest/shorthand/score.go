package shorthand

import (
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// Entry is a part of a score: its name, its score-instruments I1, I2 … and its
// music.
type Entry struct {
	Name        string
	Instruments []string
	Music       string
}

// Score builds a partwise score of parts P1, P2 … .
func Score(t testing.TB, entries ...Entry) []byte {
	t.Helper()
	doc := etree.NewDocument()
	root := doc.CreateElement("score-partwise")
	root.CreateAttr("version", "4.0")
	list := root.CreateElement("part-list")
	for n, entry := range entries {
		id := "P" + strconv.Itoa(n+1)
		e := list.CreateElement("score-part")
		e.CreateAttr("id", id)
		e.CreateElement("part-name").SetText(entry.Name)
		for i, name := range entry.Instruments {
			instrument := e.CreateElement("score-instrument")
			instrument.CreateAttr("id", "I"+strconv.Itoa(i+1))
			instrument.CreateElement("instrument-name").SetText(name)
		}
		part := Part(t, entry.Music)
		part.CreateAttr("id", id)
		root.AddChild(part)
	}
	data, err := doc.WriteToBytes()
	require.NoError(t, err)
	return data
}

// PartsOf reads all parts of a score.
func PartsOf(t testing.TB, score *musicxml.Score) []*etree.Element {
	t.Helper()
	parts := make([]*etree.Element, len(score.Parts))
	for i := range parts {
		part, err := score.ReadPart(i, nil)
		require.NoError(t, err)
		parts[i] = part
	}
	return parts
}
