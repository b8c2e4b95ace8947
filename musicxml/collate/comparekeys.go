package collate

import (
	"cmp"

	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// compareKeys says where the key signatures differ, once for each stretch, and
// reports of each step whether the keys differ there.
func (c *comparison) compareKeys() []bool {
	differ := make([]bool, len(c.steps))
	if !c.want.pitched || !c.got.pitched || c.withoutSignature() {
		return differ
	}
	said := [2]string{}
	for i, s := range c.steps {
		want, got := c.barsOf(s)
		if want == nil || got == nil {
			continue
		}
		w, g := c.keyWanted(s.want, &want.key, got), keyName(got.key)
		differ[i] = !c.sameKey(s.want, &want.key, &got.key)
		switch {
		case !differ[i]:
			said = [2]string{}
		case said != [2]string{w, g}:
			if said = [2]string{w, g}; !c.lostWithBar(i, func(b *bar) string { return keyName(b.key) }) {
				c.findAt(i, want, Key, g, w)
			}
		}
		c.compareKeyMoves(i, s.want, want, got, &said, &differ[i])
	}
	return differ
}

// compareKeyMoves compares changes of key within a bar.
func (c *comparison) compareKeyMoves(i, at int, want, got *bar, said *[2]string, differ *bool) {
	w, g := keyMoves(want), keyMoves(got)
	for k := 0; k < max(len(w), len(g)); k++ {
		if k < len(w) && k < len(g) && c.sameKey(at, w[k].key, g[k].key) {
			continue
		}
		last := [2]string{}
		if k < len(w) {
			last[0] = c.keyWanted(at, w[k].key, got)
		}
		if k < len(g) {
			last[1] = keyName(*g[k].key)
		}
		if k < len(w) {
			c.findOn(i, want, w[k].onset, Key, last[1], last[0])
		} else {
			c.findOn(i, want, g[k].onset, Key, last[1], last[0])
		}
		// The next bar goes on in the key that this one ends in.
		last[1], last[0] = cmp.Or(last[1], keyName(got.key)), cmp.Or(last[0], c.keyWanted(at, &want.key, got))
		*said, *differ = last, true
		return
	}
}

func keyMoves(b *bar) []change {
	var list []change
	for _, m := range b.moves {
		if m.key != nil {
			list = append(list, m)
		}
	}
	return list
}

// sameKey reports whether two signatures are those of one key, or of enharmonic
// twins. Where the score's staff has no signature at all, the key of the other
// staves is as good.
func (c *comparison) sameKey(at int, want, got *key) bool {
	sounding := got.scale.moved(c.by.Chromatic)
	return sounding == want.scale || !c.want.signed && at < len(c.prevailing) && sounding == c.prevailing[at].scale
}

// keyWanted writes the signature that the part should have.
func (c *comparison) keyWanted(at int, want *key, got *bar) string {
	if !c.want.signed && at < len(c.prevailing) {
		want = &c.prevailing[at]
	}
	if want.tones != "" {
		return keyName(*want)
	}
	fifths := want.fifths - got.by.Add(c.by).Fifths()
	for fifths > 7 {
		fifths -= 12
	}
	for fifths < -7 {
		fifths += 12
	}
	return "a key signature of " + pitch.SignatureWords(fifths)
}

func keyName(k key) string {
	switch {
	case k.tones != "":
		return "a key signature of its own (" + k.tones + ")"
	case !k.said && k.written == 0:
		return "no key signature"
	}
	return "a key signature of " + pitch.SignatureWords(k.written)
}

// withoutSignature reports whether the part is one that is written without key
// signature, its accidentals at the notes: as the custom of its instrument is, or
// as its notes show, of which none is misread for the want of a signature and some
// would be otherwise.
func (c *comparison) withoutSignature() bool {
	if c.got.signed || !c.want.signed {
		return false
	}
	misread, printed := 0, 0
	for i := range c.got.bars {
		for k := range c.got.bars[i].notes {
			n := &c.got.bars[i].notes[k]
			switch {
			case n.misread() && n.from == reading.Signature:
				misread++
			case n.written.Alter != 0:
				printed++
			}
		}
	}
	without := misread == 0 && (printed > 0 || c.customary)
	if without {
		c.remark("written without key signature")
	}
	return without
}

// lostWithBar reports whether the change that makes bar i differ stood in a bar
// that is missing just before it: that bar has been missed already.
func (c *comparison) lostWithBar(i int, says func(*bar) string) bool {
	k := i - 1
	for k >= 0 && c.steps[k].got < 0 {
		k--
	}
	if k == i-1 || k < 0 {
		return false
	}
	before, _ := c.barsOf(c.steps[k])
	now, _ := c.barsOf(c.steps[i])
	return before != nil && now != nil && says(before) != says(now)
}
