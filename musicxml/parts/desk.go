package parts

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// Desk is what one worker copies at: memory for the tree of a part, for its notes
// laid out in time and for the text that it is written into, used again for part
// after part, because memory that is touched for the first time is slow. The zero
// value is ready. A desk serves one goroutine at a time.
type Desk struct {
	// Slabs hold the trees that are read at the desk.
	Slabs    musicxml.Slabs
	timeline musicxml.Timeline
	page     staffPage
	move     transpose.Memory
	text     []byte
	copyist  *Copyist // who sits at it
	size     int      // of the text that the last part was read from
}

// Clear ends the use of everything that was made at the desk since the last Clear.
func (d *Desk) Clear() { d.Slabs.Reset() }

// of seats a copyist at the desk, at a new one where there is none. What the desk
// still holds of another score goes, lest it keep that score's text in memory.
func (d *Desk) of(c *Copyist) *Desk {
	if d == nil {
		return &Desk{copyist: c}
	}
	if d.copyist != nil && d.copyist != c {
		d.Slabs.Forget()
		d.timeline.Forget()
		d.page.forget()
		d.move.Forget()
	}
	d.copyist = c
	return d
}

// Text is a document as it is written. It is valid until the desk's next Text.
func (d *Desk) Text(doc *etree.Document, o musicxml.WriteOptions) []byte {
	d.text = musicxml.Append(slices.Grow(d.text[:0], d.size), doc, o)
	return d.text
}

// PartText is a <part> as it stands in a written score. It is valid until the
// desk's next Text.
func (d *Desk) PartText(part *etree.Element, o musicxml.WriteOptions) []byte {
	d.text = musicxml.AppendPart(d.text[:0], part, o)
	return d.text
}
