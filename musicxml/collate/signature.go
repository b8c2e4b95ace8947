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
func (r *transcriber) attributes(item *music.Item) {
	s, changed := &r.signature, change{onset: item.Onset}
	for i := range item.Changes {
		c := &item.Changes[i]
		if !c.For(1) {
			continue
		}
		switch c.Element.Tag {
		case "transpose":
			r.transposition(c.Element)
		case "key":
			s.key = readKey(c)
			changed.key = &s.key
			r.transcript.signed = r.transcript.signed || s.key.said && (s.key.written != 0 || s.key.tones != "")
		case "time":
			s.metre = readMetre(c.Element)
			changed.metre = s.metre
		case "measure-style":
			r.multiRest(c.Element)
		}
	}
	if item.Onset.Sign() == 0 {
		s.begin(r.bar)
	} else {
		r.changeWithin(changed)
	}
}

func (r *transcriber) multiRest(style *etree.Element) {
	if n, err := strconv.Atoi(musicxml.ChildText(style, "multiple-rest")); err == nil {
		r.rests[len(r.transcript.bars)-1] = n
	}
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

func readKey(c *music.Change) key {
	if c.Hidden {
		return key{}
	}
	k, err := music.ReadKey(c.Element)
	switch {
	case err != nil:
		return key{said: true, tones: "unreadable"}
	case k.Traditional:
		return key{said: true, written: k.Fifths}
	}
	var tones []string
	for _, t := range k.Tones {
		tones = append(tones, t.Step.String(), t.Alter.String())
	}
	return key{said: true, tones: strings.Join(tones, " ")}
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
