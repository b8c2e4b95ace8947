package reading_test

import (
	"testing"

	"github.com/beevik/etree"

	"deskpart/musicxml/reading"
)

// FuzzRead: whatever a part holds, it is read or refused, never a panic, and it
// agrees with itself.
func FuzzRead(f *testing.F) {
	for _, music := range []string{
		"F#4<sharp>~ | ~F#4 F4", "g:F#4<sharp> F#4 << A3 +C4", "Fq4<quarter-sharp> h:C4 =2 D4",
		"[<attributes><key><fifths>-9</fifths></key><clef><sign>C</sign></clef><transpose><chromatic>-9</chromatic><double/></transpose></attributes>] C4",
		`[<direction><direction-type><octave-shift type="down" size="15"/></direction-type><offset>1</offset></direction>] C4`,
	} {
		f.Add(tune(music))
	}
	f.Fuzz(func(t *testing.T, xml string) {
		doc := etree.NewDocument()
		if doc.ReadFromString(xml) != nil || doc.Root() == nil {
			return
		}
		p, err := reading.Read(doc.Root())
		if err != nil {
			return
		}
		sounds := p.Sounding()
		if diff := reading.Compare(sounds, sounds); len(diff) > 0 {
			t.Fatalf("differs from itself: %s", diff[0])
		}
		_, _ = p.Mismatches(), p.Needless()
	})
}
