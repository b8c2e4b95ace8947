package divided

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
)

// Dynamics at more than one voice tell that several players are on the staff.
func TestSeveralSay(t *testing.T) {
	t.Parallel()
	mark := func(kind, voice string) string {
		return `<direction><direction-type><` + kind + `/></direction-type>` + voice + `</direction>`
	}
	const one, two = `<voice>1</voice>`, `<voice>2</voice>`
	for bar, want := range map[string]bool{
		mark("dynamics", one) + mark("dynamics", two): true, mark("dynamics", one) + mark("dynamics", one): false, mark("dynamics", "") + mark("dynamics", two): false, mark("dynamics", one): false,
		mark("dynamics", one) + mark("words", two): false, mark("words", one) + mark("words", two): false, mark("dynamics", one) + mark("words", "") + mark("dynamics", two): true, "": false,
	} {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(`<part><measure>`+bar+`</measure></part>`))
		timeline, err := musicxml.NewTimeline(doc.Root())
		assert.NoError(t, err)
		assert.Equal(t, want, severalSay(&timeline.Measures[0]), bar)
	}
}
