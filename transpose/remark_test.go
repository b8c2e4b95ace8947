package transpose_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/transpose"
)

// A page that is moved as printed remembers what the new key cannot hold, and nothing
// that comes back by itself. Each row says what is then to be found at a path.
func TestWhatAPageRemembers(t *testing.T) {
	t.Parallel()
	head := func(inner string) string { return "[<notehead-text>" + inner + "</notehead-text>]" }
	rows := []struct {
		name, part string
		to         []transpose.Stretch
		path, want string
		why        string
	}{
		{"a letter", "key:0 C4" + head("<display-text>C</display-text>"), clarinetBFlat, "//notehead-text",
			"<notehead-text><display-text>D</display-text></notehead-text>", "D moved back is C again"},
		{"a letter and its sign", "key:0 F#4+sharp" + head("<display-text>F</display-text><accidental-text>sharp</accidental-text>"), clarinetBFlat, "//notehead-text",
			"<notehead-text><display-text>G</display-text><accidental-text>sharp</accidental-text></notehead-text>", "comes back"},
		{"a plain sign", "key:0 F#4+sharp", clarinetBFlat, "//accidental", "<accidental>sharp</accidental>", "comes back"},
		{"a natural-flat that becomes a natural", "key:0 Bb4+natural-flat", clarinetBFlat, "//accidental", "<accidental>natural<?deskpart sign natural-flat at Bb4?></accidental>", "a plain flat would come back"},
		{"a chord symbol's letter", `{<harmony><root><root-step text="A">A</root-step></root><kind>major</kind></harmony>} C4`, clarinetBFlat, "//root-step",
			`<root-step text="B">B</root-step>`, "moved back it is A again"},
		{"a chord symbol's letter and its sign", `{<harmony><root><root-step text="Bb">B</root-step><root-alter>-1</root-alter></root><kind>major</kind></harmony>} C4`, clarinetBFlat, "//root-step",
			`<root-step text="C">C<?deskpart was 1,2 <root-step text="Bb">C</root-step>?></root-step>`, "moved back it would be printed with the sign itself"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, row.part)
			o := options(row.to)
			o.AsPrinted = true
			move(t, e, o)
			found := e.FindElement(row.path)
			if assert.NotNil(t, found) {
				assert.Equal(t, row.want, text(found), row.why)
			}
		})
	}
	e := partOf(t, frame(0, 1, 2))
	o := options(clarinetBFlat)
	o.AsPrinted = true
	move(t, e, o)
	assert.Nil(t, e.FindElement("//harmony/frame"))
	assert.Equal(t, 1, remarks(e.FindElement("//harmony")), "the diagram is kept in the chord symbol")
	e = partOf(t, "key:0 F#4 F#4+sharp")
	move(t, e, o)
	assert.Equal(t, "key:2 tr:-1,-2 G#4 G#4+sharp", shorthand(t, e), "a sign that is missing is missing there, too")
	for _, note := range e.FindElements("//note") {
		assert.Zero(t, remarks(note))
	}
}

// remarks counts what an element remembers.
func remarks(e *etree.Element) int {
	n := 0
	for _, token := range e.Child {
		if _, ok := token.(*etree.ProcInst); ok {
			n++
		}
	}
	return n
}
