package plan_test

import (
	"fmt"
	"log"
	"strings"

	"deskpart/musicxml/parts/plan"
)

// A plan as a spreadsheet saves it.
func ExampleRead() {
	rows, err := plan.Read(strings.NewReader("part;instrument;octave\nHorn in F;tenor horn;auto\nBassoon;none;\n"))
	if err != nil {
		log.Fatal(err)
	}
	for _, row := range rows {
		fmt.Printf("line %d: %s for %s\n", row.Line, row.Part, row.Instrument)
	}
	// Output:
	// line 2: Horn in F for tenor horn
	// line 3: Bassoon for none
}
