package instruments

// voiceOrder is the order of the voices in a choir, high before low.
var voiceOrder = map[string]int{
	"treble-voice": 0, "soprano-voice": 0, "mezzo-soprano-voice": 1, "alto-voice": 2, "countertenor-voice": 2,
	"tenor-voice": 3, "baritone-voice": 4, "bass-voice": 5,
}

// lowestVoice is the place of the bass in voiceOrder: a row of voices that ends with
// it is a choir, for no saxophone is called just bass.
const lowestVoice = 5

// findChoirs finds rows of parts that stand as voices do, soprano, alto, tenor, bass:
// surely where the row goes down to the bass, perhaps where it begins with the soprano
// and stops before.
func (co *roster) findChoirs() {
	for i := 0; i < len(co.members); {
		end, ranks := i, map[int]bool{}
		for last := -1; end < len(co.members); end++ {
			rank, ok := co.voiceAt(end)
			if !ok || rank < last {
				break
			}
			last, ranks[rank] = rank, true
		}
		sure := 0
		switch {
		case len(ranks) > 1 && ranks[lowestVoice]:
			sure = 2
		case len(ranks) > 1 && ranks[0]:
			sure = 1
		}
		for k := i; k < end; k++ {
			co.members[k].choir = sure
		}
		i = max(end, i+1)
	}
}

// voiceAt returns the place in a choir of the voice that a part's name may mean: a
// name of one word, without key and clef.
func (co *roster) voiceAt(i int) (rank int, ok bool) {
	heard := co.members[i].heard
	if len(heard.named) != 1 || len(heard.named[0].keys) > 0 || heard.named[0].clef != "" {
		return 0, false
	}
	for _, t := range heard.named[0].targets {
		if rank, ok = voiceOrder[t.kind]; ok && t.always() {
			return rank, true
		}
	}
	return 0, false
}
