package instruments

import "slices"

// maxChangeWords bounds the directions that are looked at: a longer one tells a
// story, not a change of instrument.
const maxChangeWords = 12

// Told is what a direction tells of a change of instrument.
type Told int

// What words may tell.
const (
	NoChange  Told = iota
	MayChange      // a name stands alone that may be a change or a cue's: a person is to be asked
	Changes
)

// MatchChange recognises a direction that tells the player to change instrument:
// "to Alto Sax", "muta in A", "nimmt Piccolo", "prend la flûte", "in A". A key alone
// keeps the kind of the current instrument; a name alone is a change only within
// the family of the current instrument, for else it may be a cue. The second result
// is false where the words announce no change. Players holds the players the words
// address, if they do: "2. nimmt Piccolo".
func (c *Catalogue) MatchChange(words string, current *Instrument) (Match, bool) {
	m, told := c.MatchChangeOf(words, current, nil)
	return m, told == Changes
}

// MatchChangeOf is MatchChange for a player who is known to have further instruments: a
// name of one of those alone is a change to it. The name of another wind instrument,
// written out, may be one.
func (c *Catalogue) MatchChangeOf(words string, current *Instrument, has []*Instrument) (Match, Told) {
	tokens := tokenize(words)
	if len(tokens) == 0 || len(tokens) > maxChangeWords {
		return Match{By: ByNone}, NoChange
	}
	for _, told := range c.announcements(tokens) {
		if m, ok := c.changeTo(told, current); ok {
			return m, Changes
		}
	}
	return c.bareChange(tokens, current, has)
}

// An announcement is a direction cut at the words that announce a change.
type announcement struct {
	subject []token // who changes
	object  []token // what to
	strong  bool    // the words can mean nothing else, so that a key alone may follow: "muta in", "change to A"
}

// announcements cuts the direction at each phrase of change, strong ones first.
// German may put the verb last: "Piccolo nehmen"; words of going back may stand there in
// any language: "Oboe again".
func (c *Catalogue) announcements(tokens []token) []announcement {
	var strong, weak []announcement
	for n := range tokens {
		phrase, length := c.vocabulary.find(roleChange, tokens[n:])
		if length == 0 {
			continue
		}
		a := announcement{subject: tokens[:n], object: tokens[n+length:], strong: phrase.meaning == "strong"}
		if len(a.object) == 0 && (a.strong || phrase.meaning == "back") {
			a.subject, a.object = nil, a.subject
		}
		if a.strong {
			strong = append(strong, a)
		} else {
			weak = append(weak, a)
		}
	}
	return append(strong, weak...)
}

// changeTo reads the object of an announcement.
func (c *Catalogue) changeTo(a announcement, current *Instrument) (Match, bool) {
	object := c.withoutArticles(a.object)
	if len(object) == 0 {
		return Match{By: ByNone}, false
	}
	players, ok := c.subject(a)
	if !ok {
		return Match{By: ByNone}, false
	}
	var m Match
	if a.strong || c.vocabulary.is(roleIn, object[0]) {
		m = c.keyChange(object, current)
	}
	if named, _ := c.mentionsIn(c.segments(object), false); m.Instrument == nil && len(named) > 0 {
		if m = c.namedChange(named, current); !a.strong && len(named[0].unknown) > 0 {
			return Match{By: ByNone}, false
		}
	}
	if m.Instrument == nil || !a.strong && m.Instrument.Group == Voices {
		return Match{By: ByNone}, false
	}
	if len(players) > 0 {
		m.Number, m.Players = numberList(players), players
	}
	return m, true
}

// subject returns the players whom the words before the phrase address. A weak
// phrase is one only at the head or after an instrument or its players.
func (c *Catalogue) subject(a announcement) ([]int, bool) {
	if len(a.subject) == 0 {
		return nil, true
	}
	named, rest := c.mentionsIn(c.segments(a.subject), false)
	if len(named) > 0 {
		rest = named[0]
	}
	return rest.numbers, a.strong || len(rest.unknown) == 0
}

func (c *Catalogue) withoutArticles(tokens []token) []token {
	for len(tokens) > 1 && c.vocabulary.is(roleArticle, tokens[0]) {
		tokens = tokens[1:]
	}
	return tokens
}

// namedChange resolves an instrument that the direction names. A saxophone player
// told to take the tenor takes the saxophone.
func (c *Catalogue) namedChange(named []*mention, current *Instrument) Match {
	if current == nil {
		return c.alone("").settle(named)
	}
	main := named[0]
	words := append(slices.Clone(main.words), token{text: current.Family})
	if sized := c.lexicon.inAnyOrder(setForm(words)); len(sized) > 0 && len(main.words) == 1 {
		main.targets = sized
	}
	if len(main.keys) == 0 && slices.ContainsFunc(main.targets, func(t target) bool {
		return t.kind == current.Kind && t.id == "" && t.when != whenKey // "Flute" is no alto flute, though "Flute in G" is
	}) {
		return Match{By: ByNone}
	}
	return c.alone(current.Group).settle(named)
}

// keyChange reads a key alone, with alto or basso, for the current instrument: the
// last one said ("muta F in E"). A flute told a key is the flute of that key, which
// may have a name of its own.
func (c *Catalogue) keyChange(tokens []token, current *Instrument) Match {
	none := Match{By: ByNone}
	if current == nil || !c.keyMatters(current.Kind) {
		return none
	}
	said := &mention{targets: c.calledLike(current)}
	reader := surroundings{catalogue: c, mention: said, tokens: tokens, place: nameSpan{start: -1}}
	if left := reader.read(); len(left) > 0 || len(said.keys) == 0 {
		return none
	}
	said.keys = said.keys[len(said.keys)-1:]
	m := c.alone("").resolve(said)
	if !m.KeyStated || m.Instrument.Family != current.Family {
		return none
	}
	m.Instrument = c.inNotation(m.Instrument, current)
	m.Why = "a key alone, for the same instrument; " + m.Why
	return m
}

// calledLike returns what the current instrument's name may mean, of its family.
// The languages are all, so that a plain B stays in doubt.
func (c *Catalogue) calledLike(current *Instrument) []target {
	name := tokenize(current.Names("en").Singular)
	like := filter(c.lexicon.named(looseForm(name)), func(t target) bool {
		return c.usual(t.kind).Family == current.Family
	})
	for n := range like {
		like[n].languages = languages
	}
	return like
}

// inNotation returns the instrument in the notation that the player has read so
// far, where the catalogue has it.
func (c *Catalogue) inNotation(i, current *Instrument) *Instrument {
	for _, other := range c.byKind[i.Kind] {
		if other.Key == i.Key && other.Register == i.Register && other.Variant == current.Variant {
			return other
		}
	}
	return i
}

// bareChange reads a direction without words of change: "in A", "Clarinet in A",
// "Piccolo".
func (c *Catalogue) bareChange(tokens []token, current *Instrument, has []*Instrument) (Match, Told) {
	none := Match{By: ByNone}
	if current == nil {
		return none, NoChange
	}
	if c.vocabulary.is(roleIn, tokens[0]) {
		if m := c.keyChange(tokens, current); m.Instrument != nil && m.Instrument != current {
			return m, Changes
		}
	}
	named, _ := c.mentionsIn(c.segments(tokens), false)
	if len(named) != 1 || len(named[0].unknown) > 0 {
		return none, NoChange
	}
	m := c.namedChange(named, current)
	if m.Instrument == nil || m.Instrument == current || m.Number != "" {
		return none, NoChange
	}
	switch own := owned(m, has); {
	case own != nil:
		m.Instrument = own
		return m, Changes
	case m.Instrument.Family == current.Family:
		if !m.KeyStated {
			m.Assumed, m.Alone = true, true
			m.Why += "; a name alone may be a cue"
		}
		return m, Changes
	case current.Flags.Breath && m.Instrument.Flags.Breath && m.Instrument.Group != Voices && writtenOut(named[0].words):
		return m, MayChange
	}
	return none, NoChange
}

// owned returns the one of a player's further instruments that a name means, nil for
// none.
func owned(m Match, has []*Instrument) *Instrument {
	if slices.Contains(has, m.Instrument) {
		return m.Instrument
	}
	for _, i := range has {
		if i.Kind == m.Instrument.Kind && !m.KeyStated {
			return i
		}
	}
	return nil
}

// writtenOut reports whether a name is no abbreviation, as a cue's mostly is.
func writtenOut(words []token) bool {
	return !slices.ContainsFunc(words, func(t token) bool { return t.dot || len(t.text) < 4 })
}
