package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Signatures and sound together: what each may decide.
func TestWeigh(t *testing.T) {
	t.Parallel()
	none := verdict{}
	signs := func(r Input) verdict { return verdict{reading: r, why: "signatures"} }
	leans := func(r Input) verdict { return verdict{reading: r, why: "ear"} }
	clear := func(r Input) verdict { return verdict{reading: r, clear: true, why: "ear"} }
	certain := func(r Input) verdict { return verdict{reading: r, clear: true, certain: true, why: "ear"} }
	for _, test := range []struct {
		why              string
		signatures, ear  verdict
		pitch, by, words string
		asked            bool
	}{
		{"both say the same", signs(Written), clear(Written), "written", ByBoth, "signatures, and ear", false},
		{"an edition without signatures", none, clear(Written), "written", ByEar, "ear", false},
		{"an edition with the sounding signature everywhere", signs(Concert), certain(Written), "written", ByEar, "ear, although signatures", false},
		{"the ear is clear, not certain, and alone", signs(Concert), clear(Written), "written", ByEar, "ear, although signatures", true},
		{"a concert score of a few bars", signs(Concert), none, "concert", BySignatures, "signatures", false},
		{"a written score of a few bars", signs(Written), none, "written", BySignatures, "signatures", true},
		{"signatures against what is heard in a few bars", signs(Concert), leans(Written), "concert", BySignatures, "signatures", true},
		{"a few bars without signatures", none, leans(Written), "written", ByEar, "ear", true},
		{"horns alone", none, none, "concert", ByNothing, "nothing in the score tells its pitch surely, so it is read as it sounds", true},
	} {
		got := weigh(test.signatures, test.ear)
		assert.Equal(t, Reading{Pitch: test.pitch, Why: test.words, ToldBy: test.by, Silent: Input(test.pitch), Unsaid: test.asked}, got, test.why)
	}
}

// Signatures as written: B flat major (−2) is C major to a B flat instrument and G
// major to one in E flat (trade/transpositions.csv, saxophones).
func TestVotes(t *testing.T) {
	t.Parallel()
	bflat := func(fifths int) signature { return signature{fifths, fifths - 2} }
	eflat := func(fifths int) signature { return signature{fifths, fifths - 3} }
	of := func(fifths ...int) tonic {
		var all tonic
		for _, f := range fifths {
			all.add(f)
		}
		return all
	}
	for _, test := range []struct {
		why           string
		silent        []signature
		concert       tonic
		same, shifted int
	}{
		{"beside a flute in B flat", []signature{bflat(0), eflat(1)}, of(-2), 0, 2},
		{"the edition forgot one", []signature{bflat(-2), eflat(1)}, of(-2), 1, 1},
		{"saxophones alone, with none and one sharp", []signature{bflat(0), eflat(1), bflat(0), eflat(1)}, of(), 2, 4},
		{"saxophones alone, all alike", []signature{bflat(0), eflat(0), bflat(0), eflat(0)}, of(), 4, 2},
		{"an enharmonic twin", []signature{bflat(-5)}, of(5), 0, 1},
		{"what most of the others have", []signature{bflat(0)}, of(-2, -2, 0), 0, 1},
		{"clarinets alone tell nothing", []signature{bflat(0), bflat(0)}, of(), 2, 2},
		{"nobody", nil, of(), 0, 0},
	} {
		same, shifted := votes(test.silent, test.concert)
		assert.Equal(t, []int{test.same, test.shifted}, []int{same, shifted}, test.why)
	}
}
