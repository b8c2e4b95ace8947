package audit_test

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml/audit"
)

func ExampleExamine() {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(`<score-partwise><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
		<part id="P1"><measure number="7"><attributes><divisions>1</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes>
		<note><pitch><step>G</step><octave>5</octave></pitch><duration>3</duration><notations><slur type="start"/></notations></note>
		</measure></part></score-partwise>`); err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range audit.Examine(audit.Part{Root: doc.Root()}) {
		fmt.Printf("measure %s, beat %s: %s (%s)\n", w.Measure, w.Beat, w.Text, w.Code)
	}
	// Output:
	// measure 7, beat 4: the bar is 3 quarter notes long in a time of 2 quarter notes (bar-length)
	// measure 7, beat 1: the slur begins and does not end (line-without-end)
}
