package instruments

import (
	"slices"
	"strconv"

	"deskpart/transpose/pitch"
)

// surroundings sorts the words of a segment that do not name the instrument:
// keys, numbers, registers, clefs, qualifiers, fillers.
type surroundings struct {
	catalogue *Catalogue
	mention   *mention
	tokens    []token
	place     nameSpan
	left      []token // that nothing was known of
}

// read sorts all words and returns those that nothing is known of.
func (s *surroundings) read() []token {
	for n := 0; n < len(s.tokens); {
		if s.place.covers(n) {
			n++
			continue
		}
		taken := 0
		for _, take := range []func(int) int{
			s.takeIn, s.takeClef, s.takeFiller(false), s.takeNumber, s.takeKey, s.takeRegister,
			s.takeCount, s.takeQualifier, s.takeFiller(true),
		} {
			if taken = take(n); taken > 0 {
				break
			}
		}
		if taken == 0 {
			s.left = append(s.left, s.tokens[n])
			taken = 1
		}
		n += taken
	}
	return s.left
}

// ahead returns the tokens from n on that do not name the instrument.
func (s *surroundings) ahead(n int) []token {
	end := n
	for end < len(s.tokens) && !s.place.covers(end) {
		end++
	}
	return s.tokens[n:end]
}

func (s *surroundings) vocabulary() *vocabulary { return s.catalogue.vocabulary }

// takeIn takes "in" with the key and register that follow: "in B", "in tief B".
func (s *surroundings) takeIn(n int) int {
	ahead := s.ahead(n)
	if !s.vocabulary().is(roleIn, ahead[0]) {
		return 0
	}
	taken := 1
	in, _ := s.vocabulary().find(roleIn, ahead[:1])
	s.speak(in)
	register, words := s.vocabulary().find(roleRegister, ahead[taken:min(taken+1, len(ahead))])
	key, length := s.vocabulary().readKey(ahead[taken+words:])
	if length == 0 {
		return taken
	}
	if words > 0 {
		s.mention.register = register.meaning
		s.speak(register)
	}
	s.addKey(key)
	return taken + words + length
}

// speak notes the language of a word that belongs to one language only, or to none in
// which labels are written.
func (s *surroundings) speak(word wordMeaning) {
	if len(word.languages) == 1 || !slices.ContainsFunc(word.languages, func(l pitch.Language) bool { return slices.Contains(languages, l) }) {
		s.mention.languages = append(s.mention.languages, word.languages...)
	}
}

func (s *surroundings) addKey(key keyWord) {
	s.mention.keys = append(s.mention.keys, key)
}

// takeKey takes a key that stands without "in". Before the instrument a syllable
// is an article rather than a key: "la flûte".
func (s *surroundings) takeKey(n int) int {
	key, length := s.vocabulary().readKey(s.ahead(n))
	if length == 0 {
		return 0
	}
	before := n < s.place.start && len(s.place.targets) > 0
	syllable := length == 1 && len(key.key) == 1 && !s.tokens[n].isLetter()
	if before && syllable {
		return 0
	}
	key.english = before && n+length < len(s.tokens) && s.tokens[n+length].before != '-'
	s.addKey(key)
	return length
}

func (s *surroundings) takeClef(n int) int {
	clef, length := s.vocabulary().find(roleClef, s.ahead(n))
	if length > 0 {
		s.mention.clef = clef.meaning
	}
	return length
}

func (s *surroundings) takeRegister(n int) int {
	register, length := s.vocabulary().find(roleRegister, s.ahead(n)[:1])
	if length == 0 || !s.catalogue.hasRegisters(s.mention.targets) {
		return 0
	}
	s.mention.register = register.meaning
	s.speak(register)
	return length
}

func (s *surroundings) takeNumber(n int) int {
	ahead := s.ahead(n)
	number, length := s.vocabulary().readNumber(ahead)
	if length == 0 {
		return 0
	}
	if ordinal, taken := s.vocabulary().find(roleOrdinal, ahead[:1]); taken > 0 {
		s.speak(ordinal)
	}
	if s.isCount(n, length, number) {
		s.mention.count = number
		return length
	}
	s.mention.numbers = addNumber(s.mention.numbers, number, ahead[0].before == '-')
	return length
}

// isCount tells "2 Flutes" from "2. Flute": a bare number right before a plural.
func (s *surroundings) isCount(n, length, number int) bool {
	if number < 2 || length > 1 || s.tokens[n].dot || !s.tokens[n].isNumber() || n+1 != s.place.start {
		return false
	}
	return s.plural()
}

func (s *surroundings) plural() bool {
	return len(s.place.targets) > 0 && !slices.ContainsFunc(s.place.targets, func(t target) bool {
		return !t.plural
	})
}

func (s *surroundings) takeCount(n int) int {
	count, length := s.vocabulary().find(roleCount, s.ahead(n)[:1])
	if length == 0 || n > s.place.start || !s.plural() {
		return 0
	}
	s.speak(count)
	s.mention.count, _ = strconv.Atoi(count.meaning)
	return length
}

func (s *surroundings) takeQualifier(n int) int {
	qualifier, length := s.vocabulary().find(roleQualifier, s.ahead(n))
	if length > 0 && !slices.Contains(s.mention.qualifiers, qualifier.meaning) {
		s.mention.qualifiers = append(s.mention.qualifiers, qualifier.meaning)
	}
	return length
}

// takeFiller takes words that say nothing about the instrument, first those of
// several words ("a 2"), single ones only when nothing else fits.
func (s *surroundings) takeFiller(single bool) func(int) int {
	return func(n int) int {
		ahead := s.ahead(n)
		_, length := s.vocabulary().find(roleFiller, ahead)
		if length == 0 {
			_, length = s.vocabulary().find(roleArticle, ahead[:1])
		}
		if !single && (length < 2 || !ahead[0].isLower()) {
			return 0
		}
		return length
	}
}

// hasRegisters reports whether one of the instruments is told apart by alto and
// basso.
func (c *Catalogue) hasRegisters(targets []target) bool {
	return slices.ContainsFunc(targets, func(t target) bool {
		return slices.ContainsFunc(c.byKind[t.kind], func(i *Instrument) bool { return i.Register != "" })
	})
}
