package sounding_test

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml/sounding"
)

// Of two notes the player of the reduced part has the first alone.
func Example() {
	read := func(notes string) sounding.Times {
		doc := etree.NewDocument()
		if err := doc.ReadFromString(`<part><measure number="5"><attributes><divisions>1</divisions></attributes>` + notes + `</measure></part>`); err != nil {
			fmt.Println(err)
		}
		times, err := sounding.Read(doc.Root())
		if err != nil {
			fmt.Println(err)
		}
		return times
	}
	const g = `<note><pitch><step>G</step><octave>4</octave></pitch><duration>2</duration></note>`
	score, made := read(g+g), read(g+`<note><rest/><duration>2</duration></note>`)
	for _, gap := range score.Missing(made) {
		fmt.Println("measure", gap.Measure, "beat", gap.Beat, "until", gap.To)
	}
	// Output: measure 5 beat 3 until 4
}
