package staff

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// Letters as they name keys and pitches in English and German, and the syllables
// of the Latin languages. A small letter is no key: "a 2", "in a slow tempo".
const (
	letterName   = `[A-H](?:[#♯♭]|is|es|s|b\b|` + signWord + `)?`
	syllableName = `(?i:ut|do|re|ré|mi|fa|sol|la|si)(?: ?[#♯♭b]|` + signWord + `)?`
	signWord     = `[ -]?(?:flat|sharp|bemolle|bémol|dièse|diesis|bemol|sostenido)`
)

var (
	// keyPhrase finds "in B", "muta in Es", "en si♭", "in Re"; a syllable ends the
	// phrase, for "en la" may go on as other words.
	keyPhrase = regexp.MustCompile(`(?:^|[\s(])(?:[Ii]n|[Ee]n)\s+(?:` + letterName + `(?:$|[\s).,;:!])|` + syllableName + `(?:$|[).,;:!]))`)
	// tuning finds text that is nothing but note names: "G–D", "C D E", "F♯, B".
	tuning = regexp.MustCompile(`^(?:` + letterName + `)\d?(?:(?:\s*[,;/–—-]\s*|\s+(?:(?:and|und|et|e|y)\s+)?)(?:` + letterName + `)\d?)+[.]?$`)
	// signedName finds a letter with its sign, or with its octave: "B♭", "F#", "Eb", "C4",
	// "F sharp"; a key: "D major", "a-Moll"; a pitch that is called sounding: "concert C".
	signedName = regexp.MustCompile(`(?:^|[^\pL\d])(?:[A-G][#♯♭]\d?|[B-G]b\d?|[B-G][0-8]|[A-H][ -](?:flat|sharp|natural)|` +
		letterName + `[ -](?:major|minor|[Dd]ur|[Mm]oll|majeur|mineur|maggiore|minore)|[a-h][ -][Mm]oll|` +
		syllableName + ` (?:majeur|mineur|maggiore|minore|mayor|menor)|(?:[Cc]oncert|[Ss]ounding|[Kk]lingend) [A-H])(?:$|[^\pL\d#♯♭])`)
)

// namesPitch reports whether a text names a key or a pitch, which a move of the
// part would make untrue. A string's name ("sul G") keeps.
func namesPitch(text string) bool {
	text = strings.TrimSpace(text)
	if text == "" || len(text) > longestText || strings.HasPrefix(strings.ToLower(text), "sul ") {
		return false
	}
	return keyPhrase.MatchString(text) || tuning.MatchString(text) || signedName.MatchString(text)
}

// longestText bounds the directions that are looked at, in bytes.
const longestText = 400

// ReportPitchTexts warns of what names a key or a pitch in a part that was moved: text
// cannot be moved safely.
func (p *Page) ReportPitchTexts(s *draft.Draft) error {
	if !p.anyMoved() {
		return nil
	}
	var under syllables
	for i := range s.Timeline.Measures {
		m := &s.Timeline.Measures[i]
		for k := range m.Events {
			ev := &m.Events[k]
			under.add(m, ev)
			if text := pitchText(ev.Element); text != "" && !s.NamesChange(ev.Element) {
				s.Warn(musicxml.Warning{Code: notice.TextNamesPitch, Measure: m.Number, Beat: m.Beat(ev.Onset),
					Text: fmt.Sprintf("%q names a key or a pitch and was left as it is, while the part was moved", text)})
			}
		}
	}
	if under.namePitches() {
		s.Warn(under.first)
	}
	return nil
}

// pitchSyllable is a syllable that is the name of a note or a chord: "C", "F♯", "Bb7",
// "Am", "do", "H". One alone is sung: "la la la".
var pitchSyllable = regexp.MustCompile(`^(?:[A-H](?:[#♯♭b]|is|es|s)?(?:m|min|maj|dim|aug|sus|add|M|ø|°|\+|[0-9/])*(?:/[A-H][#♯♭b]?)?|(?i:do|r[eé]|mi|fa|sol|la|si|ti))$`)

// fewSyllables is how many syllables a part must have, and pitchShare how many of ten
// must name pitches, for them to be no words that are sung.
const fewSyllables, pitchShare = 3, 8

// syllables are what stands under the notes of a part: names of notes or chords are an
// analysis, for who does not sing.
type syllables struct {
	all, named int
	text       string           // of the first that names a pitch
	first      musicxml.Warning // of it
	several    bool             // there are others
}

// add notes down the syllables of an event.
func (y *syllables) add(m *musicxml.Measure, ev *musicxml.Event) {
	for _, lyric := range musicxml.Children(ev.Element, "lyric") {
		text := musicxml.ChildText(lyric, "text")
		if y.all++; !pitchSyllable.MatchString(text) {
			continue
		}
		if y.named++; y.named == 1 {
			y.text = text
			y.first = musicxml.Warning{Code: notice.TextNamesPitch, Measure: m.Number, Beat: m.Beat(ev.Onset),
				Text: fmt.Sprintf("%q and other syllables under the notes name pitches and were left as they are, while the part was moved", text)}
		}
		y.several = y.several || text != y.text
	}
}

// namePitches reports whether the syllables are no words that are sung.
func (y *syllables) namePitches() bool {
	return y.several && y.named >= fewSyllables && 10*y.named >= pitchShare*y.all
}

// pitchText returns the text of an event that names a pitch, "" for none: of its
// words, of a rehearsal mark that is more than a letter, of a footnote, of a notation
// that has no name.
func pitchText(event *etree.Element) string {
	for e := range event.ChildElementsSeq() {
		switch e.Tag {
		case "direction-type", "notations":
			for _, token := range e.Child {
				if text, ok := token.(*etree.Element); ok && isFreeText(text) && namesPitch(musicxml.Text(text)) {
					return musicxml.Text(text)
				}
			}
		case "footnote":
			if namesPitch(musicxml.Text(e)) {
				return musicxml.Text(e)
			}
		}
	}
	return ""
}

// isFreeText reports whether an element says in words what it means; "B2" is a
// rehearsal mark and no pitch.
func isFreeText(e *etree.Element) bool {
	switch e.Tag {
	case "words", "other-direction", "other-notation":
		return true
	case "rehearsal":
		return strings.Contains(musicxml.Text(e), " ")
	}
	return false
}

func (p *Page) anyMoved() bool {
	for i := range p.Staves {
		if p.Staves[i].moved {
			return true
		}
	}
	return false
}
