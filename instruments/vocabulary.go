package instruments

import (
	"io/fs"
	"strconv"

	"deskpart/transpose/pitch"
)

// Roles of the words that stand beside an instrument's name.
const (
	roleNote      = "note"      // a note name; the meaning "B?" is the B of two languages
	roleSign      = "sign"      // flat, sharp or natural after a note name
	roleIn        = "in"        // between instrument and key
	roleRegister  = "register"  // alto or basso
	roleClef      = "clef"      // treble or bass
	roleOrdinal   = "ordinal"   // first, second
	roleCount     = "count"     // two, three: of players
	roleJoiner    = "joiner"    // and, or, to
	roleArticle   = "article"   // the
	roleQualifier = "qualifier" // solo, repiano: stays in the label
	roleFiller    = "filler"    // says nothing about the instrument
	roleChange    = "change"    // announces a change of instrument
	roleSize      = "size"      // alto, tenor, bass: which of a family; the meaning is its English name
	roleSection   = "section"   // woodwinds, choir: names a section of the score; the meaning is its group
)

var wordRoles = []string{roleNote, roleSign, roleIn, roleRegister, roleClef, roleOrdinal, roleCount,
	roleJoiner, roleArticle, roleQualifier, roleFiller, roleChange, roleSize, roleSection}

// A vocabulary holds the words of words.csv by role and spelling.
type vocabulary struct {
	meanings map[wordKey]wordMeaning
	longest  int // words in the longest entry
}

type wordKey struct{ role, form string }

type wordMeaning struct {
	meaning   string
	languages []pitch.Language // empty for all
}

var wordColumns = []string{"word", "role", "meaning", "language"}

func (c *Catalogue) readWords(files fs.FS) error {
	v := &vocabulary{meanings: map[wordKey]wordMeaning{}}
	c.vocabulary = v
	return readRows(files, "words.csv", wordColumns, func(r row) error {
		role, err := word(r, "role", wordRoles...)
		if err != nil {
			return err
		}
		if _, err := strconv.Atoi(r.text("meaning")); err != nil && (role == roleOrdinal || role == roleCount) {
			return r.errorf("meaning", "%q is no number", r.text("meaning"))
		}
		word := r.text("word")
		v.add(role, tokenize(word), r.text("meaning"), pitch.Language(r.text("language")))
		if other := twoLetterForm(word); other != word {
			v.add(role, tokenize(other), r.text("meaning"), pitch.Language(r.text("language")))
		}
		return nil
	})
}

func (v *vocabulary) add(role string, tokens []token, meaning string, language pitch.Language) {
	key := wordKey{role, looseForm(tokens)}
	entry, known := v.meanings[key]
	if !known {
		entry.meaning = meaning
	}
	if language != "" && entry.meaning == meaning {
		entry.languages = append(entry.languages, language)
	}
	v.meanings[key] = entry
	v.longest = max(v.longest, len(tokens))
}

// find returns the meaning of the longest entry of a role at the head of the
// tokens, and how many tokens it takes; 0 where there is none.
func (v *vocabulary) find(role string, tokens []token) (wordMeaning, int) {
	for n := min(v.longest, len(tokens)); n > 0; n-- {
		if entry, ok := v.meanings[wordKey{role, looseForm(tokens[:n])}]; ok {
			return entry, n
		}
	}
	return wordMeaning{}, 0
}

// is reports whether the token alone has the role. One letter between instrument and key
// is a small one: "Horn i F", but "Horn I F".
func (v *vocabulary) is(role string, t token) bool {
	_, ok := v.meanings[wordKey{role, t.text}]
	return ok && (role != roleIn || !t.isLetter() || t.isLower())
}
