package verify

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
)

// Finding is one difference, at its place.
type Finding struct {
	Measure string `json:"measure"`
	Beat    string `json:"beat"`
	Text    string `json:"text"`
	// Respelled: the sound is the same, only its spelling differs.
	Respelled bool `json:"respelled,omitempty"`
	// Asked: nothing differs, but the part sounds with the others as if another
	// transposition were meant.
	Asked bool `json:"asked,omitempty"`
	// gainedSign: an accidental is printed that was not. sign: it is an accidental
	// that differs, in whichever way.
	gainedSign, sign bool
}

// Compare holds a part that was moved and moved back against the source, element
// by element: every pitch, signature, accidental, clef, chord symbol and all
// else. want is the source's timeline.
func Compare(want *musicxml.Timeline, got *etree.Element) []Finding {
	c := comparison{}
	measures := musicxml.Children(got, "measure")
	for i := range want.Measures {
		m := &want.Measures[i]
		if i >= len(measures) {
			c.find(m, musicxml.Fraction{}, "the bar is missing")
			continue
		}
		c.measure(m, measures[i])
	}
	if len(want.Measures) > 0 {
		c.transposition(want, measures)
	}
	if extra := len(measures) - len(want.Measures); extra > 0 {
		c.found = append(c.found, Finding{Text: notice.Counted(extra, "bar", "bars") + " too many at the end"})
	}
	return c.found
}

// comparison gathers findings.
type comparison struct{ found []Finding }

func (c *comparison) find(m *musicxml.Measure, onset musicxml.Fraction, format string, args ...any) {
	beat := ""
	if onset.Less(m.Length) || onset.Sign() == 0 { // what stands at the bar's end has no beat
		beat = m.Beat(onset)
	}
	c.found = append(c.found, Finding{Measure: m.Number, Beat: beat, Text: fmt.Sprintf(format, args...)})
}

// last is the latest finding.
func (c *comparison) last() *Finding { return &c.found[len(c.found)-1] }

// withoutSignsOf leaves out the accidentals that differ in bars where a note is
// respelled: another letter needs other signs, at the note and at those after it.
// Whether they are right is for the reading of the page to say.
func withoutSignsOf(found []Finding) []Finding {
	respelled := map[string]bool{}
	for _, f := range found {
		if f.Respelled {
			respelled[f.Measure] = true
		}
	}
	return slices.DeleteFunc(found, func(f Finding) bool { return f.sign && respelled[f.Measure] })
}

// measure compares the children of a bar.
func (c *comparison) measure(m *musicxml.Measure, got *etree.Element) {
	if d := attributesDiffer(m.Element, got); d != "" {
		c.find(m, musicxml.Fraction{}, "the bar's %s", d)
	}
	all := make([]*etree.Element, len(m.Events))
	for i := range m.Events {
		all[i] = m.Events[i].Element
	}
	want, places := joinAttributes(all)
	answers, _ := joinAttributes(childElements(got))
	next := 0 // of the elements that follow
	for _, p := range align(want, answers) {
		switch {
		case p.got == nil && saysNothingElse(p.want): // it held a <for-part> or <transpose> alone
		case p.want == nil && saysNothingElse(p.got):
			continue
		case p.got == nil:
			c.find(m, m.Events[places[next]].Onset, "%s is missing", describe(p.want))
		case p.want == nil:
			at := len(m.Events)
			if next < len(places) {
				at = places[next]
			}
			c.find(m, onsetBefore(m, at), "there is %s too many", describe(p.got))
			continue
		default:
			c.element(m, &m.Events[places[next]], p.want, p.got)
		}
		next++
	}
}

// saysNothingElse reports whether an <attributes> has nothing in it to be compared.
func saysNothingElse(e *etree.Element) bool {
	return e.Tag == "attributes" && len(childElements(e)) == 0
}

// joinAttributes puts <attributes> that follow each other in one: they hold of the
// same moment, in however many elements the score says it. The second result says of
// each element which it was in the list.
func joinAttributes(list []*etree.Element) (joined []*etree.Element, places []int) {
	for i, e := range list {
		n := len(joined)
		if n == 0 || e.Tag != "attributes" || joined[n-1].Tag != "attributes" {
			joined, places = append(joined, e), append(places, i)
			continue
		}
		both := joined[n-1].Copy()
		for _, c := range e.Copy().ChildElements() {
			musicxml.AddInOrder(both, c)
		}
		joined[n-1] = both
	}
	return joined, places
}

// childElements lists the children without a namespace prefix, as a timeline does,
// and without <for-part> and <transpose>: the first is no music but a word about the
// part to be made, and goes when the part is made; of the second counts what it comes
// to, not how often it is said, see transposition.
func childElements(e *etree.Element) []*etree.Element {
	list := make([]*etree.Element, 0, len(e.Child))
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok && c.Space == "" && c.Tag != "for-part" && c.Tag != "transpose" {
			list = append(list, c)
		}
	}
	return list
}

// onsetBefore is when the event before the one at an index begins, or else the first.
func onsetBefore(m *musicxml.Measure, i int) musicxml.Fraction {
	if len(m.Events) == 0 {
		return musicxml.Fraction{}
	}
	return m.Events[max(i-1, 0)].Onset
}

// element compares two elements of the same name with all that is in them.
func (c *comparison) element(m *musicxml.Measure, ev *musicxml.Event, want, got *etree.Element) {
	if want.Tag == "pitch" {
		c.pitch(m, ev, want, got)
		return
	}
	if d := attributesDiffer(want, got); d != "" {
		c.find(m, ev.Onset, "%s: %s", describe(want), d)
	}
	if w, g := musicxml.Text(want), musicxml.Text(got); w != g && !sameSign(want.Tag, w, g) && !sameNumber(want.Tag, w, g) {
		c.find(m, ev.Onset, "%s is %q in place of %q", nameOf(want), g, w)
		c.last().sign = want.Tag == "accidental"
	}
	c.children(m, ev, want, got)
}

func (c *comparison) children(m *musicxml.Measure, ev *musicxml.Event, want, got *etree.Element) {
	for _, p := range align(childElements(want), childElements(got)) {
		switch {
		case p.got == nil:
			c.find(m, ev.Onset, "%s has lost %s", describe(want), describe(p.want))
			c.last().sign = p.want.Tag == "accidental"
		case p.want == nil:
			c.gained(m, ev, want, p.got)
		default:
			c.element(m, ev, p.want, p.got)
		}
	}
}

func (c *comparison) gained(m *musicxml.Measure, ev *musicxml.Event, parent, extra *etree.Element) {
	c.find(m, ev.Onset, "%s has %s that was not there", describe(parent), describe(extra))
	c.last().gainedSign = extra.Tag == "accidental"
	c.last().sign = c.last().gainedSign
}

// pitch compares spelled pitches; another spelling of the same sound is a finding
// of its own kind.
func (c *comparison) pitch(m *musicxml.Measure, ev *musicxml.Event, want, got *etree.Element) {
	w, errW := music.ReadPitch(want)
	g, errG := music.ReadPitch(got)
	switch {
	case errW != nil && errG != nil: // in an element of another format
		c.children(m, ev, want, got)
	case errW != nil || errG != nil:
		c.find(m, ev.Onset, "a pitch cannot be read")
	case w == g:
	default:
		c.find(m, ev.Onset, "%s in place of %s", g, w)
		c.last().Respelled = w.MIDI() == g.MIDI()
	}
}

// sameSign reports whether two printed accidentals say the same: after a double
// sign the single one is restored alone or behind a natural, both are usual
// (Gehrkens 1914, s. 21).
func sameSign(tag, want, got string) bool {
	return tag == "accidental" && strings.TrimPrefix(want, "natural-") == strings.TrimPrefix(got, "natural-")
}

// numbers are elements that hold a number, which may be written in several ways.
var numbers = map[string]bool{
	"fifths": true, "cancel": true, "key-alter": true, "key-octave": true, "clef-octave-change": true, "line": true,
	"root-alter": true, "bass-alter": true, "degree-alter": true, "degree-value": true, "fret": true, "display-octave": true,
	"tuning-octave": true, "tuning-alter": true, "capo": true, "duration": true, "divisions": true,
}

// sameNumber reports whether two texts of an element that holds a number are the same
// number: "-01" is -1.
func sameNumber(tag, want, got string) bool {
	if !numbers[tag] {
		return false
	}
	w, errW := strconv.ParseFloat(want, 64)
	g, errG := strconv.ParseFloat(got, 64)
	return errW == nil && errG == nil && w == g
}

// attributesDiffer names the first attribute that differs, "" where none does.
func attributesDiffer(want, got *etree.Element) string {
	for _, a := range want.Attr {
		if g := got.SelectAttr(a.FullKey()); g == nil {
			return fmt.Sprintf("%s=%q is missing", a.FullKey(), a.Value)
		} else if g.Value != a.Value {
			return fmt.Sprintf("%s is %q in place of %q", a.FullKey(), g.Value, a.Value)
		}
	}
	for _, a := range got.Attr {
		if want.SelectAttr(a.FullKey()) == nil {
			return fmt.Sprintf("%s=%q was not there", a.FullKey(), a.Value)
		}
	}
	return ""
}

// describe names an element for a musician: a note by its pitch, a sign by what
// it says.
func describe(e *etree.Element) string {
	if e.Tag == "note" {
		if p, pitched, err := music.PitchOf(e); pitched && err == nil {
			return "the note " + p.String()
		}
		return "the note or rest"
	}
	if text := musicxml.Text(e); text != "" {
		return fmt.Sprintf("%s %q", nameOf(e), text)
	}
	return nameOf(e)
}

// names are the words for elements that a musician meets.
var names = map[string]string{
	"accidental": "the accidental", "accidental-mark": "the accidental of an ornament", "fifths": "the key signature",
	"key": "the key signature", "cancel": "the cancelled signature", "clef": "the clef", "sign": "the clef's sign",
	"line": "the clef's line", "clef-octave-change": "the clef's octave", "duration": "the duration", "type": "the note value",
	"root-step": "the chord symbol's root", "root-alter": "the alteration of the chord symbol's root",
	"bass-step": "the chord symbol's bass", "bass-alter": "the alteration of the chord symbol's bass",
	"harmony": "the chord symbol", "kind": "the chord symbol's kind", "tie": "the tie", "tied": "the tie",
	"transpose": "the transposition", "attributes": "the change of key, clef or time", "direction": "the mark",
	"barline": "the barline", "figured-bass": "the figured bass", "prefix": "a figure's accidental", "suffix": "a figure's accidental",
}

func nameOf(e *etree.Element) string {
	if name, ok := names[e.Tag]; ok {
		return name
	}
	return "<" + strings.TrimSpace(e.FullTag()) + ">"
}
