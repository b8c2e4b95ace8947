package paper_test

import (
	"fmt"
	"log"

	"github.com/beevik/etree"

	"deskpart/musicxml/engraving/paper"
)

func Example() {
	doc := etree.NewDocument()
	if err := doc.ReadFromFile("../../../examples/two-ferries.musicxml"); err != nil {
		log.Fatal(err)
	}
	book, err := paper.Read(doc.Root(), 2)
	if err != nil {
		log.Fatal(err)
	}
	size, err := paper.ParseSize("148x210")
	if err != nil {
		log.Fatal(err)
	}
	laid, err := paper.Lay(book, paper.Options{Paper: size})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s, %s: pages %d, turns %d\n", book.Title, book.Instrument, len(laid.Pages), len(laid.Turns))
	// Output: Two Ferries, Flute: pages 1, turns 0
}
