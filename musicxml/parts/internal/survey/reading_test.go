package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/hearing"
	"deskpart/transpose"
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

// What a part's first signature says as it stands and as its player reads it, and which say
// nothing (trade/transpositions.csv: a clarinet in B flat sounds two fifths lower).
func TestSignatureOf(t *testing.T) {
	t.Parallel()
	with := func(id string, fifths int, change func(*Part)) *Part {
		p := &Part{Notes: 1, Keys: []Key{{Fifths: fifths, Traditional: true}, {Fifths: 6, Traditional: true}}, Match: matched(t, id)}
		if change != nil {
			change(p)
		}
		return p
	}
	for _, row := range []struct {
		why  string
		part *Part
		want signature
		ok   bool
	}{
		{"a flute", with("flute", -2, nil), signature{-2, -2}, true}, {"a clarinet", with("clarinet-bflat", 2, nil), signature{2, 0}, true}, {"a clarinet that says a transposition", with("clarinet-bflat", 2, func(p *Part) {
			p.Source = []transpose.Stretch{{To: transpose.Transposition{Diatonic: -2, Chromatic: -3}}, {To: bflat}}
		}), signature{2, 5}, true},
		{"a clarinet that rests", with("clarinet-bflat", 2, func(p *Part) { p.Notes = 0 }), signature{}, false}, {"no signature", with("flute", 2, func(p *Part) { p.Keys = nil }), signature{}, false}, {"tone by tone", with("flute", 2, func(p *Part) { p.Keys[0].Traditional = false }), signature{}, false},
		{"a horn without signs", with("horn-f", 0, nil), signature{}, false}, {"a horn with some", with("horn-f", 1, nil), signature{1, 0}, true}, {"kettledrums", with("timpani", -1, nil), signature{}, false},
		{"an interval that is a guess", with("clarinet-bflat", 2, func(p *Part) { p.Match.Assumed = true }), signature{}, false}, {"a guess whose key is said", with("clarinet-bflat", 2, func(p *Part) { p.Match.Assumed, p.Match.KeyStated = true, true }), signature{2, 0}, true},
		{"nobody knows what", &Part{Notes: 1, Keys: []Key{{Fifths: 3, Traditional: true}}}, signature{3, 3}, true},
	} {
		got, ok := new(Score).signatureOf(row.part)
		assert.Equal(t, row.want, got, row.why)
		assert.Equal(t, row.ok, ok, row.why)
	}
	flute, clarinet := *with("flute", -2, nil), *with("clarinet-bflat", 0, nil)
	inB := *with("clarinet-bflat", -2, nil)
	for _, row := range []struct {
		why   string
		parts []Part
		want  verdict
	}{
		{"written", []Part{flute, clarinet}, verdict{reading: Written, why: "1 transposing part has a signature that differs from the others' by the interval"}}, {"two of them", []Part{flute, clarinet, clarinet}, verdict{reading: Written, why: "2 transposing parts have signatures that differ from the others' by the interval"}},
		{"as it sounds", []Part{flute, inB}, verdict{reading: Concert, why: "1 transposing part has the same signature as the others"}}, {"two of them, as they sound", []Part{flute, inB, inB}, verdict{reading: Concert, why: "2 transposing parts have the same signature as the others"}},
		{"one of each", []Part{flute, clarinet, inB}, verdict{}}, {"nobody", nil, verdict{}},
	} {
		assert.Equal(t, row.want, (&Score{Parts: row.parts}).bySignatures(), row.why)
	}
	for _, row := range []struct {
		part               Part
		heard, may, silent bool
	}{
		{*with("flute", 0, nil), true, true, false}, {*with("clarinet-bflat", 0, nil), true, true, true}, {*with("violin", 0, nil), true, false, false}, {*with("timpani", 0, nil), false, false, false}, {Part{Notes: 1}, true, true, false}, {*with("flute", 0, func(p *Part) { p.Notes = 0 }), false, true, false},
		{*with("violin", 0, func(p *Part) { p.Source = []transpose.Stretch{{To: bflat}} }), true, true, false}, {*with("clarinet-bflat", 0, func(p *Part) { p.Source = []transpose.Stretch{{To: bflat}} }), true, true, false},
	} {
		assert.Equal(t, []bool{row.heard, row.may, row.silent}, []bool{row.part.heard(), row.part.mayTranspose(), row.part.silent()}, row.part.Match.Instrument)
	}
	assert.Equal(t, verdict{Written, true, false, "the parts sound together so (consonance 0.91, read otherwise 0.12)"}, earVerdict(Written, 0.912, 0.123, hearing.Evidence{}))
	for fifths, want := range map[int]bool{5: true, -7: true, 17: true, 4: false, -5: false, 7: false} {
		assert.Equal(t, want, inKey(fifths, 5), fifths)
	}
	for fifths, place := range map[int]int{0: 0, 7: 7, -1: 11, -7: 5, 12: 0, 13: 1, -12: 0} {
		var one tonic
		one.add(fifths)
		assert.Equal(t, 1, one[place], fifths)
	}
	var tied tonic
	tied.add(2)
	tied.add(0)
	fifths, known := tied.most()
	assert.Equal(t, []any{0, true}, []any{fifths, known}, "of several the one with fewest sharps")
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
