package musicxml

import (
	"io"

	"github.com/beevik/etree"
)

// WriteOptions say how a document is laid out as text.
type WriteOptions struct {
	Indent int // spaces a level; 0 puts no white space between elements. Default: 0
}

// Write writes the document as UTF-8 in one call of w.Write. Without
// indentation the bytes are those that etree itself writes.
func Write(w io.Writer, doc *etree.Document, o WriteOptions) error {
	_, err := w.Write(Append(nil, doc, o))
	return err
}

// Append adds the written document to b, so that a worker can use one buffer
// for file after file.
func Append(b []byte, doc *etree.Document, o WriteOptions) []byte {
	if o.Indent > 0 {
		doc = doc.Copy()
		doc.Indent(o.Indent)
	}
	text, err := doc.WriteToBytes()
	if err != nil {
		return b
	}
	return append(b, text...)
}
