package collate

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// signatures are the key, the time signature and the transposition in force.
type signatures struct {
	key   key
	metre string
	by    pitch.Interval
}

// begin hands what is in force to a bar.
func (s *signatures) begin(b *bar) {
	b.metre, b.by = s.metre, s.by
	b.key = s.keyNow()
}

// keyNow is the key in force as it sounds.
func (s *signatures) keyNow() key {
	k := s.key
	k.fifths = k.written + s.by.Fifths()
	return k
}

// attributes takes over what an <attributes> says of the first staff. What comes
// at the start of the bar is in force from there on.
func (r *sheetReader) attributes(ev *musicxml.Event) {
	s, changed := &r.signature, change{onset: ev.Onset}
	for _, e := range ev.Element.ChildElements() {
		if n := musicxml.Attr(e, "number"); n != "" && n != "1" {
			continue
		}
		switch e.Tag {
		case "transpose":
			r.transposition(e)
		case "key":
			s.key = readKey(e)
			changed.key = &s.key
			r.sheet.signed = r.sheet.signed || s.key.said && (s.key.written != 0 || s.key.tones != "")
		case "time":
			s.metre = readMetre(e)
			changed.metre = s.metre
		case "measure-style":
			r.multiRest(e)
		}
	}
	if ev.Onset.Sign() == 0 {
		s.begin(r.bar)
	} else {
		r.changeWithin(changed)
	}
}

func (r *sheetReader) multiRest(style *etree.Element) {
	if n, err := strconv.Atoi(musicxml.ChildText(style, "multiple-rest")); err == nil {
		r.rests[len(r.sheet.bars)-1] = n
	}
}

// changeWithin notes a change of key or metre within the bar.
func (r *sheetReader) changeWithin(c change) {
	if c.key != nil {
		now := r.signature.keyNow()
		c.key = &now
	}
	if c.key != nil || c.metre != "" {
		r.bar.moves = append(r.bar.moves, c)
	}
}

// transposition takes over a <transpose>. One that cannot be read was refused when
// the notes were read.
func (r *sheetReader) transposition(e *etree.Element) {
	t, err := transpose.ReadTransposition(e, r.signature.key.written)
	if err != nil {
		return
	}
	r.signature.by = t.Interval()
	r.sheet.transposes = true
	r.sheet.declares = r.sheet.declares || !t.OctaveOnly()
}

func readKey(e *etree.Element) key {
	if musicxml.Attr(e, "print-object") == "no" {
		return key{}
	}
	fifths, traditional, err := transpose.ReadKey(e)
	switch {
	case err != nil:
		return key{said: true, tones: "unreadable"}
	case traditional:
		return key{said: true, written: fifths}
	}
	var tones []string
	for _, c := range e.ChildElements() {
		if c.Tag == "key-step" || c.Tag == "key-alter" {
			tones = append(tones, musicxml.Text(c))
		}
	}
	return key{said: true, tones: strings.Clone(strings.Join(tones, " "))}
}

// readMetre writes a time signature as musicians do: "3/4", "3/8+2/8", "3+2/8";
// music without one is "no metre". Whether 4/4 is drawn as C does not matter.
func readMetre(e *etree.Element) string {
	if musicxml.Child(e, "senza-misura") != nil {
		return "no metre"
	}
	var pairs []string
	beats := ""
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "beats":
			beats = strings.Join(strings.Fields(musicxml.Text(c)), "")
		case "beat-type":
			pairs = append(pairs, beats+"/"+musicxml.Text(c))
		}
	}
	return strings.Clone(strings.Join(pairs, "+"))
}

// leaps reports whether the second number lies n bars after the first.
func leaps(from, to string, n int) bool {
	a, errA := strconv.Atoi(from)
	b, errB := strconv.Atoi(to)
	return errA == nil && errB == nil && b-a == n && n <= longestRest
}

// longestRest bounds what is believed of a multi-bar rest.
const longestRest = 1000

func numberAfter(number string, n int) string {
	from, _ := strconv.Atoi(number) // it was read before
	return strconv.Itoa(from + n)
}
