package divided

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// Passage is what a part says was set on two staves: the numbers of its first and last
// bar, and whether "div." and "unis." were added there and behind it.
type Passage struct {
	First, Last   string
	Added, United bool
}

// Text is how a part says it: "217 to 224 div. unis.", one passage after the other. Numbers
// hold when another program writes the bars of a rest in one.
func Text(t *musicxml.Timeline, passages []draft.Bars) string {
	number := func(bar int) string { return url.QueryEscape(t.Measures[bar].Number) }
	var list []string
	for _, p := range passages {
		text := number(p.First) + " to " + number(p.Last)
		if p.Added {
			text += " div."
		}
		if p.United {
			text += " unis."
		}
		list = append(list, text)
	}
	return strings.Join(list, ", ")
}

// Parse reads that.
func Parse(text string) ([]Passage, error) {
	var passages []Passage
	for item := range strings.SplitSeq(text, ",") {
		words := strings.Fields(item)
		if len(words) < 3 || words[1] != "to" {
			return nil, fmt.Errorf("%q does not say which bars stand on two staves", text)
		}
		first, errFirst := url.QueryUnescape(words[0])
		last, errLast := url.QueryUnescape(words[2])
		if err := errors.Join(errFirst, errLast); err != nil {
			return nil, fmt.Errorf("%q does not say which bars stand on two staves: %w", text, err)
		}
		passages = append(passages, Passage{first, last, slices.Contains(words[3:], "div."), slices.Contains(words[3:], "unis.")})
	}
	return passages, nil
}

// Apart takes out of a <part> what was added to it for two staves: the second staff's
// dynamics, which are those of the first, and words. Notes stay on their staves.
func Apart(part *etree.Element, passages []Passage) error {
	t, err := musicxml.NewTimeline(part)
	if err != nil {
		return err
	}
	from := 0
	for _, p := range passages {
		first := barAt(t, from, p.First)
		last := barAt(t, max(first, 0), p.Last)
		if first < 0 || last < 0 {
			return fmt.Errorf("the part says that bars %s to %s stand on two staves; it does not have them", p.First, p.Last)
		}
		for bar := first; bar <= last; bar++ {
			removeTwins(&t.Measures[bar])
		}
		if p.Added {
			removeWords(&t.Measures[first], "div.")
		}
		if p.United && last+1 < len(t.Measures) {
			removeWords(&t.Measures[last+1], "unis.")
		}
		from = last + 1
	}
	return nil
}

// barAt is the first bar of a number from a bar on, or -1.
func barAt(t *musicxml.Timeline, from int, number string) int {
	for i := from; i < len(t.Measures); i++ {
		if t.Measures[i].Number == number {
			return i
		}
	}
	return -1
}

func removeTwins(m *musicxml.Measure) {
	seen := map[string]bool{}
	content := func(ev *musicxml.Event) string {
		e := ev.Element.Copy()
		musicxml.RemoveChildren(e, "staff")
		return ev.Onset.String() + musicxml.Content(e)
	}
	for ev := range m.Each(musicxml.Direction) {
		if ev.Staff < 2 {
			seen[content(ev)] = true
		}
	}
	for ev := range m.Each(musicxml.Direction) {
		if ev.Staff == 2 && isCommon(ev.Element) && seen[content(ev)] {
			m.Element.RemoveChild(ev.Element)
		}
	}
}

func removeWords(m *musicxml.Measure, text string) {
	for ev := range m.Each(musicxml.Direction) {
		if musicxml.Text(musicxml.Descend(ev.Element, "direction-type", "words")) == text {
			m.Element.RemoveChild(ev.Element)
			return
		}
	}
}
