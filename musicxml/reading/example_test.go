package reading_test

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml/reading"
)

// The second F is meant to be natural, and no sign says so: the sharp before it holds on.
func Example() {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(`<part><measure number="1"><attributes><divisions>1</divisions><clef><sign>G</sign><line>2</line></clef></attributes>
		<note><pitch><step>F</step><alter>1</alter><octave>4</octave></pitch><duration>1</duration><accidental>sharp</accidental></note>
		<note><pitch><step>F</step><octave>4</octave></pitch><duration>1</duration></note></measure></part>`); err != nil {
		fmt.Println(err)
		return
	}
	page, err := reading.Read(doc.Root())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range page.Mismatches() {
		fmt.Printf("measure %s, beat %s: %s is written, %s is read (%s)\n", m.Measure, m.Beat, m.Written, m.Read, m.From)
	}
	// Output: measure 1, beat 2: F4 is written, F#4 is read (a sign earlier in the bar)
}
