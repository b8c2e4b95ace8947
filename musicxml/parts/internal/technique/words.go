package technique

import (
	"fmt"
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/notice"
)

// techniques are what words ask for, as the table of words has it, and who has it
// (proof-notes, common practice).
var techniques = []struct {
	says string
	has  func(r *techniqueRemover) bool
}{
	{"bowing", func(r *techniqueRemover) bool { return r.to.Flags.Bowed }},
	{"plucking", (*techniqueRemover).strings},
	{"place on the string", (*techniqueRemover).strings},
	{"stopping", func(r *techniqueRemover) bool { return r.to.Group == instruments.Brass }},
	{"muting", func(r *techniqueRemover) bool { return r.to.Group == instruments.Brass || r.to.Flags.Bowed }},
	{"tonguing", func(r *techniqueRemover) bool { return r.to.Flags.Breath }},
	{"fretting", func(r *techniqueRemover) bool { return r.to.Flags.Fretted }},
	{"ringing", func(r *techniqueRemover) bool { return !r.to.Flags.Breath && !r.to.Flags.Bowed && !r.to.Flags.Voice }},
	{"divided", (*techniqueRemover).divides},
	{"unison", (*techniqueRemover).divides},
}

// lacking lists what words may ask for and the instrument does not have.
func (r *techniqueRemover) lacking() (list []string) {
	for _, t := range techniques {
		if !t.has(r) {
			list = append(list, t.says)
		}
	}
	return list
}

// divides reports whether many may play the part, or none of those that it was written
// for could divide.
func (r *techniqueRemover) divides() bool {
	return !r.section() || r.to.Flags.Bowed || r.to.Flags.Voice
}

// section reports whether the words were written for many on one part, who can divide.
func (r *techniqueRemover) section() bool {
	return r.from == nil || r.from.Flags.Bowed || r.from.Flags.Voice
}

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
		case lexicon.OnlySays(text, r.lacks...):
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
	return slices.ContainsFunc(lexicon.Of(text).Says, func(said string) bool { return slices.Contains(r.lacks, said) })
}

// syllable tells, once a part, of syllables under the notes of who does not sing.
func (r *techniqueRemover) syllable(ev *musicxml.Event) {
	if r.sung || r.to.Flags.Voice || musicxml.Child(ev.Element, "lyric") == nil {
		return
	}
	r.sung = true
	r.warn(notice.SyllablesLeft, ev.Onset, "syllables stand under the notes, which "+r.name()+" does not sing; they were left")
}
