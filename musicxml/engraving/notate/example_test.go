package notate_test

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
)

func ExamplePart() {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(`<part id="P1"><measure number="1"><attributes><divisions>1</divisions>` +
		`<clef><sign>F</sign><line>4</line></clef></attributes>` +
		`<note><pitch><step>C</step><octave>3</octave></pitch><duration>2</duration><type>half</type></note></measure></part>`); err != nil {
		fmt.Println(err)
		return
	}
	music, err := notate.Part(doc.Root(), notate.Options{Name: "Bassoon"})
	if err != nil {
		fmt.Println(err)
		return
	}
	bar := music.Staves[0].Measures[0]
	fmt.Println(music.Staves[0].Name, *bar.Changes[0].Clef == engraving.Bass(), bar.Voices[0].Events[0].Value == engraving.Half, len(music.NotDrawn))
	// Output: Bassoon true true 0
}
