package verify

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What was frozen is told from every change of a tree, and from no copy of it.
func TestFrozen(t *testing.T) {
	t.Parallel()
	const text = `<part id="P1"><measure number="1"><note a="1" x:b="2"><x:pitch/><step>C</step></note><!--c--><?deskpart no-sign?><![CDATA[d]]></measure></part>`
	read := func(text string) *etree.Element {
		doc := etree.NewDocument()
		doc.ReadSettings.PreserveCData = true
		require.NoError(t, doc.ReadFromString(text))
		return doc.Root()
	}
	var f frozen
	f.freeze(read(text))
	assert.True(t, f.is(read(text)))
	assert.True(t, f.is(read(text)), "as often as it is asked")
	for name, change := range map[string]func(m, note *etree.Element){
		"another id":          func(m, _ *etree.Element) { m.Parent().CreateAttr("id", "P2") },
		"a bar more":          func(m, _ *etree.Element) { m.Parent().CreateElement("measure") },
		"a bar less":          func(m, _ *etree.Element) { m.Parent().RemoveChildAt(0) },
		"another letter":      func(_, n *etree.Element) { n.FindElement("step").SetText("D") },
		"no letter":           func(_, n *etree.Element) { n.FindElement("step").SetText("") },
		"another value":       func(_, n *etree.Element) { n.CreateAttr("a", "2") },
		"another attribute":   func(_, n *etree.Element) { n.Attr[0].Key = "b" },
		"another prefix":      func(_, n *etree.Element) { n.Attr[1].Space = "y" },
		"an element's prefix": func(_, n *etree.Element) { n.ChildElements()[0].Space = "y" },
		"no prefix":           func(_, n *etree.Element) { n.ChildElements()[0].Space = "" },
		"an attribute more":   func(_, n *etree.Element) { n.CreateAttr("c", "") },
		"an attribute less":   func(_, n *etree.Element) { n.RemoveAttr("a") },
		"another name":        func(_, n *etree.Element) { n.Tag = "rest" },
		"another comment":     func(m, _ *etree.Element) { m.Child[1].(*etree.Comment).Data = "d" },
		"another instruction": func(m, _ *etree.Element) { m.Child[2].(*etree.ProcInst).Inst = "" },
		"another target":      func(m, _ *etree.Element) { m.Child[2].(*etree.ProcInst).Target = "other" },
		"plain text":          func(m, _ *etree.Element) { m.RemoveChildAt(3); m.CreateText("d") },
		"another order":       func(m, _ *etree.Element) { c := m.Child[1]; m.RemoveChildAt(1); m.AddChild(c) },
		"something after":     func(m, _ *etree.Element) { m.Parent().CreateText("d") },
	} {
		part := read(text)
		m := part.ChildElements()[0]
		change(m, m.ChildElements()[0])
		assert.False(t, f.is(part), name)
	}
}
