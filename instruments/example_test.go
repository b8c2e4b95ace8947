package instruments_test

import (
	"fmt"

	"deskpart/instruments"
)

func Example() {
	c, err := instruments.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	m := c.Match(instruments.Query{Name: "2. Klarinette in B"})
	fmt.Println(m.Instrument.ID, m.Number, m.By)
	fmt.Println(m.Instrument.Label("en", m.Number), m.Instrument.Describe("en"))
	fmt.Println(m.Instrument.Interval())
	// Output:
	// clarinet-bflat 2 name
	// Clarinet in B♭ 2 sounds a major second lower than written
	// major second down
}
