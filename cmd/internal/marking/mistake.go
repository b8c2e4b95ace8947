package marking

import (
	"cmp"
	"slices"

	"deskpart/cmd/internal/texts"
)

// Mistake is one thing that was done wrong, said once however many notes it
// covers.
type Mistake struct {
	Kind Kind `json:"kind"`
	Rule Rule `json:"rule"`
	// Measure and Beat are where it begins, as numbers; Place is the same in words.
	Measure string `json:"measure"`
	// Part is the staff, where an exercise has several.
	Part  string `json:"part,omitempty"`
	Beat  string `json:"beat"`
	Place string `json:"place"`
	// Notes is how many notes it spoils; 0 for a signature or clef that spoils none.
	Notes int    `json:"notes"`
	Text  string `json:"text"`
	// Cause is the mistake without its place, so that those of a class can be
	// counted.
	Cause string `json:"cause"`

	heads []int // the expected heads that it covers
	extra []int // the answer's heads that are too many
	after int   // the expected bar that it stands in or behind
	costs int   // notes in the lenient total
}

// finding is what a mistake is, before it has its place.
type finding struct {
	kind  Kind
	rule  Rule
	cause string
	text  string // default: the cause
}

// add puts a mistake on the list: its place is that of its first head, the end
// of its text the bars it covers.
func (x *examiner) add(list []Mistake, f finding, heads []int) []Mistake {
	f.text = cmp.Or(f.text, f.cause)
	m := Mistake{Kind: f.kind, Rule: f.rule, Notes: len(heads), Cause: f.cause, Text: f.text, heads: heads, costs: tally(len(heads) > 0)}
	first := 0
	if len(heads) > 0 {
		first = heads[0]
	}
	x.placeAt(&m, first)
	if len(heads) > 1 {
		m.Text += " (" + x.where(heads) + ")"
	}
	return append(list, m)
}

// placeAt sets a mistake's place to that of an expected head.
func (x *examiner) placeAt(m *Mistake, i int) {
	if i >= len(x.expected.heads) {
		return
	}
	h := x.expected.heads[i]
	m.after = h.bar
	m.Measure, m.Beat = x.expected.bars[h.bar].number, h.beat
	m.Place = x.placeText(h.bar, h)
}

// placeText says a place in words: "bar 3, beat 2 and a half".
func (x *examiner) placeText(bar int, h head) string {
	b := x.expected.bars[bar]
	onset := h.onset.Add(b.lacks())
	return x.t.Say("marking.place", texts.Fill{"bar": x.barsText(b.number), "beat": x.t.Beat(onset.Num(), onset.Den(), b.metre)})
}

// where says how many notes in which bars.
func (x *examiner) where(heads []int) string {
	var bars []string
	for _, i := range heads {
		if n := x.expected.bars[x.expected.heads[i].bar].number; len(bars) == 0 || bars[len(bars)-1] != n {
			bars = append(bars, n)
		}
	}
	return x.t.Say("marking.notes-in-bars", texts.Fill{"n": len(heads), "bars": x.barsText(bars...)})
}

// barsText names expected bars by their numbers; the first one by its name, where it is an
// upbeat.
func (x *examiner) barsText(numbers ...string) string {
	first := x.expected.bars[0]
	switch {
	case first.lacks().Sign() == 0 || numbers[0] != first.number:
		return x.t.Bars(numbers)
	case len(numbers) == 1:
		return x.t.Say("marking.upbeat", nil)
	}
	return x.t.Say("marking.upbeat-and", texts.Fill{"bars": x.t.Bars(numbers[1:])})
}

// inOrder sorts mistakes by place in the music, of one place those without notes first.
func (x *examiner) inOrder(list []Mistake) {
	rank := func(m Mistake) int {
		if len(m.heads) == 0 {
			_, first := x.expected.inBar(m.after)
			return 2*first - 1
		}
		return 2 * m.heads[0]
	}
	slices.SortStableFunc(list, func(a, b Mistake) int { return rank(a) - rank(b) })
}

// barNumbers are the printed numbers of expected bars.
func (x *examiner) barNumbers(bars []int) []string {
	var numbers []string
	for _, b := range bars {
		numbers = append(numbers, x.expected.bars[b].number)
	}
	return slices.Compact(numbers)
}
