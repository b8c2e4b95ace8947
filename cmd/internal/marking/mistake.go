package marking

import (
	"sort"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/transpose/pitch"
)

// Mistake is one thing that was done wrong, said once however many notes it
// covers.
type Mistake struct {
	Kind    string `json:"kind"`
	Measure string `json:"measure"`
	Beat    string `json:"beat"`
	// Notes is how many notes it spoils; 0 for a signature or clef that spoils none.
	Notes int    `json:"notes"`
	Text  string `json:"text"`
	// Cause is the mistake without its place, so that those of a class can be
	// counted.
	Cause string `json:"cause"`

	heads []int // the expected heads that it covers
}

func lessonPlace(p pitch.Pitch) int { return explain.Place(p) }

// add puts a mistake on the list: its place is that of its first head, the end
// of its text the bars it covers.
func (x *examiner) add(list []Mistake, kind, cause, text string, heads []int) []Mistake {
	m := Mistake{Kind: kind, Notes: len(heads), Cause: cause, Text: text, heads: heads}
	if len(heads) > 0 {
		first := x.expected.heads[heads[0]]
		m.Measure, m.Beat = first.measure, first.beat
		if len(heads) > 1 {
			m.Text += " (" + x.where(heads) + ")"
		}
	} else if len(x.expected.heads) > 0 {
		first := x.expected.heads[0]
		m.Measure, m.Beat = first.measure, "1"
	}
	return append(list, m)
}

// where says how many notes in which bars.
func (x *examiner) where(heads []int) string {
	var bars []string
	for _, i := range heads {
		if m := x.expected.heads[i].measure; len(bars) == 0 || bars[len(bars)-1] != m {
			bars = append(bars, m)
		}
	}
	return counted(len(heads), "note") + ", " + barList(bars)
}

// barList says "bar 3", "bars 1-4", "bars 1, 3 and 7".
func barList(bars []string) string {
	if len(bars) == 1 {
		return "bar " + bars[0]
	}
	if consecutive(bars) {
		return "bars " + bars[0] + "-" + bars[len(bars)-1]
	}
	return "bars " + strings.Join(bars[:len(bars)-1], ", ") + " and " + bars[len(bars)-1]
}

// order sorts mistakes: those of the whole first, then by place in the music.
func order(list []Mistake) {
	rank := func(m Mistake) int {
		if len(m.heads) == 0 {
			return -1
		}
		return m.heads[0]
	}
	sort.SliceStable(list, func(i, k int) bool { return rank(list[i]) < rank(list[k]) })
}
