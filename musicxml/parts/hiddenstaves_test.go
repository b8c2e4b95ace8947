package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Which staves stay hidden in the part, bar by bar, of a harp of two staves: never one with
// something to play, and never all (MusicXML 4.0, staff-details, print-object).
func TestHiddenStaves(t *testing.T) {
	note := func(staff int) string {
		return fmt.Sprintf(`<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><voice>%d</voice><type>whole</type><staff>%d</staff></note>`, staff, staff)
	}
	rest := func(staff int) string {
		return fmt.Sprintf(`<note><rest measure="yes"/><duration>4</duration><voice>%d</voice><staff>%d</staff></note>`, staff, staff)
	}
	back := `<backup><duration>4</duration></backup>`
	upper, both, none := note(1)+back+rest(2), note(1)+back+note(2), rest(1)+back+rest(2)
	set := func(staff int, printed string) string {
		return fmt.Sprintf(`<attributes><staff-details number="%d" print-object="%s"/></attributes>`, staff, printed)
	}
	for _, c := range []struct {
		why  string
		bars []string
		want string
	}{
		{"nothing to play on the lower staff", []string{set(2, "no") + upper, set(2, "yes") + both}, "1:2no 2:2yes"},
		{"a bar of rest is no reason to show it", []string{set(2, "no") + none, upper, set(2, "yes") + both}, "1:2no 3:2yes"},
		{"a note on the hidden staff", []string{set(2, "no") + upper, both, set(2, "yes") + both}, ""},
		{"the score hides all of the part", []string{both, set(1, "no") + set(2, "no") + none, set(1, "yes") + set(2, "yes") + both}, ""},
		{"said twice", []string{set(2, "no") + upper, set(2, "no") + upper, set(2, "yes") + both}, "1:2no 2:2no 3:2yes"},
		{"first without notes, then with", []string{set(2, "no") + upper, set(2, "no") + both, set(2, "yes") + both}, "1:2no 2:2yes"},
		{"printed, and said so", []string{set(2, "yes") + both, upper}, ""},
	} {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			c.bars[0] = `<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>` + c.bars[0]
			part := makeMini(t, miniScore(t, miniPart{"Harp", c.bars}), 0, parts.DefaultOptions())
			var seen []string
			for _, e := range part.Document.FindElements("//staff-details") {
				seen = append(seen, musicxml.Attr(e.Parent().Parent(), "number")+":"+musicxml.Attr(e, "number")+musicxml.Attr(e, "print-object"))
			}
			assert.Equal(t, c.want, strings.Join(seen, " "))
		})
	}
}
