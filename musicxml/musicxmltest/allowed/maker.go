package allowed

import (
	"math/rand/v2"
	"strconv"

	"github.com/beevik/etree"
)

// Maker makes content of a schema.
type Maker struct {
	*Schema
	random *rand.Rand
	ids    int
}

// NewMaker makes one whose choices the seed settles.
func (s *Schema) NewMaker(seed uint64) *Maker {
	return &Maker{Schema: s, random: rand.New(rand.NewPCG(seed, 0))}
}

// IDs begin with this; each is used once.
const IDs = "made-"

// Element makes an element of a type of the schema with some of what it may hold; deep inside
// only what it must hold. Every one that may have an id has one.
func (m *Maker) Element(tag, typed string) *etree.Element { return m.element(tag, typed, 0) }

func (m *Maker) element(tag, typed string, depth int) *etree.Element {
	e := etree.NewElement(tag)
	if t := m.types[typed]; t != nil && t.Tag == "complexType" {
		m.fill(e, t, depth)
	} else if text := m.text(typed); text != "" {
		e.SetText(text)
	}
	return e
}

// fill gives an element what its type says.
func (m *Maker) fill(e, typed *etree.Element, depth int) {
	for _, c := range typed.ChildElements() {
		switch c.Tag {
		case "simpleContent", "complexContent":
			m.extend(e, c.ChildElements()[0], depth)
		case "sequence", "choice", "group":
			m.particle(e, c, depth)
		}
	}
	m.attributes(e, typed)
}

// extend gives it what the type says that its own extends.
func (m *Maker) extend(e, extension *etree.Element, depth int) {
	base := extension.SelectAttrValue("base", "")
	if t := m.types[base]; t != nil && t.Tag == "complexType" {
		m.fill(e, t, depth)
	} else if text := m.text(base); text != "" {
		e.SetText(text)
	}
	for _, c := range extension.ChildElements() {
		if c.Tag == "sequence" || c.Tag == "choice" || c.Tag == "group" {
			m.particle(e, c, depth)
		}
	}
	m.attributes(e, extension)
}

// particle adds children as a particle of a content model says, as often as it may.
func (m *Maker) particle(e, p *etree.Element, depth int) {
	for range m.times(p, depth) {
		switch p.Tag {
		case "sequence":
			for _, c := range p.ChildElements() {
				m.particle(e, c, depth)
			}
		case "choice":
			choices := p.ChildElements()
			m.particle(e, choices[m.random.IntN(len(choices))], depth)
		case "group":
			for _, c := range m.groups[p.SelectAttrValue("ref", "")].ChildElements() {
				m.particle(e, c, depth)
			}
		case "element":
			if ref := p.SelectAttrValue("ref", ""); ref != "" {
				p = m.elements[ref]
			}
			e.AddChild(m.element(p.SelectAttrValue("name", ""), p.SelectAttrValue("type", ""), depth+1))
		}
	}
}

// deep is how many elements inside each other have only what they must.
const deep = 3

// times is how often a particle comes.
func (m *Maker) times(p *etree.Element, depth int) int {
	least, _ := strconv.Atoi(p.SelectAttrValue("minOccurs", "1"))
	most, err := strconv.Atoi(p.SelectAttrValue("maxOccurs", "1"))
	if err != nil { // unbounded
		most = least + 2
	}
	if most <= least || depth > deep || m.random.IntN(2) == 0 {
		return least
	}
	return least + 1 + m.random.IntN(most-least)%2
}

// attributes gives an element the attributes that it must have, some that it may, and its id.
func (m *Maker) attributes(e, of *etree.Element) {
	for _, a := range of.ChildElements() {
		switch name := a.SelectAttrValue("name", ""); {
		case a.Tag == "attributeGroup":
			m.attributes(e, m.attributeGroups[a.SelectAttrValue("ref", "")])
		case a.Tag != "attribute":
		case a.SelectAttrValue("ref", "") == "xlink:href":
			e.CreateAttr("xlink:href", "https://quay.example/y")
			e.CreateAttr("xmlns:xlink", "http://www.w3.org/1999/xlink")
		case a.SelectAttrValue("type", "") == "xs:ID":
			m.ids++
			e.CreateAttr(name, IDs+strconv.Itoa(m.ids))
		case name != "" && (a.SelectAttrValue("use", "") == "required" || m.random.IntN(5) == 0):
			if text := m.text(a.SelectAttrValue("type", "")); text != "" {
				e.CreateAttr(name, text)
			}
		}
	}
}
