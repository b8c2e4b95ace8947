package display

// Page is one side of paper with what stands on it.
type Page struct {
	Width, Height Millimetres
	Blocks        []Block // in the order of reading
}

// Purpose is what a block is to somebody who does not see the page.
type Purpose uint8

// The purposes.
const (
	// Music is a system; its text alternative are the notes in words.
	Music Purpose = iota
	// Title is the heading of the document or of a part in it.
	Title
	// Heading is that of a movement.
	Heading
	// Paragraph is any other text that is read once (composer, rights).
	Paragraph
	// Furniture is repeated on each page (page numbers, running heads): whoever
	// hears the page is spared it.
	Furniture
)

// Block is a piece of a page: a system, or a list of its own (texts).
type Block struct {
	Purpose Purpose
	// Left and Top are where the block's own origin stands, from the page's upper
	// left corner; Space is the size of its staff spaces.
	Left, Top, Space Millimetres
	// System is the music of the block, or nil.
	System *System
	Items  List
}

// Walk calls visit with every item of the block that is no group and how far it is
// to be moved down, so that heights count from the block's origin.
func (b *Block) Walk(visit func(item Item, down Spaces)) {
	if b.System != nil {
		b.System.Walk(visit)
	}
	b.Items.Walk(func(item Item) { visit(item, 0) })
}
