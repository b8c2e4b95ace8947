package instruments

import "slices"

// A nameSpan is where in a row of tokens an instrument is named.
type nameSpan struct {
	targets []target
	start   int   // first token
	tokens  []int // all tokens of the name, which need not stand together
}

func (p nameSpan) covers(n int) bool { return slices.Contains(p.tokens, n) }

// nowhere is the place of a name that is not there.
func nowhere(tokens []token) nameSpan { return nameSpan{start: len(tokens)} }

func span(targets []target, start, length int) nameSpan {
	p := nameSpan{targets: targets, start: start}
	for n := range length {
		p.tokens = append(p.tokens, start+n)
	}
	return p
}

// find returns the longest name within the tokens: first as written, then with
// words of it scattered ("Saxophone in Es, Alt"), then with single letters taken
// for abbreviations where they cannot be keys.
func (l *lexicon) find(tokens []token, c *Catalogue) nameSpan {
	best := c.contiguous(tokens, func(words []token) []target { return l.strictly(strictForm(words)) })
	best = l.scattered(tokens, best, c)
	if other := c.registerInstead(tokens, best); len(other.tokens) > 0 {
		return other
	}
	loose := c.contiguous(tokens, func(words []token) []target { return l.named(looseForm(words)) })
	if len(loose.tokens) > len(best.tokens) && !c.keyInstead(tokens, best, loose) {
		return loose
	}
	return best
}

// contiguous finds the name of most tokens, then of most letters, then the first.
// What can be a clef, a size, alto or basso names an instrument only where nothing
// else does.
func (c *Catalogue) contiguous(tokens []token, named func([]token) []target) nameSpan {
	var size, clef nameSpan // names if nothing else is one
	keep := func(aside *nameSpan, targets []target, start, length int) {
		if len(aside.targets) == 0 {
			*aside = span(targets, start, length)
		}
	}
	for length := min(c.lexicon.longest, len(tokens)); length > 0; length-- {
		best, letters := nowhere(tokens), 0
		for start := 0; start+length <= len(tokens); start++ {
			words := tokens[start : start+length]
			targets := sized(named(words), words)
			switch weight := c.weight(words); {
			case len(targets) == 0 || weight <= letters:
			case length == 1 && c.isSize(words[0]):
				keep(&size, targets, start, length)
			case c.isClef(words):
				keep(&clef, targets, start, length)
			default:
				best, letters = span(targets, start, length), weight
			}
		}
		if len(best.targets) > 0 && (letters > 2 || len(size.targets)+len(clef.targets) == 0) {
			return best
		}
	}
	for _, aside := range []nameSpan{size, clef} {
		if len(aside.targets) > 0 {
			return aside
		}
	}
	return nowhere(tokens)
}

// isClef reports whether the words can be a clef: "B. C.", "treble".
func (c *Catalogue) isClef(words []token) bool {
	_, length := c.vocabulary.find(roleClef, words)
	return length == len(words)
}

// sized leaves out names that only the joining of short words made: "in C" is not
// the abbreviation "Inc.", and "Violin I" not "Violini".
func sized(targets []target, words []token) []target {
	short := func(t token) bool { return len(t.text) < 3 }
	if len(looseForm(words)) >= 6 && !slices.ContainsFunc(words, short) {
		return targets
	}
	return filter(targets, func(t target) bool { return slices.Contains(t.sizes, len(words)) })
}

// weight ranks names of equally many words by their letters; what can be a key
// ranks lowest.
func (c *Catalogue) weight(words []token) int {
	if _, length := c.vocabulary.readKey(words); length == len(words) {
		return 1
	}
	return 1 + len(looseForm(words))
}

// isSize reports whether a word says which of a family is meant, or which register.
func (c *Catalogue) isSize(t token) bool {
	return c.vocabulary.is(roleSize, t) || c.vocabulary.is(roleRegister, t)
}

// scattered looks for a longer name made of the found words and one or two others.
func (l *lexicon) scattered(tokens []token, found nameSpan, c *Catalogue) nameSpan {
	if len(found.targets) == 0 {
		return found
	}
	others := c.otherWords(tokens, found)
	for n, a := range others {
		for _, b := range others[n+1:] {
			if p, ok := l.set(tokens, found, a, b); ok {
				return p
			}
		}
	}
	for _, a := range others {
		if p, ok := l.set(tokens, found, a); ok {
			return p
		}
	}
	return found
}

// otherWords are those that may belong to a scattered name. After a key, alto and
// basso say which horn is meant.
func (c *Catalogue) otherWords(tokens []token, found nameSpan) []int {
	var others []int
	registers := c.hasRegisters(found.targets)
	for n, t := range tokens {
		if found.covers(n) || t.isNumber() || len(t.text) < 3 {
			continue
		}
		if registers && n > found.start && c.vocabulary.is(roleRegister, t) {
			continue
		}
		others = append(others, n)
	}
	return others[:min(len(others), 12)]
}

func (l *lexicon) set(tokens []token, found nameSpan, others ...int) (nameSpan, bool) {
	places := append(slices.Clone(found.tokens), others...)
	slices.Sort(places)
	words := make([]token, len(places))
	for n, at := range places {
		words[n] = tokens[at]
	}
	targets := l.inAnyOrder(setForm(words))
	return nameSpan{targets: targets, start: places[0], tokens: places}, len(targets) > 0
}

// keyInstead reports whether a letter that the loose reading takes for an
// abbreviation is the key of the strict one: "A Cl." is a clarinet in A, "A Fl." an
// alto flute. A lone B is an abbreviation, for B flat would say so, unless "in" stands
// before it: the Polish "w B" is no wood block.
func (c *Catalogue) keyInstead(tokens []token, strict, loose nameSpan) bool {
	if len(strict.targets) == 0 {
		return false
	}
	for _, n := range loose.tokens {
		key, length := c.vocabulary.readKey(tokens[n : n+1])
		in := n > 0 && c.vocabulary.is(roleIn, tokens[n-1])
		if strict.covers(n) || length == 0 || key.plainB && !in {
			continue
		}
		if slices.ContainsFunc(strict.targets, func(t target) bool { return c.standsIn(t.kind, key.key) }) {
			return true
		}
	}
	return false
}

// registerInstead takes alto or basso out of a name that is in no use in the key that
// stands before it: "Bb alto Horn" is a horn in high B flat, though "alto Horn" would
// be the one in E flat.
func (c *Catalogue) registerInstead(tokens []token, found nameSpan) nameSpan {
	at := found.start
	if len(found.tokens) < 2 || at == 0 || !c.vocabulary.is(roleRegister, tokens[at]) {
		return nameSpan{}
	}
	key, length := c.vocabulary.readKey(tokens[at-1 : at])
	if length == 0 || c.anyStandsIn(found.targets, key) {
		return nameSpan{}
	}
	rest := c.contiguous(tokens[at+1:], func(words []token) []target { return c.lexicon.strictly(strictForm(words)) })
	if !c.hasRegisters(rest.targets) {
		return nameSpan{}
	}
	return span(rest.targets, at+1+rest.start, len(rest.tokens))
}

// standsIn reports whether the trade knows the kind in that key and says so.
func (c *Catalogue) standsIn(kind, key string) bool {
	return slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool {
		return i.Key == key && i.Flags.SaysKey
	})
}
