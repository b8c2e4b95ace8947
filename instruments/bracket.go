package instruments

// withoutAsides takes the brackets from around words that only say which size,
// register or notation of the instrument that follows is meant: "Bb (basso) Horn 3",
// "G (alto) Flute", "Eb (Alto) Saxophone". The name is then read as if they were not
// there; so are those around the first half of a name: "Bb (piccolo) Trumpet", "A
// (basset) Clarinet". Brackets at the end of a name stay: what they hold may be a
// doubling.
func (c *Catalogue) withoutAsides(tokens []token) []token {
	for n := range tokens {
		if !isOpening(tokens[n].before) {
			continue
		}
		end := n + 1
		for end < len(tokens) && strength(tokens[end].before) < 4 {
			end++
		}
		if end == len(tokens) || !isClosing(tokens[end].before) || !c.isAside(tokens[n:end]) && !c.isHalf(tokens[n:], end-n) {
			continue
		}
		tokens[n].before, tokens[end].before = ' ', ' '
	}
	return tokens
}

// isHalf reports whether the first words and one or two behind them are one name.
func (c *Catalogue) isHalf(tokens []token, words int) bool {
	for _, all := range []int{words + 1, words + 2} {
		if all <= len(tokens) && len(filter(c.lexicon.named(looseForm(tokens[:all])), target.always)) > 0 {
			return true
		}
	}
	return false
}

// isAside reports whether words hold a size or a register, and nothing else but keys,
// numbers and clefs.
func (c *Catalogue) isAside(words []token) bool {
	said := false
	for n := 0; n < len(words); n++ {
		v := c.vocabulary
		switch {
		case v.is(roleSize, words[n]), v.is(roleRegister, words[n]):
			said = true
			continue
		case v.is(roleIn, words[n]):
			continue
		}
		_, length := v.readKey(words[n:])
		if length == 0 {
			_, length = v.readNumber(words[n:])
		}
		if length == 0 {
			_, length = v.find(roleClef, words[n:])
		}
		if length == 0 {
			return false
		}
		n += length - 1
	}
	return said
}
