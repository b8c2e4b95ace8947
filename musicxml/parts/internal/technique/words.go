package technique

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/notice"
)

// whenAsked compiles a pattern when it is first asked for: few parts go to another
// instrument.
func whenAsked(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// apart begins a pattern: the words stand at the start or after what is no letter.
const apart = `(?i)(?:^|[^\pL])`

// techniqueWords ask for a technique, by who has it (proof-notes, common practice).
var techniqueWords = []struct {
	words func() *regexp.Regexp
	has   func(r *techniqueRemover, text string) bool
}{
	{whenAsked(apart + `(?:pizz|arco|col legno|sul (?:pont|tast|[gdaec](?:$|[^\pL]))|spicc|saltell|punta d.arco|am frosch|am griffbrett|am steg|mit dem bogen|dämpfer ab)`),
		func(r *techniqueRemover, text string) bool {
			return r.to.Flags.Bowed || r.to.Flags.Plucked && strings.HasPrefix(strings.ToLower(text), "pizz")
		}},
	{whenAsked(apart + `(?:gestopft|bouché|cuivr|chiuso|hand.?stopped|schalltrichter|pavillons? en l.air|harmon|plunger|cup mute|straight mute)`),
		func(r *techniqueRemover, _ string) bool { return r.to.Group == instruments.Brass }},
	{whenAsked(apart + `(?:con sord|senza sord|mit dämpfer|ohne dämpfer|avec sourdine|sans sourdine|muted|mutes? o(?:n|ff))`),
		func(r *techniqueRemover, _ string) bool { return r.to.Group == instruments.Brass || r.to.Flags.Bowed }},
	{whenAsked(apart + `(?:flutter|flatterz|frull|double.?tongue|triple.?tongue|slap)`),
		func(r *techniqueRemover, _ string) bool { return r.to.Flags.Breath }},
	{whenAsked(apart + `(?:capo(?:tasto|dastre)?(?:$|[^\pL])|cejilla|barré|rasg|palm mute|p\. ?m\.(?:$|[^\pL])|let ring|bottleneck|drop[- ]d(?:$|[^\pL]))`),
		func(r *techniqueRemover, _ string) bool { return r.to.Flags.Fretted }},
}

// section reports whether the words were written for many on one part, who can divide.
func (r *techniqueRemover) section() bool {
	return r.from == nil || r.from.Flags.Bowed || r.from.Flags.Voice
}

// wholeWords are directions that say a technique and nothing else. What joins them to
// a dynamic goes with them: "sempre div. e" before a p.
var wholeWords = whenAsked(`(?i)^[\s(\[]*(?:(?:sempre|non|poco) )*(?:pizz(?:icato)?|(?:coll.)?arco|col legno(?: (?:battuto|tratto))?|` +
	`sul (?:pont(?:icello)?|tast(?:o|iera)?|[gdaec])|spicc(?:ato)?|saltell(?:ato)?|punta d.arco|am (?:frosch|griffbrett|steg)|mit dem bogen|` +
	`gestopft|bouchée?s?|cuivrée?s?|chiuso|hand.?stopped|schalltrichter auf|plunger|(?:cup|straight|harmon) mute|` +
	`(?:con|senza) sord(?:in[oi])?|(?:mit|ohne) dämpfer|dämpfer ab|(?:avec|sans) sourdines?|muted|mutes? (?:on|off)|` +
	`flutter(?:.?tongue)?|flatterz(?:unge)?|frull(?:ato)?|(?:double|triple).?tongue|slap(?: tongue)?|` +
	`capo(?:tasto|dastre)?\.? ?(?:\d+|[ivx]+)?(?:st|nd|rd|th)?(?: fret)?|palm mute|p\. ?m|let ring|rasg(?:ueado)?|drop[- ]d)` +
	`[\s.)\],;:]*(?: (?:e|et|und|and))?[\s.)\],;:]*$`)

// longestWords bounds the directions that are looked at, in bytes.
const longestWords = 400

// words takes out words that ask for what the instrument does not have and for
// nothing else, and reports those that say more besides: also where they stand among
// dynamics.
func (r *techniqueRemover) words(types *etree.Element, at musicxml.Fraction) {
	for _, e := range spoken(types) {
		text := musicxml.Text(e)
		switch {
		case len(text) > longestWords || !r.asks(text):
		case wholeWords().MatchString(text) || lexicon.OnlySays(text, dividing...):
			r.drop(e, at, text)
		default:
			r.warn(notice.Unplayable, at, fmt.Sprintf("%q asks for a technique that %s does not have; the words were left", text, r.name()))
		}
	}
	for _, d := range musicxml.Children(types, "dynamics") {
		if len(d.ChildElements()) == 0 {
			types.RemoveChild(d)
		}
	}
}

// spoken are the elements of a direction type that hold words.
func spoken(types *etree.Element) []*etree.Element {
	list := append(musicxml.Children(types, "words"), musicxml.Children(types, "other-direction")...)
	for _, d := range musicxml.Children(types, "dynamics") {
		list = append(list, musicxml.Children(d, "other-dynamics")...)
	}
	return list
}

// asks reports whether a text asks for what the instrument does not have.
func (r *techniqueRemover) asks(text string) bool {
	for _, t := range techniqueWords {
		if t.words().MatchString(text) && !t.has(r, text) {
			return true
		}
	}
	return r.section() && !r.to.Flags.Bowed && !r.to.Flags.Voice &&
		slices.ContainsFunc(lexicon.Of(text).Says, func(said string) bool { return slices.Contains(dividing, said) })
}

// dividing is what words say that are for many on one part, as the table of words has it.
var dividing = []string{"divided", "unison"}

// syllable tells, once a part, of syllables under the notes of who does not sing.
func (r *techniqueRemover) syllable(ev *musicxml.Event) {
	if r.sung || r.to.Flags.Voice || musicxml.Child(ev.Element, "lyric") == nil {
		return
	}
	r.sung = true
	r.warn(notice.SyllablesLeft, ev.Onset, "syllables stand under the notes, which "+r.name()+" does not sing; they were left")
}
