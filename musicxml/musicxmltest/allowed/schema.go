package allowed

import (
	"fmt"

	"github.com/beevik/etree"
)

// Schema is an XML schema in one file, by the names of what it defines.
type Schema struct {
	types, groups, attributeGroups, elements map[string]*etree.Element
}

// Read reads musicxml.xsd. The error is that of the file or of its XML.
func Read(path string) (*Schema, error) {
	doc := etree.NewDocument()
	if err := doc.ReadFromFile(path); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	s := &Schema{map[string]*etree.Element{}, map[string]*etree.Element{}, map[string]*etree.Element{}, map[string]*etree.Element{}}
	for _, e := range doc.Root().ChildElements() {
		name := e.SelectAttrValue("name", "")
		switch e.Tag {
		case "complexType", "simpleType":
			s.types[name] = e
		case "group":
			s.groups[name] = e
		case "attributeGroup":
			s.attributeGroups[name] = e
		case "element":
			s.elements[name] = e
		}
	}
	return s, nil
}
