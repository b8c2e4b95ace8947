package collate_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// planted is the part that a fault is planted in, with the ways to plant it.
type planted struct {
	t    *testing.T
	part *etree.Element
}

// bar finds a measure by its place, from 1.
func (p planted) bar(n int) *etree.Element {
	measures := p.part.SelectElements("measure")
	require.GreaterOrEqual(p.t, len(measures), n)
	return measures[n-1]
}

// note finds a note or rest by its place in a bar, from 1.
func (p planted) note(bar, n int) *etree.Element {
	notes := p.bar(bar).SelectElements("note")
	require.GreaterOrEqual(p.t, len(notes), n)
	return notes[n-1]
}

// find finds an element below a bar.
func (p planted) find(bar int, path string) *etree.Element {
	e := p.bar(bar).FindElement(path)
	require.NotNil(p.t, e, "no %s in bar %d", path, bar)
	return e
}

func (p planted) set(e *etree.Element, path, text string) {
	c := e.FindElement(path)
	require.NotNil(p.t, c, "no %s in <%s>", path, e.Tag)
	c.SetText(text)
}

// pitch rewrites a note's pitch.
func (p planted) pitch(bar, n int, step, alter, octave string) {
	e := p.note(bar, n).SelectElement("pitch")
	require.NotNil(p.t, e)
	for len(e.Child) > 0 {
		e.RemoveChildAt(0)
	}
	e.CreateElement("step").SetText(step)
	if alter != "" {
		e.CreateElement("alter").SetText(alter)
	}
	e.CreateElement("octave").SetText(octave)
}

// lose takes an element out.
func (p planted) lose(e *etree.Element) {
	require.NotNil(p.t, e)
	e.Parent().RemoveChild(e)
}

func (p planted) loseAll(bar int, path string) {
	found := p.bar(bar).FindElements(path)
	require.NotEmpty(p.t, found, "no %s in bar %d", path, bar)
	for _, e := range found {
		p.lose(e)
	}
}

// insert puts XML before a child of a bar.
func (p planted) insert(before *etree.Element, text string) {
	doc := etree.NewDocument()
	require.NoError(p.t, doc.ReadFromString(text))
	before.Parent().InsertChildAt(before.Index(), doc.Root())
}

// add puts XML behind all children of an element.
func (p planted) add(parent *etree.Element, text string) {
	doc := etree.NewDocument()
	require.NoError(p.t, doc.ReadFromString(text))
	parent.AddChild(doc.Root())
}

// direction finds the direction of a bar that holds an element.
func (p planted) direction(bar int, tag string) *etree.Element {
	for _, d := range p.bar(bar).SelectElements("direction") {
		if d.FindElement("direction-type/"+tag) != nil {
			return d
		}
	}
	require.Fail(p.t, "no direction", "%s in bar %d", tag, bar)
	return nil
}

// moveTo puts an element before the first note of another bar.
func (p planted) moveTo(e *etree.Element, bar int) {
	p.lose(e)
	first := p.note(bar, 1)
	first.Parent().InsertChildAt(first.Index(), e)
}

// doubleBar copies a bar behind itself.
func (p planted) doubleBar(n int) {
	m := p.bar(n)
	m.Parent().InsertChildAt(m.Index()+1, m.Copy())
}

// renumber numbers the bars from 1.
func (p planted) renumber() {
	for i, m := range p.part.SelectElements("measure") {
		m.CreateAttr("number", itoa(i+1))
	}
}
