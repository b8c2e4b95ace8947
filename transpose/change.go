package transpose

import (
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// change is a <key>, <transpose>, <for-part> or <clef> of the source at its
// place, or a stretch of the options.
type change struct {
	position
	element    *etree.Element
	attributes *etree.Element // around the element
	staff      int            // 0 for all
	stretch    *Stretch
}

// is reports whether the change is an element of that name.
func (ch *change) is(tag string) bool { return ch.element != nil && ch.element.Tag == tag }

// gatherChanges lists the changes in the order of time; the stretches come first
// at their moment, so that a key there is read under them. It also finds the grace
// notes and counts the staves that are used.
func gatherChanges(t *musicxml.Timeline, stretches []Stretch) gatherer {
	g := gatherer{staves: 1, graces: graces{}}
	for i := range t.Measures {
		for order := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[order]
			g.staves = max(g.staves, min(ev.Staff, maxStaves))
			at := position{i, ev.Onset, order}
			switch {
			case ev.Grace:
				g.graces[at.moment()] = append(g.graces[at.moment()], graceAt{order, min(max(ev.Staff, 1), maxStaves)})
			case ev.Kind == musicxml.Attributes:
				g.attributes(ev.Element, at)
			}
		}
	}
	own := g.changes
	g.changes = make([]change, 0, len(own)+len(stretches))
	for i := range stretches {
		s := &stretches[i]
		g.add(change{position: g.stretchAt(t, own, s), staff: s.Staff, stretch: s})
	}
	g.changes = append(g.changes, own...)
	sort.SliceStable(g.changes, func(i, j int) bool { return g.changes[i].position.earlier(g.changes[j].position) })
	return g
}

// stretchAt is where at its moment a stretch begins: with what the source itself says of
// transposition there, which does not hold for grace notes written before it; else behind the
// grace notes that the stretch itself does not hold for, in the <attributes> there; else before all.
func (g *gatherer) stretchAt(t *musicxml.Timeline, own []change, s *Stretch) position {
	for i := range own {
		ch := &own[i]
		if ch.staff == s.Staff && ch.moment() == s.Position() && g.graces.before(ch.position) >= s.Graces && (ch.is("transpose") || ch.is("for-part")) {
			return ch.position
		}
	}
	at := position{measure: s.Measure, onset: s.Onset, order: -1}
	if s.Graces == 0 {
		return at
	}
	for order := range t.Measures[s.Measure].Events {
		ev := &t.Measures[s.Measure].Events[order]
		behind := position{s.Measure, s.Onset, order}
		if ev.Kind == musicxml.Attributes && ev.Onset == s.Onset && g.graces.before(behind) >= s.Graces {
			return behind
		}
	}
	return at
}

// gatherer collects the changes and the grace notes of a part.
type gatherer struct {
	changes  []change
	graces   graces
	staves   int
	unsigned [maxStaves + 1]bool
}

func (g *gatherer) add(ch change) {
	g.staves = max(g.staves, ch.staff)
	g.changes = append(g.changes, ch)
}

func (g *gatherer) attributes(attributes *etree.Element, at position) {
	for e := range attributes.ChildElementsSeq() {
		switch e.Tag {
		case "key", "transpose", "for-part":
			g.add(change{position: at, element: e, attributes: attributes, staff: staffNumber(e)})
		case "clef":
			if music.IsAdditional(e) {
				continue
			}
			// Only from and to staves without printed signs: clefs change often.
			staff := max(staffNumber(e), 1)
			if is := isUnsigned(e); is != g.unsigned[staff] {
				g.unsigned[staff] = is
				g.add(change{position: at, element: e, attributes: attributes, staff: staff})
			}
		}
	}
}

// isUnsigned reports whether a clef makes a staff on which no accidentals are
// printed: one that shows strings or sounds, not pitches.
func isUnsigned(clef *etree.Element) bool {
	sign := musicxml.ChildText(clef, "sign")
	return sign == "TAB" || sign == "percussion"
}

// maxStaves bounds the staves of one part that are followed; no instrument has more.
const maxStaves = 64

// staffNumber reads the number attribute of a key, clef or transpose: 0 where
// it is absent and all staves are meant.
func staffNumber(e *etree.Element) int {
	return min(music.StaffNumber(e), maxStaves)
}
