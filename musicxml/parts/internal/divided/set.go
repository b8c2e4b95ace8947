package divided

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// Set sets the passages on two staves: the upper half of the voices on the first, the rest
// on the second, with the dynamics of both, and "div." and "unis." where the score has no
// such words.
func Set(d *draft.Draft) error {
	if !isDivided(d) {
		return nil
	}
	d.Divided = passages(d.Timeline)
	if len(d.Divided) == 0 {
		return nil
	}
	for i := range d.Divided {
		p := &d.Divided[i]
		for bar := p.First; bar <= p.Last; bar++ {
			deal(&d.Timeline.Measures[bar])
		}
		addWords(d, p)
	}
	copyClefs(d.Timeline)
	attributes := d.AttributesAt(musicxml.Position{})
	musicxml.SetChildText(attributes, "staves", "2")
	if !opensWithClef(&d.Timeline.Measures[0]) { // the reader's usual one
		for _, number := range []string{"1", "2"} {
			clef := etree.NewElement("clef")
			clef.CreateAttr("number", number)
			clef.CreateElement("sign").SetText("G")
			musicxml.AddInOrder(attributes, clef)
		}
	}
	d.Rewritten()
	return nil
}

// deal deals the voices of a bar to two staves.
func deal(m *musicxml.Measure) {
	voices := complete(m)
	lower := map[string]bool{}
	for i, v := range voices {
		lower[v.name] = i >= (len(voices)+1)/2
	}
	for k := range m.Events {
		ev := &m.Events[k]
		switch ev.Kind {
		case musicxml.Note:
			setStaff(ev.Element, lower[ev.Voice])
			if len(voices) == 2 {
				turnFreely(ev.Element)
			}
		case musicxml.Direction:
			if name := musicxml.ChildText(ev.Element, "voice"); name != "" {
				setStaff(ev.Element, lower[name])
			} else if isCommon(ev.Element) {
				twin := ev.Element.Copy()
				setStaff(twin, true)
				m.Element.InsertChildAt(ev.Element.Index()+1, twin)
			}
		}
	}
}

// turnFreely takes away what a second voice on the staff forced on a note: the way of its
// stem and of its bows.
func turnFreely(note *etree.Element) {
	if stem := musicxml.ChildText(note, "stem"); stem == "up" || stem == "down" {
		musicxml.RemoveChildren(note, "stem")
	}
	for notations := range musicxml.Each(note, "notations") {
		for _, bow := range notations.ChildElements() {
			if bow.Tag == "slur" || bow.Tag == "tied" {
				bow.RemoveAttr("placement")
				bow.RemoveAttr("orientation")
			}
		}
	}
}

func setStaff(e *etree.Element, lower bool) {
	staff := "1"
	if lower {
		staff = "2"
	}
	musicxml.SetChildText(e, "staff", staff)
}

// isCommon reports whether a mark is for the players of both staves: a dynamic. Hairpins
// stay on the staff that they were on, for they may lead out of the passage.
func isCommon(direction *etree.Element) bool {
	return musicxml.Descend(direction, "direction-type", "dynamics") != nil
}

// opensWithClef reports whether a clef stands where a bar begins.
func opensWithClef(m *musicxml.Measure) bool {
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
		return ev.Kind == musicxml.Attributes && ev.Onset.Sign() == 0 &&
			slices.ContainsFunc(musicxml.Children(ev.Element, "clef"), func(e *etree.Element) bool { return !music.IsAdditional(e) })
	})
}

// copyClefs gives the second staff the clefs of the first.
func copyClefs(t *musicxml.Timeline) {
	for _, ev := range t.Each(musicxml.Attributes) {
		for _, clef := range musicxml.Children(ev.Element, "clef") {
			clef.CreateAttr("number", "1")
			twin := clef.Copy()
			twin.CreateAttr("number", "2")
			musicxml.AddInOrder(ev.Element, twin)
		}
	}
}

// addWords says where the players divide and where they come together again.
func addWords(d *draft.Draft, p *draft.Bars) {
	t := d.Timeline
	divided := false
	for bar := 0; bar <= p.First; bar++ {
		divided = (divided || says(&t.Measures[bar], dividing)) && (bar == p.First || !says(&t.Measures[bar], uniting))
	}
	if !divided {
		p.Added = true
		insertWords(&t.Measures[p.First], "div.")
	}
	if next := p.Last + 1; next < len(t.Measures) && !draft.Idle(&t.Measures[next]) && !says(&t.Measures[next], uniting) &&
		!says(&t.Measures[next], dividing) && len(complete(&t.Measures[next])) == 0 {
		p.United = true
		insertWords(&t.Measures[next], "unis.")
	}
}

func insertWords(m *musicxml.Measure, text string) {
	direction := draft.WordsAbove(text, "", "")
	direction.CreateElement("staff").SetText("1")
	m.Element.InsertChildAt(m.InsertionPoint(musicxml.Fraction{}), direction)
}

// Hide hides the second staff where the players are together.
func Hide(d *draft.Draft) error {
	if len(d.Divided) == 0 {
		return nil
	}
	shown := map[int]string{0: "no"}
	for _, p := range d.Divided {
		shown[p.First] = "yes"
		shown[p.Last+1] = "no" // unless the next passage begins there
	}
	for bar := range d.Timeline.Measures {
		if shown[bar] == "" {
			continue
		}
		attributes := d.AttributesAt(musicxml.Position{Measure: bar})
		details := etree.NewElement("staff-details")
		details.CreateAttr("number", "2")
		details.CreateAttr("print-object", shown[bar])
		musicxml.AddInOrder(attributes, details)
	}
	return nil
}
