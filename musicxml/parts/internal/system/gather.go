package system

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// PartMarks is what one part says that may hold for all players.
type PartMarks struct {
	marks     []mark
	barlines  []barline
	metres    []metre
	pauses    []pause
	caesuras  []caesura
	numbering []numbering
}

// gatherer finds the marks of one part.
type gatherer struct {
	PartMarks
	words *lexicon.Glossary
	// own keeps no copies: the marks are only compared with those of the system.
	own     bool
	measure *musicxml.Measure
	now     musicxml.Fraction // where the next element stands
	open    []*line           // those whose stop has not come
	drawn   drawnWord
}

// Gather finds what in one part may hold for everybody. With own, nothing is
// copied.
func Gather(t *musicxml.Timeline, words *lexicon.Glossary, own bool) *PartMarks {
	g := gatherer{words: words, own: own}
	for i := range t.Measures {
		g.measure, g.now = &t.Measures[i], musicxml.Fraction{}
		for k := range g.measure.Events {
			g.event(&g.measure.Events[k])
		}
	}
	g.closeLines()
	g.dropLoneNumbers()
	return &g.PartMarks
}

func (g *gatherer) event(ev *musicxml.Event) {
	switch ev.Kind {
	case musicxml.Note:
		if ev.Marked {
			g.pauseAt(ev)
		}
	case musicxml.Direction:
		g.direction(ev)
	case musicxml.Sound:
		g.sound(ev)
	case musicxml.Harmony:
		g.harmony(ev)
	case musicxml.Attributes:
		g.attributes(ev)
	case musicxml.Barline:
		g.barline(ev)
	case musicxml.Print:
		g.print(ev)
	}
	g.now = ev.After(g.now)
}

// at is a place in the measure.
func (g *gatherer) at(onset musicxml.Fraction) musicxml.Position {
	return musicxml.Position{Measure: g.measure.Index, Onset: onset}
}

// keep copies an element so that it outlives the part's tree, without what
// belongs to its place there. Where it stands on the page was not read (survey.Skim).
func (g *gatherer) keep(e *etree.Element, drop ...string) *etree.Element {
	if g.own || e == nil {
		return nil
	}
	c := e.Copy()
	c.RemoveAttr("system")
	draft.RemoveIDs(c)
	musicxml.RemoveChildren(c, drop...)
	return c
}

// isOfSystem reports whether a direction or harmony says that it is of the whole system.
func isOfSystem(e *etree.Element) bool {
	relation := musicxml.Attr(e, "system")
	return relation == "only-top" || relation == "also-top"
}

// direction keeps a direction if something in it holds for everybody.
func (g *gatherer) direction(ev *musicxml.Event) {
	g.lines(ev)
	says := g.sayings(ev.Element)
	if len(says) == 0 {
		return
	}
	m := mark{Position: g.at(g.now), seen: ev.Onset, says: says}
	if offset := musicxml.Child(ev.Element, "offset"); offset != nil && musicxml.Attr(offset, "sound") == "yes" {
		m.Position = g.at(ev.Onset) // it sounds where it is seen (MusicXML 4.0, offset)
	}
	sound := musicxml.Child(ev.Element, "sound")
	if m.direction = g.keep(ev.Element, "offset", "footnote", "level", "voice", "staff", "sound", "listening"); m.direction != nil {
		m.sound = g.keepSound(sound)
		dropTypes(m.direction, m.facets())
		g.startLine(&m)
	}
	g.marks = append(g.marks, m)
}

// dropTypes takes out the <direction-type> elements that say nothing of these
// facets. A line stays with its words.
func dropTypes(direction *etree.Element, kept facet) {
	for _, t := range musicxml.Children(direction, "direction-type") {
		if isLine := lineIn(t) != nil; isLine && kept&saysWords == 0 || !isLine && directionFacet(t)&kept == 0 {
			direction.RemoveChild(t)
		}
	}
}

// sayings lists what a direction says to everybody.
func (g *gatherer) sayings(e *etree.Element) []saying {
	ofSystem := isOfSystem(e)
	var says []saying
	if sound := musicxml.Child(e, "sound"); sound != nil {
		says = soundSayings(sound)
	}
	backed := len(says) > 0 // playback agrees that this is no player's word
	var text []string
	for t := range musicxml.Each(e, "direction-type") {
		switch f := directionFacet(t); f {
		case saysWords:
			text = append(text, draft.JoinedText(t, "words"))
		case saysMetronome:
			says = append(says, saying{facet: f, key: musicxml.Content(t)})
			backed = true
		case saysRehearsal:
			says = append(says, saying{facet: f, key: strings.Join(lexicon.Tokens(draft.JoinedText(t, "rehearsal")), " ")})
		case saysSegno, saysCoda:
			says = append(says, saying{facet: f})
		case saysOther:
			if ofSystem && !spans(t) {
				says = append(says, saying{facet: f, key: musicxml.Content(t)})
			}
		}
	}
	if words := strings.Join(text, " "); strings.TrimSpace(words) != "" {
		if s, ok := g.wordsSaying(e, words, ofSystem, backed); ok {
			says = append(says, s)
		}
	}
	return says
}

// spans reports whether a direction type is one end of something long, which
// cannot be copied without its other end.
func spans(directionType *etree.Element) bool {
	for c := range directionType.ChildElementsSeq() {
		if music.IsLine(c) {
			return true
		}
	}
	return false
}

// wordsSaying decides whether words hold for everybody.
func (g *gatherer) wordsSaying(e *etree.Element, text string, ofSystem, backed bool) (saying, bool) {
	m := g.words.Read(text)
	s := saying{facet: saysWords, key: m.Key}
	goesOn := g.drawn.takes(text, m.Class, g.measure)
	switch {
	case ofSystem, musicxml.Attr(e, "directive") == "yes", drawnMetronome(text):
		return s, true
	case backed && m.Class != lexicon.PlayerWords:
		return s, true
	case backed, musicxml.Attr(e, "system") == "none":
		return s, false
	case goesOn:
		return s, true
	}
	switch m.Class {
	case lexicon.TempoWords, lexicon.GradualWords, lexicon.NavigationWords, lexicon.PauseWords:
		return s, true
	case lexicon.SyllableWords, lexicon.ShadeWords:
		return s, false
	case lexicon.PlayerWords:
		s.leading, s.movement = true, true
		return s, movementNumber(text) && g.opensMovement(e)
	}
	s.leading = true
	return s, g.headsSystem(e, text, m.Class)
}

// headsSystem reports whether words look like a heading: at the start of a bar and
// not under the staff, the name of a section or a tempo with a capital letter, or
// unknown words in bold.
func (g *gatherer) headsSystem(e *etree.Element, text string, class lexicon.WordClass) bool {
	if g.now.Sign() != 0 || musicxml.Attr(e, "placement") == "below" {
		return false
	}
	switch class {
	case lexicon.SectionWords:
		return true
	case lexicon.HeadingWords:
		return startsWithCapital(text)
	}
	return startsWithCapital(text) && boldWords(e)
}

// soundSayings lists what a <sound> says to everybody.
func soundSayings(e *etree.Element) []saying {
	var says []saying
	var jumps []string
	for _, a := range e.Attr {
		switch soundFacet(a.Key) {
		case saysTempo:
			says = append(says, saying{facet: saysTempo, key: a.Value})
		case saysJump:
			jumps = append(jumps, a.Key)
		}
	}
	if len(jumps) > 0 {
		slices.Sort(jumps)
		says = append(says, saying{facet: saysJump, key: strings.Join(jumps, " ")})
	}
	if swing := musicxml.Child(e, "swing"); swing != nil {
		says = append(says, saying{facet: saysSwing, key: musicxml.Content(swing)})
	}
	return says
}

// sound keeps a <sound> that stands alone in the measure.
func (g *gatherer) sound(ev *musicxml.Event) {
	says := soundSayings(ev.Element)
	if len(says) == 0 {
		return
	}
	g.marks = append(g.marks, mark{Position: g.at(ev.Onset), seen: ev.Onset,
		says: says, sound: g.keepSound(ev.Element)})
}

// keepSound copies of a <sound> what holds for everybody.
func (g *gatherer) keepSound(e *etree.Element) *etree.Element {
	if g.own || e == nil {
		return nil
	}
	c := etree.NewElement("sound")
	for _, a := range e.Attr {
		if a.Space == "" && (soundFacet(a.Key) != 0 || a.Key == "time-only" || a.Key == "divisions") {
			c.CreateAttr(a.Key, a.Value)
		}
	}
	if swing := musicxml.Child(e, "swing"); swing != nil {
		c.AddChild(swing.Copy())
	}
	return c
}

// harmony keeps a chord symbol that belongs to the system.
func (g *gatherer) harmony(ev *musicxml.Event) {
	if !isOfSystem(ev.Element) && !g.own {
		return
	}
	m := mark{Position: g.at(g.now), seen: ev.Onset, says: []saying{{facet: saysHarmony}}}
	m.harmony = g.keep(ev.Element, "offset", "footnote", "level", "staff")
	g.marks = append(g.marks, m)
}
