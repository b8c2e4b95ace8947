package instruments

import (
	"cmp"
	"slices"

	"deskpart/transpose/pitch"
)

// A mention is one instrument that a name names, with what stands around it.
type mention struct {
	targets    []target
	words      []token // that named it
	keys       []keyWord
	register   string
	clef       string
	numbers    []int
	count      int // "4 Horns"
	qualifiers []string
	unknown    []string
	languages  []pitch.Language // that words around it belong to
	joined     bool             // by "or" to the one before
}

// A segment is a stretch of a name between signs or words that join.
type segment struct {
	tokens    []token
	or        bool             // joined by "or"
	languages []pitch.Language // of the joining word
}

// before is the sign that stands before the segment, 0 for none.
func (s *segment) before() rune {
	if len(s.tokens) == 0 {
		return 0
	}
	return s.tokens[0].before
}

// mentions reads the instruments of a name in order. The last result holds what
// stood in a name that names no instrument at all, such as "in A". Single letters
// name an instrument only where nothing longer does: "A" is an alto, but the key of
// "A Clarinet".
func (c *Catalogue) mentions(tokens []token) (found []*mention, rest *mention) {
	cut := c.segments(tokens)
	found, rest = c.mentionsIn(cut, false)
	if len(found) == 0 && len(rest.unknown) == 0 {
		if letters, other := c.mentionsIn(cut, true); len(letters) > 0 {
			return letters, other
		}
	}
	return found, rest
}

func (c *Catalogue) mentionsIn(cut []segment, letters bool) (found []*mention, rest *mention) {
	rest = &mention{}
	outer := 0 // the instrument before the last bracket
	for _, s := range cut {
		if isOpening(s.before()) {
			outer = max(len(found)-1, 0)
		}
		last := len(found) - 1
		if isClosing(s.before()) { // "Flute (Piccolo) 2" is the second flute
			last = min(outer, last)
		}
		if last >= 0 && c.belongsTo(found[last], s) {
			continue
		}
		read := c.readSegment(s, letters)
		switch {
		case len(read[0].targets) == 0 && len(found) == 0:
			rest.absorb(read[0])
		case len(read[0].targets) == 0:
			read[0].unknown = nil
			found[len(found)-1].absorb(read[0])
		default:
			if len(found) == 0 {
				read[0].precede(rest)
			}
			found = append(found, read...)
		}
	}
	return found, rest
}

// belongsTo adds a segment to the instrument before it where it only says more
// about that: numbers, keys ("Clarinet 1, 2 in Bb / A") or the other half of an
// inverted name ("Saxophone, alto").
func (c *Catalogue) belongsTo(last *mention, s segment) bool {
	more := &mention{targets: last.targets, languages: s.languages}
	reader := surroundings{catalogue: c, mention: more, tokens: s.tokens, place: nameSpan{start: -1}}
	left := reader.read()
	if len(left) > 0 && !c.inverted(last, left) {
		return false
	}
	last.absorb(more)
	return true
}

// inverted joins "Saxophone, alto" and "Horn (English)" to one instrument: the
// second word alone is a voice or nothing, both together are an instrument.
func (c *Catalogue) inverted(last *mention, left []token) bool {
	words := append(slices.Clone(last.words), left...)
	targets := c.lexicon.inAnyOrder(setForm(words))
	alone := filter(c.lexicon.named(looseForm(left)), target.always)
	isVoice := func(t target) bool { return c.usual(t.kind).Group == Voices }
	if len(targets) == 0 || len(alone) > 0 && !slices.ContainsFunc(alone, isVoice) {
		return false
	}
	last.targets, last.words = targets, words
	return true
}

// absorb adds what a segment without an instrument says to the one before it.
func (m *mention) absorb(other *mention) {
	m.keys = append(m.keys, other.keys...)
	m.numbers = union(m.numbers, other.numbers)
	m.qualifiers = union(m.qualifiers, other.qualifiers)
	m.unknown = append(m.unknown, other.unknown...)
	m.languages = append(m.languages, other.languages...)
	m.register = cmp.Or(m.register, other.register)
	m.clef = cmp.Or(m.clef, other.clef)
}

// precede puts what stood before the first instrument in front: "1. u. 2. Horn".
func (m *mention) precede(rest *mention) {
	before := *rest
	before.unknown = nil
	before.absorb(m)
	before.targets, before.words, before.count, before.joined = m.targets, m.words, m.count, m.joined
	*m = before
}

// readSegment finds the instruments of a segment and sorts the words around the
// first. Without an instrument the result is one mention without targets.
func (c *Catalogue) readSegment(s segment, letters bool) []*mention {
	m := &mention{joined: s.or, languages: s.languages}
	p := c.lexicon.find(s.tokens, c)
	if !letters && len(p.tokens) == 1 && len(s.tokens[p.tokens[0]].text) == 1 {
		p = nowhere(s.tokens)
	}
	m.targets = p.targets
	for _, n := range p.tokens {
		m.words = append(m.words, s.tokens[n])
		if q, ok := c.vocabulary.meanings[wordKey{roleQualifier, s.tokens[n].text}]; ok {
			m.qualifiers = append(m.qualifiers, q.meaning)
		}
	}
	reader := surroundings{catalogue: c, mention: m, tokens: s.tokens, place: p}
	left := c.withoutSizes(m, reader.read())
	if len(m.targets) > 0 && len(left) > 0 {
		if more := c.readSegment(segment{tokens: left}, false); len(more[0].targets) > 0 {
			return append([]*mention{m}, more...)
		}
	}
	for _, t := range left {
		if len(t.text) > 2 {
			m.unknown = append(m.unknown, t.raw)
		}
	}
	return []*mention{m}
}

// withoutSizes takes the sizes out of the words that an instrument's name leaves over.
// "Trumpet in Bb basso" says alto or basso with the key; "Tenor Trumpet" is a size that
// the catalogue has not, and no singer beside the trumpet. Among the strings "Cello,
// Bass" are two.
func (c *Catalogue) withoutSizes(m *mention, left []token) []token {
	if len(m.targets) == 0 || c.allSizes(m.words) || c.groupOf(m) == Strings {
		return left
	}
	var kept []token
	for _, t := range left {
		switch register, _ := c.vocabulary.find(roleRegister, []token{t}); {
		case len(m.keys) > 0 && register.meaning != "":
			m.register = cmp.Or(m.register, register.meaning)
		case c.vocabulary.is(roleSize, t):
			m.unknown = append(m.unknown, t.raw)
		default:
			kept = append(kept, t)
		}
	}
	return kept
}
