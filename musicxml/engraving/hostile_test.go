package engraving_test

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest"
)

// Files of the test suite with elements lost, doubled and numbers turned into
// nonsense: either refused with an error or drawn as SVG that can be parsed.
func TestDamagedPartsAreDrawnOrRefused(t *testing.T) {
	t.Parallel()
	for n, file := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*") {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		if err != nil {
			continue // not well-formed, tried by package musicxml
		}
		for seed := range musicxmltest.Sweep(uint64(4), 12) {
			part, err := score.ReadPart(0, nil)
			if err != nil {
				break
			}
			damage{rand.New(rand.NewPCG(uint64(n), seed))}.harm(part)
			m, err := notate.Part(part, notate.Options{RestBars: 2})
			if err != nil {
				continue
			}
			d, err := engraving.Draw(m, engraving.Options{Width: 70})
			require.NoError(t, err)
			require.NoError(t, etree.NewDocument().ReadFromString(d.SVG()), "%s, seed %d", filepath.Base(file), seed)
		}
	}
}

// damage is what a broken program may do to a file.
type damage struct{ *rand.Rand }

func (r damage) harm(part *etree.Element) {
	all := part.FindElements(".//*")
	for range 1 + r.IntN(8) {
		e := all[r.IntN(len(all))]
		parent := e.Parent()
		if parent == nil {
			continue
		}
		switch r.IntN(4) {
		case 0:
			parent.RemoveChild(e)
		case 1:
			parent.InsertChildAt(r.IntN(len(parent.Child)+1), e.Copy())
		case 2:
			e.SetText([]string{"0", "-1", "99999999", "x", "", "0.5", "1000000000000000000"}[r.IntN(7)])
		default:
			for i := range e.Attr {
				e.Attr[i].Value = []string{"0", "-3", "999999", "stop", "start", "yes"}[r.IntN(6)]
			}
		}
	}
}
