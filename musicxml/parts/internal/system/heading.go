package system

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
)

func startsWithCapital(text string) bool {
	for _, r := range text {
		if unicode.IsLetter(r) {
			return unicode.IsUpper(r)
		}
	}
	return false
}

// boldWords reports whether all words of a direction are bold, as tempo headings
// are printed.
func boldWords(direction *etree.Element) bool {
	found := false
	for _, w := range draft.WordsIn(direction) {
		if musicxml.Text(w) == "" {
			continue
		}
		if musicxml.Attr(w, "font-weight") != "bold" {
			return false
		}
		found = true
	}
	return found
}

// drawnMark is a metronome mark that was typed as text: a note sign or the letters
// M.M., an equals sign, and a number or another note.
var drawnMark = regexp.MustCompile(`M\.\s?M\.|[\x{2669}-\x{266C}\x{1D15C}-\x{1D164}\x{E1D0}-\x{E1EF}\x{ECA0}-\x{ECBF}][^=]*=`)

// drawnMetronome reports whether words are a metronome mark in letters.
func drawnMetronome(text string) bool { return drawnMark.MatchString(text) }

var romanNumber = regexp.MustCompile(`^[IVX]+\.?$`)

// movementNumber reports whether words may be the number of a movement, which
// elsewhere names a string or a player.
func movementNumber(text string) bool { return romanNumber.MatchString(strings.TrimSpace(text)) }

// opensMovement reports whether a direction stands where a movement begins: at the
// start of the part or after a final bar line, beside a time signature or tempo.
func (g *gatherer) opensMovement(e *etree.Element) bool {
	if g.now.Sign() != 0 || musicxml.Attr(e, "placement") == "below" {
		return false
	}
	tempo, metre := false, g.measure.Index == 0
	for i := range g.measure.Events {
		ev := &g.measure.Events[i]
		if ev.Onset.Sign() != 0 || ev.Kind == musicxml.Backup {
			break
		}
		switch ev.Kind {
		case musicxml.Direction:
			tempo = tempo || ev.Element != e && g.isTempo(ev.Element)
		case musicxml.Attributes:
			metre = metre || musicxml.Child(ev.Element, "time") != nil
		}
	}
	return tempo && metre
}

// isTempo reports whether another direction gives a tempo.
func (g *gatherer) isTempo(e *etree.Element) bool {
	for _, t := range musicxml.Children(e, "direction-type") {
		if musicxml.Child(t, "metronome") != nil {
			return true
		}
		if class := g.words.Read(draft.JoinedText(t, "words")).Class; class == lexicon.TempoWords || class == lexicon.HeadingWords {
			return true
		}
	}
	return false
}

// dropLoneNumbers takes out what looked like the number of a movement if the part
// has no second one: a single "I." names a player.
func (g *gatherer) dropLoneNumbers() {
	isNumber := func(m mark) bool {
		return len(m.says) == 1 && m.says[0].movement
	}
	count := 0
	for _, m := range g.marks {
		if isNumber(m) {
			count++
		}
	}
	if count == 1 {
		g.marks = slices.DeleteFunc(g.marks, isNumber)
	}
}

// leadsOf tells of each part whether it heads the system or a family of instruments:
// the first of all, the first of a group, and the first of its kind of instruments
// after those of another.
func leadsOf(c *survey.Score) []bool {
	if len(c.Parts) == 0 { // nothing was read
		return nil
	}
	leads := make([]bool, len(c.Parts))
	grouped := groupStarts(c.Music)
	for i := range c.Parts {
		if i == 0 || grouped[c.Parts[i].ID] {
			leads[i] = true
			continue
		}
		this, above := c.Parts[i].Match.Instrument, c.Parts[i-1].Match.Instrument
		leads[i] = this != nil && above != nil && this.Group != above.Group
	}
	return leads
}

// groupStarts finds the parts that stand first in a <part-group>.
func groupStarts(score *musicxml.Score) map[string]bool {
	first := map[string]bool{}
	list := musicxml.Child(score.Header.Root(), "part-list")
	if list == nil {
		return first
	}
	opened := false
	for _, e := range list.ChildElements() {
		switch {
		case e.Tag == "part-group" && musicxml.Attr(e, "type") == "start":
			opened = true
		case e.Tag == "score-part":
			first[musicxml.Attr(e, "id")] = opened
			opened = false
		}
	}
	return first
}
