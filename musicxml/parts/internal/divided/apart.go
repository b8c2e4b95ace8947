package divided

import (
	"fmt"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// Text is how a part says what was set on two staves: bars by their index from 0, "div."
// and "unis." where these words were added.
func Text(passages []draft.Bars) string {
	var list []string
	for _, p := range passages {
		text := fmt.Sprintf("%d to %d", p.First, p.Last)
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
func Parse(text string) ([]draft.Bars, error) {
	var passages []draft.Bars
	for item := range strings.SplitSeq(text, ",") {
		var p draft.Bars
		if n, err := fmt.Sscanf(strings.TrimSpace(item), "%d to %d", &p.First, &p.Last); err != nil || n != 2 || p.First < 0 || p.Last < p.First {
			return nil, fmt.Errorf("%q does not say which bars stand on two staves", text)
		}
		p.Added, p.United = strings.Contains(item, "div."), strings.Contains(item, "unis.")
		passages = append(passages, p)
	}
	return passages, nil
}

// Apart takes out of a <part> what was added to it for two staves: the second staff's
// dynamics, which are those of the first, and words. Notes stay on their staves.
func Apart(part *etree.Element, passages []draft.Bars) error {
	t, err := musicxml.NewTimeline(part)
	if err != nil {
		return err
	}
	for _, p := range passages {
		if p.Last >= len(t.Measures) {
			return fmt.Errorf("the part says that bars stand on two staves which it does not have")
		}
		for bar := p.First; bar <= p.Last; bar++ {
			removeTwins(&t.Measures[bar])
		}
		if p.Added {
			removeWords(&t.Measures[p.First], "div.")
		}
		if p.United && p.Last+1 < len(t.Measures) {
			removeWords(&t.Measures[p.Last+1], "unis.")
		}
	}
	return nil
}

func removeTwins(m *musicxml.Measure) {
	seen := map[string]bool{}
	content := func(ev *musicxml.Event) string {
		e := ev.Element.Copy()
		musicxml.RemoveChildren(e, "staff")
		return ev.Onset.String() + draft.Content(e)
	}
	for k := range m.Events {
		if ev := &m.Events[k]; ev.Kind == musicxml.Direction && ev.Staff < 2 {
			seen[content(ev)] = true
		}
	}
	for k := range m.Events {
		if ev := &m.Events[k]; ev.Kind == musicxml.Direction && ev.Staff == 2 && isCommon(ev.Element) && seen[content(ev)] {
			m.Element.RemoveChild(ev.Element)
		}
	}
}

func removeWords(m *musicxml.Measure, text string) {
	for k := range m.Events {
		ev := &m.Events[k]
		if ev.Kind == musicxml.Direction && musicxml.Text(musicxml.Descend(ev.Element, "direction-type", "words")) == text {
			m.Element.RemoveChild(ev.Element)
			return
		}
	}
}
