package lexicon_test

import (
	"fmt"

	"deskpart/musicxml/lexicon"
)

func Example() {
	for _, text := range []string{"Più mosso", "poco rit.", "D.C. al Fine", "con sord.", "geteilt"} {
		m := lexicon.Of(text)
		fmt.Printf("%s: %s %v\n", text, m.Class, m.Says)
	}
	// Output:
	// Più mosso: tempo []
	// poco rit.: gradual [slower]
	// D.C. al Fine: navigation [da capo al fine]
	// con sord.: player [muting]
	// geteilt: player [divided]
}
