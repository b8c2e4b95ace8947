package sharing

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
)

// DropPlayersWords leaves out of a wind player's own part the words by which the players of
// a shared staff are told apart: "a 2", "1." (part-preparation (a): no "a 2", "1." left
// after a split; proof-notes). "Solo" stays, of "1. Solo" too. What another player is told
// ("1. muta in Sol", "1. dolce") goes whole where this one rests; over notes somebody has to
// look at it, and it stays.
func DropPlayersWords(d *draft.Draft, words *divisi.Lexicon) {
	in := d.Survey.Match.Instrument
	if d.Assignment.Player > 0 || in == nil || !in.IsWind() || len(d.Survey.Match.Players) != 1 {
		return
	}
	p := wordsDropper{d, words, d.Survey.Match.Players[0]}
	for i := range d.Timeline.Measures {
		p.measure(&d.Timeline.Measures[i])
	}
}

type wordsDropper struct {
	*draft.Draft
	words  *divisi.Lexicon
	number int // of the player
}

func (p *wordsDropper) measure(m *musicxml.Measure) {
	for ev := range m.Each(musicxml.Direction) {
		for _, words := range draft.WordsIn(ev.Element) {
			if rest, ok := p.rest(m, ev, words); ok {
				drop(words, rest)
				p.Rewritten()
			}
		}
		if len(musicxml.Children(ev.Element, "direction-type")) == 0 && musicxml.Child(ev.Element, "sound") == nil {
			m.Element.RemoveChild(ev.Element)
		}
	}
}

// rest is what is left of words that tell players apart; false where they are others.
func (p *wordsDropper) rest(m *musicxml.Measure, ev *musicxml.Event, words *etree.Element) (string, bool) {
	said, ok := p.words.Read(musicxml.Text(words), nil)
	together := said.All && said.Count > 0
	if !ok || said.Bare || said.Divided || !together && len(said.Numbers) == 0 || p.isHeading(said.Text) || !together && isFirst(m, ev) {
		return "", false
	}
	if together || slices.Contains(said.Numbers, p.number) {
		return said.Text, true
	}
	return "", !soundsAt(m, ev.Onset)
}

// isHeading reports whether a text behind a number is a title or a tempo, as in "1. Allegro":
// it tells no player how to play, nor to take another instrument.
func (p *wordsDropper) isHeading(text string) bool {
	if text == "" || lexicon.ClassOf(text) == lexicon.PlayerWords {
		return false
	}
	told, changes := p.Score.Catalogue.MatchChange(text, p.Survey.Match.Instrument)
	return !changes || told.Alone
}

// isFirst reports whether words stand where a movement is headed with its number.
func isFirst(m *musicxml.Measure, ev *musicxml.Event) bool {
	return m.Index == 0 && ev.Onset.Sign() == 0
}

// soundsAt reports whether the player has a note at a place of a bar.
func soundsAt(m *musicxml.Measure, at musicxml.Fraction) bool {
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
		return draft.Plays(&ev) && !at.Less(ev.Onset) && at.Less(ev.Onset.Add(ev.Duration))
	})
}

// drop leaves of words what is given, or takes them out.
func drop(words *etree.Element, rest string) {
	if rest != "" {
		words.SetText(rest)
		return
	}
	kind := words.Parent()
	kind.RemoveChild(words)
	if len(kind.ChildElements()) == 0 {
		kind.Parent().RemoveChild(kind)
	}
}
