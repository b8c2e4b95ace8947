package partstest

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// plainTempo are texts that everybody must get without any other evidence; a
// short list, apart from the copyist's own.
var plainTempo = regexp.MustCompile(`(?i)^\W*(poco |molto |un poco )?(rit|ritard|rall|accel|ritardando|rallentando|accelerando|stringendo|allargando|a tempo|tempo (i|primo)|meno mosso|pi[uù] mosso|d\.? ?c\.?|d\.? ?s\.?|fine|g\. ?p\.)\.?\W*$`)

// marksOf lists what a measure says to everybody, and how often.
func marksOf(m *musicxml.Measure) map[string]int {
	marks := map[string]int{}
	for _, ev := range m.Events {
		e := ev.Element
		switch ev.Kind {
		case musicxml.Direction:
			directionMarks(marks, e)
		case musicxml.Sound:
			soundMarks(marks, e)
		case musicxml.Barline:
			barlineMarks(marks, e)
		case musicxml.Attributes:
			for _, time := range e.SelectElements("time") {
				if n := attr(time, "number"); n == "" || n == "1" {
					marks["time "+flat(time)]++
				}
			}
		}
	}
	return marks
}

// flat writes an element's texts in one line.
func flat(e *etree.Element) string {
	var b strings.Builder
	each(e, func(c *etree.Element) {
		if t := text(c); t != "" {
			b.WriteString(c.Tag + "=" + t + " ")
		}
	})
	return strings.TrimSpace(b.String())
}

func directionMarks(marks map[string]int, e *etree.Element) {
	evidence := attr(e, "directive") == "yes" || attr(e, "system") == "only-top" || attr(e, "system") == "also-top"
	if sound := e.SelectElement("sound"); sound != nil {
		soundMarks(marks, sound)
		evidence = evidence || attr(sound, "tempo") != ""
	}
	var words []string
	for _, t := range e.SelectElements("direction-type") {
		for _, c := range t.ChildElements() {
			switch c.Tag {
			case "rehearsal":
				marks["rehearsal "+fold(c.Text())]++
			case "segno", "coda":
				marks[c.Tag]++
			case "metronome":
				// One that names no note at one of its sides is not valid and says nothing.
				if !slices.ContainsFunc(c.SelectElements("beat-unit"), func(unit *etree.Element) bool { return text(unit) == "" }) {
					marks["metronome "+flat(c)]++
					evidence = true
				}
			case "words":
				words = append(words, c.Text())
			}
		}
	}
	if said := fold(strings.Join(words, " ")); said != "" && (evidence || plainTempo.MatchString(strings.Join(words, " "))) {
		marks["words "+said]++
	}
}

// fold leaves of a text its letters and digits.
func fold(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return strings.ContainsRune(" .,;:()[]\n\t-–—|", r)
	}), " ")
}

func soundMarks(marks map[string]int, e *etree.Element) {
	for _, a := range e.Attr {
		switch a.Key {
		case "tempo":
			marks["sound tempo "+a.Value]++
		case "dacapo", "dalsegno", "segno", "coda", "tocoda", "fine", "forward-repeat":
			marks["sound "+a.Key]++
		}
	}
	if e.SelectElement("swing") != nil {
		marks["sound swing"]++
	}
}

func barlineMarks(marks map[string]int, e *etree.Element) {
	location := cmp.Or(attr(e, "location"), "right")
	switch style := text(e, "bar-style"); style {
	case "light-light", "light-heavy", "heavy-light", "heavy-heavy":
		marks["barline "+location+" "+style]++
	}
	if repeat := e.SelectElement("repeat"); repeat != nil {
		marks["repeat "+attr(repeat, "direction")]++
	}
	if ending := e.SelectElement("ending"); ending != nil {
		marks["ending "+attr(ending, "number")+" "+attr(ending, "type")]++
	}
	for _, tag := range []string{"segno", "coda"} {
		if e.SelectElement(tag) != nil {
			marks[tag]++
		}
	}
}

// systemMarks checks that every mark of the whole system stands in the part, as
// often as in the part of the score that has it (coverage 15.8; table (a)).
func (c *checker) systemMarks() {
	if len(c.timeline.Measures) != len(c.marks) {
		return
	}
	for i := range c.timeline.Measures {
		m := &c.timeline.Measures[i]
		got := marksOf(m)
		for mark, n := range c.marks[i] {
			if c.satisfied(i, mark, n, got) {
				continue
			}
			c.fault("measure %s: %q stands %d times instead of %d", m.Number, mark, got[mark], n)
		}
		for mark, n := range got {
			if n > max(c.marks[i][mark], 1) || c.marks[i][mark] == 0 && !strings.HasPrefix(mark, "words") && !c.fromNearby(i, mark) {
				c.fault("measure %s: %q stands %d times; the score has it %d times", m.Number, mark, n, c.marks[i][mark])
			}
		}
	}
	c.systemAttributes()
}

// satisfied reports whether a part says a mark often enough. Words may be worded
// in the part's own way, or stand just behind the bar line.
func (c *checker) satisfied(measure int, mark string, n int, got map[string]int) bool {
	if got[mark] == n {
		return true
	}
	own := c.source.marks[measure]
	switch kind, _, _ := strings.Cut(mark, " "); kind {
	case "words":
		return got[mark] > 0 || c.wordedOtherwise(measure, mark)
	case "sound", "metronome":
		// The part says another value at the same place.
		return got[mark] > 0 && got[mark] >= own[mark] || len(own) > 0 && sameKind(own, mark)
	case "time":
		// A part that goes its own way, in another metre than the others.
		return sameKind(own, mark) || c.source.timeline.Measures[measure].Length != c.lengths[measure]
	case "barline":
		return sameKind(got, mark)
	}
	return false
}

func sameKind(marks map[string]int, mark string) bool {
	kind, _, _ := strings.Cut(mark, " ")
	for other := range marks {
		if other != mark && strings.HasPrefix(other, kind+" ") {
			return true
		}
	}
	return false
}

var stems = regexp.MustCompile(`rit|rall|accel|string|allarg|tempo|mosso|meno|fine|d c|d s`)

// wordedOtherwise looks in the measure and its neighbours for words with the same
// stem, or the beginning of the same words.
func (c *checker) wordedOtherwise(measure int, mark string) bool {
	said := strings.TrimPrefix(mark, "words ")
	stem := stems.FindString(said)
	for i := max(measure-1, 0); i <= min(measure+1, len(c.timeline.Measures)-1); i++ {
		for _, d := range c.timeline.Measures[i].Element.SelectElements("direction") {
			here := fold(strings.Join(texts(d, "direction-type/words"), " "))
			if here != "" && (stem != "" && strings.Contains(here, stem) || strings.HasPrefix(here, said) || strings.HasPrefix(said, here)) {
				return true
			}
		}
	}
	return false
}

// fromNearby reports whether a mark of the part stands in a neighbouring measure
// of the score.
func (c *checker) fromNearby(measure int, mark string) bool {
	for i := max(measure-1, 0); i <= min(measure+1, len(c.marks)-1); i++ {
		if c.marks[i][mark] > 0 {
			return true
		}
	}
	return false
}

// systemAttributes checks that nothing in the part relates to a system of several
// parts any more, and that no ending is hidden that some part shows.
func (c *checker) systemAttributes() {
	shown := map[string]bool{}
	for i := range c.parts {
		for _, ending := range c.parts[i].element.FindElements(".//ending") {
			if attr(ending, "print-object") != "no" {
				shown[attr(ending, "number")+attr(ending, "type")] = true
			}
		}
	}
	each(c.part, func(e *etree.Element) {
		if s := attr(e, "system"); s != "" && s != "none" {
			c.fault("<%s> has system=%q", e.Tag, s)
		}
		if e.Tag == "ending" && attr(e, "print-object") == "no" && shown[attr(e, "number")+attr(e, "type")] {
			c.fault("ending %s is hidden", attr(e, "number"))
		}
	})
}
