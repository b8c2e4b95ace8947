package survey

import (
	"fmt"
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Contradictions says where a part disagrees with itself or with the other parts
// of the score, so that a person can look: its signature, its name, its bars. What
// the part says itself is followed all the same.
func (c *Consensus) Contradictions(i int) []musicxml.Warning {
	return found(i, c.prefixUndeclared, c.score.unsaidPitch, c.nameAtOdds, c.score.soundAtOdds, c.keyAtOdds, c.barsMissing, c.barsUnequal)
}

// prefixUndeclared tells of names in the part's text that could not be written again.
func (c *Consensus) prefixUndeclared(i int) *musicxml.Warning {
	if prefixes := c.score.Music.Undeclared(i); len(prefixes) > 0 {
		return &musicxml.Warning{Code: notice.UndeclaredPrefix, Text: musicxml.UndeclaredText(prefixes)}
	}
	return nil
}

// nameAtOdds tells of a key in the name that is not the key of the transposition.
func (c *Consensus) nameAtOdds(i int) *musicxml.Warning {
	s := &c.score.Parts[i]
	named := s.Match.Instrument
	if !s.Match.KeyStated || named == nil || len(s.Source) == 0 {
		return nil
	}
	for _, in := range append(s.Match.Doubles, named) {
		for _, said := range s.Source {
			if said.To.Interval().Fifths() == in.Interval().Fifths() {
				return nil
			}
		}
	}
	said := s.Source[0].To.Interval()
	text := "the part's transposition is a " + said.String()
	if said.Fifths() == 0 {
		text = "the part says that it sounds as written"
	}
	return &musicxml.Warning{Code: notice.NameAtOdds, Text: fmt.Sprintf("the name says %s, but %s; the transposition is followed", named.Label("en", ""), text)}
}

// barsMissing tells of a part with other bars than most.
func (c *Consensus) barsMissing(i int) *musicxml.Warning {
	have, usual := len(c.score.Parts[i].Measures), c.bars
	switch {
	case have < usual:
		return &musicxml.Warning{Code: notice.MissingBars, Text: fmt.Sprintf("the part has %s, the score %d", notice.Counted(have, "bar", "bars"), usual)}
	case have > usual:
		return &musicxml.Warning{Code: notice.SurplusBars, Text: fmt.Sprintf("the part has %d bars, the other parts %d", have, usual)}
	}
	return nil
}

// barsUnequal tells of bars that last longer or shorter than in most other parts.
func (c *Consensus) barsUnequal(i int) *musicxml.Warning {
	var first *musicxml.Warning
	count := 0
	for k, usual := range c.lengths {
		if k >= len(c.score.Parts[i].Measures) {
			break
		}
		m := &c.score.Parts[i].Measures[k]
		if m.Length == usual || m.Length.Sign() == 0 {
			continue
		}
		if count++; first == nil {
			first = &musicxml.Warning{Code: notice.UnequalBars, Measure: m.Number,
				Text: fmt.Sprintf("the bar lasts %s quarter notes, in most parts %s", m.Length, usual)}
		}
	}
	if count > 1 {
		first.Text += fmt.Sprintf("; %d bars of the part are unlike the others'", count)
	}
	return first
}

// keyAtOdds tells of a signature that is not the one which the key of the other
// parts and the part's own transposition give: real editions have clarinets and
// horns with the signature of the sounding key. A signature's enharmonic twin
// agrees with it, and horns, trumpets and timpani are written without one.
func (c *Consensus) keyAtOdds(i int) *musicxml.Warning {
	s := &c.score.Parts[i]
	if s.Notes == 0 {
		return nil
	}
	for k, key := range c.keys {
		own, traditional := s.keyAt(key.at)
		if !key.known || !traditional || s.unsignedByCustom(own) {
			continue
		}
		want := key.fifths - c.score.sourceInterval(s, key.at).Fifths()
		if (own-want)%12 == 0 || !s.playsBetween(c.keys, k) {
			continue
		}
		text := fmt.Sprintf("the signature is %s where the key of the other parts and the transposition give %s", pitch.SignatureWords(own), pitch.SignatureWords(want))
		if own == key.fifths {
			text = fmt.Sprintf("the signature is that of the sounding key, %s; the part's transposition gives %s", pitch.SignatureWords(own), pitch.SignatureWords(want))
		}
		return &musicxml.Warning{Code: notice.KeyAtOdds, Measure: s.measureAt(key.at), Text: text}
	}
	return nil
}

// unsignedByCustom reports whether a part without sharps or flats is for one of
// the instruments that are often written so in any key.
func (s *Part) unsignedByCustom(fifths int) bool {
	in := s.Match.Instrument
	return fifths == 0 && in != nil && (in.Group == instruments.Brass || in.Group == instruments.Percussion)
}

// keyAt is the part's signature at a moment.
func (s *Part) keyAt(at musicxml.Fraction) (fifths int, traditional bool) {
	for _, k := range s.Keys {
		if !at.Less(k.At) {
			fifths, traditional = k.Fifths, k.Traditional
		}
	}
	return fifths, traditional
}

// playsBetween reports whether the part plays between the k-th moment and the
// next: a signature over rests misleads nobody.
func (s *Part) playsBetween(moments []concertKey, k int) bool {
	for _, m := range s.Measures {
		if m.Notes && moments[k].at.Less(m.Start.Add(m.Length)) && (k+1 == len(moments) || m.Start.Less(moments[k+1].at)) {
			return true
		}
	}
	return false
}

// measureAt is the number of the bar that a moment lies in.
func (s *Part) measureAt(at musicxml.Fraction) string {
	i, found := slices.BinarySearchFunc(s.Measures, at, func(m Measure, at musicxml.Fraction) int { return m.Start.Cmp(at) })
	if !found {
		i--
	}
	if i < 0 {
		return ""
	}
	return s.Measures[i].Number
}
