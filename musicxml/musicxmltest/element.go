package musicxmltest

import (
	"testing"

	"github.com/beevik/etree"
)

// Element is an element read from its text.
func Element(t testing.TB, xml string) *etree.Element {
	t.Helper()
	doc := etree.NewDocument()
	if err := doc.ReadFromString(xml); err != nil {
		t.Fatal(err)
	}
	return doc.Root()
}
