package printing_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/pdfread"
	"deskpart/musicxml/music"
)

// How far from the place of its moment a mark may stand, in staff spaces: dynamics
// stand centred, hairpins and words give way to what they meet.
const (
	nearLeft  = 4
	nearRight = 5
)

// compareMarks holds slurs, hairpins, dynamics and words against the document.
func (c *tally) compareMarks(t *testing.T, name string, root *etree.Element, read *pdfread.Part) {
	t.Helper()
	part, err := music.ReadPart(musicxml.Child(root, "part"))
	require.NoError(t, err, name)
	c.compareSlurs(name, part, read)
	c.compareHairpins(name, part, read)
	c.compareDynamics(name, part, read)
	c.compareWords(name, part, read)
	c.noOtherWords(name, root, read)
}

func placeOf(m *music.Mark) pdfread.Place {
	return pdfread.Place{Measure: m.Measure, Onset: m.Onset}
}

// seen reports whether both ends of a span are there and printed.
func seen(s *music.Span) bool {
	return s.Start != nil && s.Stop != nil && !s.Start.Hidden && !s.Stop.Hidden &&
		(s.Start.Note == nil || !s.Start.Note.Hidden && !s.Stop.Note.Hidden)
}

// compareSlurs wants each slur from note to note; two slurs between the same single
// notes may be one on the page.
func (c *tally) compareSlurs(name string, part *music.Part, read *pdfread.Part) {
	want := map[string]int{}
	for i := range part.Spans {
		if s := &part.Spans[i]; s.Kind == "slur" && seen(s) {
			if ambiguous[fmt.Sprint(name, " ", s.Stop.Measure)] != "" {
				continue
			}
			c.counts["slurs"]++
			want[placeOf(s.Start).String()+" to "+placeOf(s.Stop).String()]++
		}
	}
	for _, s := range read.Slurs {
		slur := s.From.Place.String() + " to " + s.To.Place.String()
		if ambiguous[fmt.Sprint(name, " ", s.To.Measure)] != "" {
			continue
		}
		if want[slur]--; s.Kind != "slur" || want[slur] < 0 {
			c.miss("slurs", "%s: not in the part: %s %s", name, s.Kind, slur)
		}
		if want[slur] == 0 {
			delete(want, slur)
		}
	}
	for slur, n := range want {
		if n > 0 && !slices.ContainsFunc(read.Slurs, func(s pdfread.Span) bool { return s.From.Place.String()+" to "+s.To.Place.String() == slur }) {
			c.miss("slurs", "%s: not on the page: %s", name, slur)
		}
	}
}

// isNear reports whether a mark stands at its moment.
func isNear(read *pdfread.Part, want pdfread.Place, got pdfread.Mark, left, right float64) bool {
	system, x, known := read.X(want)
	return !known || system == got.System && got.X > x-left && got.X < x+right
}

func (c *tally) compareHairpins(name string, part *music.Part, read *pdfread.Part) {
	used := make([]bool, len(read.Hairpins))
	for i := range part.Spans {
		s := &part.Spans[i]
		if s.Kind != "wedge" || !seen(s) {
			continue
		}
		c.counts["hairpins"]++
		late := nearRight + read.Length(placeOf(s.Start), placeOf(s.Stop))/2
		twice := isTwice(part, i)
		at := slices.IndexFunc(read.Hairpins, func(h pdfread.Span) bool {
			return (!used[slices.Index(read.Hairpins, h)] || twice) && h.Kind == musicxml.Attr(s.Start.Element, "type") && isNear(read, placeOf(s.Start), h.From, nearLeft, late) && isNear(read, placeOf(s.Stop), h.To, late, nearRight)
		})
		if at < 0 {
			c.miss("hairpins", "%s: not on the page: %s from %s to %s", name, musicxml.Attr(s.Start.Element, "type"), placeOf(s.Start), placeOf(s.Stop))
			continue
		}
		used[at] = true
	}
	for k, h := range read.Hairpins {
		if !used[k] {
			c.miss("hairpins", "%s: not in the part: %s from %s to %s", name, h.Kind, h.From.Place, h.To.Place)
		}
	}
}

// isTwice reports whether an earlier span of the part is the same.
func isTwice(part *music.Part, i int) bool {
	s := &part.Spans[i]
	return slices.ContainsFunc(part.Spans[:i], func(o music.Span) bool {
		return o.Kind == s.Kind && o.Start != nil && o.Stop != nil && placeOf(o.Start) == placeOf(s.Start) && placeOf(o.Stop) == placeOf(s.Stop)
	})
}

// dynamicOf are the letters of a dynamic that are printed as signs.
func dynamicOf(e *etree.Element) (text string) {
	for _, child := range e.ChildElements() {
		letters := musicxml.Text(child)
		switch {
		case child.Tag != "other-dynamics":
			text += child.Tag
		case strings.Trim(letters, "pmfrsz[]() ") == "":
			text += strings.Trim(letters, "[]() ")
		}
	}
	return text
}

// wordsBefore is how far words that lead to a dynamic may push its letters to the right: a
// space for a letter ("sempre più f").
func wordsBefore(e *etree.Element) (spaces float64) {
	if first := e.ChildElements()[0]; first.Tag == "other-dynamics" {
		spaces = float64(utf8.RuneCountInString(musicxml.Text(first)))
	}
	return spaces
}

func (c *tally) compareDynamics(name string, part *music.Part, read *pdfread.Part) {
	used := make([]bool, len(read.Dynamics))
	for i := range part.Marks {
		m := &part.Marks[i]
		if m.Element.Tag != "dynamics" || m.Hidden || dynamicOf(m.Element) == "" {
			continue
		}
		c.counts["dynamics"]++
		at := -1
		for k, d := range read.Dynamics {
			if !used[k] && d.Text == dynamicOf(m.Element) && isNear(read, placeOf(m), d, nearLeft, nearRight+wordsBefore(m.Element)) {
				at = k
				break
			}
		}
		if at < 0 && isSaid(part.Marks[:i], m) {
			continue
		}
		if at < 0 {
			c.miss("dynamics", "%s: not on the page: %s at %s", name, dynamicOf(m.Element), placeOf(m))
			continue
		}
		used[at] = true
	}
	for k, d := range read.Dynamics {
		if !used[k] {
			c.miss("dynamics", "%s: not in the part: %s at %s", name, d.Text, d.Place)
		}
	}
}

// isSaid reports whether an earlier dynamic is the same: players who share a staff have
// one each, and the page one for both.
func isSaid(before []music.Mark, m *music.Mark) bool {
	return slices.ContainsFunc(before, func(o music.Mark) bool {
		return !o.Hidden && o.Element.Tag == "dynamics" && placeOf(&o) == placeOf(m) && o.Event.Staff == m.Event.Staff && dynamicOf(o.Element) == dynamicOf(m.Element)
	})
}

// compareWords wants all words at their moment; those of one moment may follow one
// another on one line.
func (c *tally) compareWords(name string, part *music.Part, read *pdfread.Part) {
	letters := map[pdfread.Place]float64{}
	for i := range part.Marks {
		if m := &part.Marks[i]; m.Element.Tag == "words" {
			letters[placeOf(m)] += float64(len(musicxml.RawText(m.Element)))
		}
	}
	for i := range part.Marks {
		m := &part.Marks[i]
		text := strings.Join(strings.Fields(musicxml.RawText(m.Element)), " ")
		if m.Element.Tag != "words" || m.Hidden || text == "" || isFontLetters(text) {
			continue
		}
		c.counts["words"]++
		if !slices.ContainsFunc(read.Words, func(w pdfread.Mark) bool {
			return strings.Contains(w.Text, text) && isNear(read, placeOf(m), w, 20+letters[placeOf(m)], 8+letters[placeOf(m)]+20*float64(strings.Count(text, "=")))
		}) {
			c.miss("words", "%s: not on the page: %q at %s", name, text, placeOf(m))
		}
	}
}

// noOtherWords wants no word on the page that the document has not, and none more often.
func (c *tally) noOtherWords(name string, root *etree.Element, read *pdfread.Part) {
	have := map[string]int{}
	for _, e := range root.FindElements("part//") {
		for _, word := range wordsIn(e.Text()) {
			have[word]++
		}
	}
	chords := root.FindElement("part//harmony") != nil
	for _, w := range read.Words {
		if signs.MatchString(w.Text) || chords && chord.MatchString(w.Text) {
			continue
		}
		for _, word := range wordsIn(w.Text) {
			if have[word]--; have[word] < 0 {
				c.miss("words", "%s: not in the part: %q in %q at %s", name, word, w.Text, w.Place)
			}
		}
	}
}

// signs are words that stand for other things than words: octave lines, the place of a
// chord's frame on the neck, how strings are tuned. A chord symbol begins with its root.
var (
	signs = regexp.MustCompile(`^(\(?\d+(va|vb|ma|mb)\)?|\d+fr\.|scordatura: .*)$`)
	chord = regexp.MustCompile(`^[A-G]`)
)

// wordsIn are the words of a text: runs of two letters and more.
func wordsIn(text string) (words []string) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len(word) > 1 {
			words = append(words, word)
		}
	}
	return words
}

// isFontLetters reports whether a text has letters of a font of its own, which are
// drawn as signs (Unicode, private use area).
func isFontLetters(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return r >= 0xe000 && r < 0xf900 })
}
