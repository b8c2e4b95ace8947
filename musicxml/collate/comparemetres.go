package collate

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
)

// compareMetres says where the time signatures differ, once for each stretch.
func (c *comparison) compareMetres() {
	if !slices.ContainsFunc(c.want.bars, func(b bar) bool { return b.metre != "" }) {
		return
	}
	said := [2]string{}
	for i, s := range c.steps {
		want, got := c.barsOf(s)
		if want == nil || got == nil {
			continue
		}
		now := [2]string{metreName(want.metre), metreName(got.metre)}
		switch {
		case want.metre == got.metre:
			said = [2]string{}
		case said != now:
			if said = now; !c.lostWithBar(i, func(b *bar) string { return b.metre }) {
				c.findAt(i, want, Metre, now[1], now[0])
			}
		}
		if w, g := metreMoves(want), metreMoves(got); w != g {
			c.findAt(i, want, Metre, metreName(g), metreName(w))
		}
	}
}

func metreName(metre string) string {
	return cmp.Or(metre, "no time signature")
}

// metreMoves are the time signatures that come within a bar.
func metreMoves(b *bar) string {
	text := ""
	for _, m := range b.moves {
		if m.metre != "" {
			text += m.metre + " "
		}
	}
	return text
}

// findAt notes a difference at the start of a step's bar.
func (c *comparison) findAt(step int, b *bar, kind Kind, stands, should string) {
	c.findOn(step, b, musicxml.Fraction{}, kind, stands, should)
}

func (c *comparison) findOn(step int, b *bar, onset musicxml.Fraction, kind Kind, stands, should string) {
	c.add(Difference{Measure: b.number, Beat: b.beat(onset), Kind: kind, Stands: stands, Should: should, at: place{step, onset}})
}
