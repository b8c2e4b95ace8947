package instruments

import "deskpart/transpose/pitch"

// segments cuts at hard signs and at joining words.
func (c *Catalogue) segments(tokens []token) []segment {
	tokens = c.withoutAsides(tokens)
	var cut []segment
	current := segment{}
	end := func(or bool, languages []pitch.Language) {
		if len(current.tokens) > 0 {
			cut = append(cut, current)
			current = segment{}
		}
		current.or, current.languages = or, languages
	}
	for n, t := range tokens {
		if strength(t.before) == 4 {
			end(false, nil)
		}
		switch joiner, ok := c.joiner(tokens, n); {
		case !ok:
			current.tokens = append(current.tokens, t)
		case joiner.meaning == "range":
			tokens[n+1].before = '-'
		default:
			end(joiner.meaning == "or", joiner.languages)
		}
	}
	end(false, nil)
	return cut
}

// joiner returns what the word at n joins by. A small e is the Italian and, unless
// it can be a key.
func (c *Catalogue) joiner(tokens []token, n int) (wordMeaning, bool) {
	entry, ok := c.vocabulary.meanings[wordKey{roleJoiner, tokens[n].text}]
	if !ok || n == 0 || n == len(tokens)-1 {
		return entry, false
	}
	t, before, after := tokens[n], tokens[n-1], tokens[n+1]
	if t.isLetter() && (!t.isLower() || c.vocabulary.is(roleIn, before) || c.vocabulary.is(roleSign, after)) {
		return entry, false
	}
	// The u that is und in German is in before a key in Serbian.
	if _, key := c.vocabulary.readKey(tokens[n+1:]); key > 0 && c.vocabulary.is(roleIn, t) {
		_, other := c.vocabulary.readKey(tokens[n-1 : n])
		return entry, other > 0
	}
	if entry.meaning == "range" && !(before.isNumber() && after.isNumber()) {
		return entry, false
	}
	return entry, true
}
