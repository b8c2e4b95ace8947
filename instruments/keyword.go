package instruments

import (
	"slices"
	"strings"
	"unicode/utf8"

	"deskpart/transpose/pitch"
)

// A keyWord is a key as a name states it.
type keyWord struct {
	key       string           // "Bb", "F#"
	plainB    bool             // a B alone: B flat in German usage, B natural in English
	english   bool             // stands before the instrument without a hyphen: "B Horn"
	languages []pitch.Language // of the words, empty where they do not tell
}

// readKey reads a key at the head of the tokens: "Bb", "B-flat", "si bémol", "Es",
// "降B".
// The second result is the number of tokens it takes, 0 for none.
func (v *vocabulary) readKey(tokens []token) (keyWord, int) {
	if len(tokens) == 0 || tokens[0].isNumber() {
		return keyWord{}, 0
	}
	if key, ok := v.signBefore(tokens); ok {
		return key, 2
	}
	key, ok := v.oneWordKey(tokens[0].text)
	if !ok {
		return keyWord{}, 0
	}
	if len(tokens) > 1 && len(key.key) == 1 && utf8.RuneCountInString(tokens[0].text) < 4 {
		if signed, ok := v.signedKey(key, tokens[0], tokens[1]); ok {
			return signed, 2
		}
	}
	return key, 1
}

// oneWordKey reads "b", "bb", "es", "sib", "eflat", "mibemolle".
func (v *vocabulary) oneWordKey(text string) (keyWord, bool) {
	if note, ok := v.meanings[wordKey{roleNote, text}]; ok {
		return newKeyWord(note), true
	}
	for n := 1; n < len(text) && n <= 3; n++ {
		note, isNote := v.meanings[wordKey{roleNote, text[:n]}]
		sign, isSign := v.signMeaning(text[n:])
		if isNote && isSign && len(strings.TrimSuffix(note.meaning, "?")) == 1 {
			return newKeyWord(note).signed(sign), true
		}
	}
	return keyWord{}, false
}

func newKeyWord(note wordMeaning) keyWord {
	return keyWord{
		key:       strings.TrimSuffix(note.meaning, "?"),
		plainB:    strings.HasSuffix(note.meaning, "?"),
		languages: note.languages,
	}
}

// signMeaning reads what follows a note name within one word.
func (v *vocabulary) signMeaning(text string) (wordMeaning, bool) {
	if text == "#" {
		return wordMeaning{meaning: "#"}, true
	}
	sign, ok := v.meanings[wordKey{roleSign, text}]
	return sign, ok
}

// signedKey reads a sign that is a word of its own. A letter b is a flat only
// after a syllable: "si b", but not "E B".
func (v *vocabulary) signedKey(key keyWord, note, next token) (keyWord, bool) {
	sign, ok := v.signMeaning(next.text)
	if !ok || next.text == "b" && len(note.text) < 2 || strength(next.before) == 4 {
		return keyWord{}, false
	}
	return key.signed(sign), true
}

// signBefore reads a sign glued to the note that follows: "♭B", "降B".
func (v *vocabulary) signBefore(tokens []token) (keyWord, bool) {
	if len(tokens) < 2 || tokens[1].before != 0 || isASCII(tokens[0].text) {
		return keyWord{}, false
	}
	sign, isSign := v.signMeaning(tokens[0].text)
	note, isNote := v.meanings[wordKey{roleNote, tokens[1].text}]
	if !isSign || !isNote || len(strings.TrimSuffix(note.meaning, "?")) > 1 {
		return keyWord{}, false
	}
	return newKeyWord(note).signed(sign), true
}

func (k keyWord) signed(sign wordMeaning) keyWord {
	k.plainB = false
	if sign.meaning != "=" {
		k.key += sign.meaning
	}
	k.languages = union(k.languages, sign.languages)
	return k
}

// haveH reports whether the languages are such, all of them, as call B natural H.
func (v *vocabulary) haveH(languages []pitch.Language) bool {
	h := v.meanings[wordKey{roleNote, "h"}].languages
	return !slices.ContainsFunc(languages, func(l pitch.Language) bool { return !slices.Contains(h, l) })
}
