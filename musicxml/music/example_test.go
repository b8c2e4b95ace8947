package music_test

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml/music"
)

// A clarinet's melody: what is read, what sounds, and how long each note is held.
func Example() {
	doc := etree.NewDocument()
	_ = doc.ReadFromString(`<part>
		<measure number="1">
			<attributes><divisions>1</divisions>
				<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>
			<note><pitch><step>D</step><octave>5</octave></pitch><duration>3</duration>
				<notations><slur type="start"/></notations></note>
			<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>1</duration>
				<tie type="start"/><notations><slur type="stop"/></notations></note>
		</measure>
		<measure number="2">
			<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>2</duration><tie type="stop"/></note>
		</measure>
	</part>`)
	part, err := music.ReadPart(doc.Root())
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range part.Notes {
		if n := &part.Notes[i]; n.Struck() {
			fmt.Println(n.Pitch, "sounds", n.Sounding(), "for", n.Held(), "quarters")
		}
	}
	for i := range part.Spans {
		s := &part.Spans[i]
		fmt.Println(s.Kind, "from", s.Start.Note.Pitch, "to", s.Stop.Note.Pitch)
	}
	// Output:
	// D5 sounds C5 for 3 quarters
	// F#5 sounds E5 for 3 quarters
	// slur from D5 to F#5
}
