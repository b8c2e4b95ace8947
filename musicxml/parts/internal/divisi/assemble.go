package divisi

import (
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// assemble puts the bar's elements into the order of time: the first voice with
// all that is no note, then the other voices, each after a step back.
func (k *desk) assemble() {
	m := k.bar.measure.Element
	for i := len(m.Child) - 1; i >= 0; i-- {
		m.RemoveChildAt(i)
	}
	b := &builder{desk: k, measure: m, waiting: k.bar.sorted()}
	for _, it := range k.lanes[0] {
		b.item(it)
	}
	b.fixtures(k.bar.measure.Length, false)
	for voice, lane := range k.lanes[1:] {
		b.move("backup", b.now)
		b.now = musicxml.Fraction{}
		for _, it := range lane {
			b.forward(it.onset, voice+2)
			b.item(it)
		}
		b.forward(k.bar.measure.Length, voice+2)
	}
	b.fixtures(k.bar.measure.Length, true)
}

// sorted lists the fixtures in the order of time, a barline of the end last.
func (b *bar) sorted() []*fixture {
	sort.SliceStable(b.fixed, func(i, j int) bool {
		x, y := b.fixed[i], b.fixed[j]
		if x.last != y.last {
			return y.last
		}
		return x.at.Less(y.at)
	})
	return b.fixed
}

// builder adds to a measure in the order of time.
type builder struct {
	*desk
	measure *etree.Element
	now     musicxml.Fraction
	waiting []*fixture
}

// item adds notes or a rest, and before them what stands there, and what stands
// while they last: a direction with an offset; anything else after them, behind a
// note with a step back, behind a rest where the next note begins.
func (b *builder) item(it *item) {
	b.fixtures(it.onset, false)
	var later []*fixture
	if !it.small() {
		later = b.during(it)
	}
	for _, e := range it.elements {
		b.measure.AddChild(e)
	}
	b.now = b.now.Max(it.end)
	for _, f := range later {
		back := b.now.Sub(f.at)
		if it.rest() && !f.rules() {
			back = musicxml.Fraction{}
		}
		b.step("backup", back)
		b.measure.AddChild(f.token)
		b.step("forward", back)
	}
}

// rules reports whether a fixture changes how time is counted.
func (f *fixture) rules() bool {
	return f.element != nil && musicxml.Child(f.element, "divisions") != nil
}

// fixtures adds what stands up to a place; with end, what closes the bar too.
func (b *builder) fixtures(upTo musicxml.Fraction, end bool) {
	for len(b.waiting) > 0 {
		f := b.waiting[0]
		if !end && (f.last || upTo.Less(f.at)) {
			return
		}
		b.measure.AddChild(f.token)
		b.waiting = b.waiting[1:]
	}
}

// during adds the directions that stand inside an item, moved to its beginning
// with an offset, and returns what cannot be moved.
func (b *builder) during(it *item) []*fixture {
	var later []*fixture
	for len(b.waiting) > 0 {
		f := b.waiting[0]
		if f.last || !f.at.Less(it.end) {
			break
		}
		b.waiting = b.waiting[1:]
		switch f.kind {
		case musicxml.Direction, musicxml.Harmony, musicxml.Sound:
			b.offset(f, it.onset)
			b.measure.AddChild(f.token)
		case musicxml.Other:
			b.measure.AddChild(f.token)
		default:
			later = append(later, f)
		}
	}
	return later
}

// offset makes a fixture say how long after a place it takes effect.
func (b *builder) offset(f *fixture, from musicxml.Fraction) {
	by := f.onset.Sub(from).Mul(b.bar.divisions(from))
	musicxml.SetChildText(f.element, "offset", decimal(by))
}

// forward steps to a place in time.
func (b *builder) forward(to musicxml.Fraction, voice int) {
	if !b.now.Less(to) {
		return
	}
	e := b.move("forward", to.Sub(b.now))
	setVoice(e, voice)
	b.now = to
}

// step adds a <backup> or <forward> unless it goes nowhere.
func (b *builder) step(tag string, by musicxml.Fraction) {
	if by.Sign() > 0 {
		b.move(tag, by)
	}
}

// move adds a <backup> or <forward>.
func (b *builder) move(tag string, by musicxml.Fraction) *etree.Element {
	e := etree.NewElement(tag)
	musicxml.SetChildText(e, "duration", decimal(by.Mul(b.bar.divisions(b.now))))
	b.measure.AddChild(e)
	return e
}
