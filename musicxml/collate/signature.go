package collate

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// signatures are the key, the time signature and the transposition in force.
type signatures struct {
	key    key
	alters [7]pitch.Alter // of the key
	metre  string
	by     pitch.Interval
}

// begin hands what is in force to a bar.
func (s *signatures) begin(b *bar) {
	b.metre, b.by = s.metre, s.by
	b.key = s.keyNow()
}

// keyNow is the key in force as it sounds.
func (s *signatures) keyNow() key {
	k := s.key
	k.fifths, k.scale = k.written+s.by.Fifths(), scaleOf(s.alters, s.by)
	return k
}

// attributes takes over what an <attributes> says of the first staff. What comes
// at the start of the bar is in force from there on.
func (r *transcriber) attributes(item *music.Item) {
	s, changed := &r.signature, change{onset: item.Onset}
	for i := range item.Changes {
		c := &item.Changes[i]
		if c.Element.Tag == "measure-style" {
			r.measureStyle(c.Element, item.Onset)
		}
		if !c.For(1) {
			continue
		}
		switch c.Element.Tag {
		case "transpose":
			r.transposition(c.Element)
		case "key":
			s.key, s.alters = readKey(c)
			changed.key = &s.key
			r.transcript.signed = r.transcript.signed || s.key.said && (s.key.written != 0 || s.key.tones != "")
		case "time":
			s.metre = readMetre(c.Element)
			changed.metre = s.metre
		}
	}
	if item.Onset.Sign() == 0 {
		s.begin(r.bar)
	} else {
		r.changeWithin(changed)
	}
}

// measureStyle notes where slashes or signs for a bar or beat that is played again stand
// in the place of notes, and how long a multi-bar rest is.
func (r *transcriber) measureStyle(style *etree.Element, onset musicxml.Fraction) {
	for e := range style.ChildElementsSeq() {
		switch e.Tag {
		case "multiple-rest":
			if n, err := strconv.Atoi(musicxml.Text(e)); err == nil {
				r.rests[len(r.transcript.bars)-1] = n
			}
		case "slash":
			name := "slashes"
			if musicxml.Attr(e, "use-stems") == "yes" {
				name = "slashes with their rhythm"
			}
			r.styled(e, onset, Text, name)
		case "measure-repeat":
			name := "the bar repeat sign"
			if n := musicxml.Text(e); n != "1" {
				name += " for " + n + " bars"
			}
			r.styled(e, onset, Repeats, name)
		case "beat-repeat":
			r.styled(e, onset, Repeats, "the beat repeat sign")
		}
	}
}

// styled notes where a measure style begins or ends.
func (r *transcriber) styled(e *etree.Element, onset musicxml.Fraction, kind Kind, name string) {
	m := mark{kind: kind, facet: e.Tag + " start", key: name, text: name, onset: onset}
	if musicxml.Attr(e, "type") == "stop" {
		m.facet, m.key, m.last = e.Tag+" end", "", true
		m.text = "the end of " + map[Kind]string{Text: "the slashes", Repeats: "the repeat signs"}[kind]
	} else {
		r.styles[e.Tag] = r.spanOf(&music.Mark{Span: new(music.Span)})
	}
	m.span = r.styles[e.Tag]
	r.mark(m)
}

// changeWithin notes a change of key or metre within the bar.
func (r *transcriber) changeWithin(c change) {
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
func (r *transcriber) transposition(e *etree.Element) {
	t, err := music.ReadTransposition(e, r.signature.key.written)
	if err != nil {
		return
	}
	r.signature.by = t.Interval()
	r.transcript.transposes = true
	r.transcript.declares = r.transcript.declares || !t.OctaveOnly()
}

// readKey reads a <key> and what it makes of each letter.
func readKey(c *music.Change) (k key, alters [7]pitch.Alter) {
	if c.Hidden {
		return k, alters
	}
	read, err := music.ReadKey(c.Element)
	k.said = true
	switch {
	case err != nil:
		k.tones = "unreadable"
	case read.Traditional:
		k.written = read.Fifths
		for step := range alters {
			alters[step] = pitch.Semitones(pitch.SignatureAlter(read.Fifths, pitch.Step(step)))
		}
	default:
		var tones []string
		for _, t := range read.Tones {
			alters[t.Step] = t.Alter
			tones = append(tones, t.Step.String(), t.Alter.String())
		}
		k.tones = strings.Join(tones, " ")
	}
	return k, alters
}

// readMetre writes a time signature as musicians do; music without one is "no
// metre". Whether 4/4 is drawn as C does not matter.
func readMetre(e *etree.Element) string {
	if t := music.ReadTime(e); len(t.Parts) > 0 {
		return strings.Clone(t.String())
	}
	return "no metre"
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
