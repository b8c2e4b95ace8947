package musicxml

import (
	"math/rand/v2"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

func TestSlabTake(t *testing.T) {
	t.Parallel()
	const forgotten = 2 // the round before which the memory is cleared
	var s slab[int]
	for round := range 3 {
		var pieces [][]int
		for n := range 300 {
			piece := s.take(n)
			require.Len(t, piece, n)
			require.Equal(t, n, cap(piece), "a piece has no room to grow into the next")
			for i := range piece {
				if round == forgotten {
					require.Zero(t, piece[i], "memory that was forgotten comes back clear")
				}
				piece[i] = n
			}
			pieces = append(pieces, piece)
		}
		for n, piece := range pieces {
			for _, value := range piece {
				require.Equal(t, n, value, "pieces do not overlap")
			}
		}
		if round+1 == forgotten {
			s.forget()
		} else {
			s.reset()
		}
	}
	assert.Less(t, len(s.chunks), 40, "chunks are used again")
}

// TestSlabTreesAreEtreeTrees makes the same random changes to trees of the
// scanner and of etree, which must stay equal: slabs show through nowhere.
func TestSlabTreesAreEtreeTrees(t *testing.T) {
	t.Parallel()
	var slabs Slabs
	for seed, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*a*.xml") {
		text := scoreText(t, path)
		slabs.Reset()
		got, err := newScanner(text, DefaultLimits(), nil, &slabs).document()
		require.NoError(t, err)
		want, err := etreeRead(text, nil)
		require.NoError(t, err)
		for round := range 300 {
			step := uint64(round)
			change(rand.New(rand.NewPCG(uint64(seed), step)), &want.Element)
			change(rand.New(rand.NewPCG(uint64(seed), step)), &got.Element)
			if round%50 == 0 {
				require.Empty(t, differ(&want.Element, &got.Element), "%s, change %d", path, round)
			}
		}
		require.Empty(t, differ(&want.Element, &got.Element), path)
	}
}

// change makes one random change to a random element.
func change(random *rand.Rand, top *etree.Element) {
	e := top.ChildElements()[0]
	for children := e.ChildElements(); len(children) > 0 && random.IntN(8) > 0; children = e.ChildElements() {
		e = children[random.IntN(len(children))]
	}
	at := random.IntN(len(e.Child) + 1)
	switch random.IntN(10) {
	case 0:
		e.CreateAttr("new", "1")
	case 1:
		e.CreateAttr("x:new", "2")
	case 2:
		if len(e.Attr) > 0 {
			e.RemoveAttr(e.Attr[0].FullKey())
		}
	case 3:
		e.SetText("text")
	case 4:
		e.InsertChildAt(at, etree.NewElement("inserted"))
	case 5:
		if e.Parent() != top && e.Parent() != nil {
			e.Parent().RemoveChild(e)
		}
	case 6:
		e.CreateElement("added").SetCData("x")
	case 7:
		if at < len(e.Child) {
			e.AddChild(e.Child[at])
		}
	case 8:
		e.InsertChildAt(at, e.Copy())
	case 9:
		e.SetTail("tail")
	}
}

// TestSlabsCopy holds copies of whole scores against etree's own.
func TestSlabsCopy(t *testing.T) {
	t.Parallel()
	var slabs Slabs
	for _, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml") {
		slabs.Reset()
		doc, err := etreeRead(scoreText(t, path), nil)
		require.NoError(t, err)
		want := doc.Root().Copy()
		for _, got := range []*etree.Element{slabs.Copy(doc.Root()), (*Slabs)(nil).Copy(doc.Root())} {
			require.Empty(t, differ(want, got), path)
			require.Nil(t, got.Parent())
			got.CreateElement("more").SetText("text")
			require.NotEmpty(t, differ(want, got), "the copy is its own")
			require.Empty(t, differ(want, doc.Root()), path)
		}
	}
}
