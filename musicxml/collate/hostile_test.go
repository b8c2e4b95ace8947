package collate_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/collate"
)

// hostileParts are parts that no musician wrote. Each must come to an end, within
// the test's own time, and say something.
var hostileParts = []struct {
	name, why string
	bars      func() string
}{
	{"a bar of 40,000 notes", "comparing each with each would take minutes", func() string {
		return `<measure number="1"><attributes><divisions>1</divisions></attributes>` +
			strings.Repeat(`<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration></note>`, 40_000) + `</measure>`
	}},
	{"a chord of 40,000 notes with signs", "the same at one moment", func() string {
		return `<measure number="1"><attributes><divisions>1</divisions></attributes><note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration></note>` +
			strings.Repeat(`<note><chord/><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><notations><articulations><accent/></articulations></notations></note>`, 40_000) + `</measure>`
	}},
	{"a bar of 40,000 marks", "pauses and words", func() string {
		return `<measure number="1"><attributes><divisions>1</divisions></attributes><note><rest/><duration>4</duration></note>` +
			strings.Repeat(`<direction><direction-type><words>dolce</words></direction-type></direction><barline><fermata/></barline>`, 20_000) + `</measure>`
	}},
	{"4,000 bars that match nothing", "the table of the alignment is bounded", func() string {
		var b strings.Builder
		b.WriteString(`<measure number="0"><attributes><divisions>1</divisions></attributes></measure>`)
		for i := range 4_000 {
			fmt.Fprintf(&b, `<measure number="%d"><note><pitch><step>%c</step><octave>%d</octave></pitch><duration>%d</duration></note></measure>`, i+5, "CDEFGAB"[i%7], i/7%9, i%13+1)
		}
		return b.String()
	}},
	{"multi-bar rests of a thousand bars", "what is counted is bounded", func() string {
		var b strings.Builder
		for i := range 2_000 {
			fmt.Fprintf(&b, `<measure number="%d"><attributes><divisions>1</divisions><measure-style><multiple-rest>1000</multiple-rest></measure-style></attributes><note><rest/><duration>4</duration></note></measure>`, 1000*i)
		}
		return b.String()
	}},
	{"no bars", "nothing at all", func() string { return "" }},
	{"ends of slurs, ties and endings without starts", "nothing to join them to", func() string {
		return `<measure number="1"><attributes><divisions>1</divisions></attributes><barline location="left"><ending number="1" type="stop"/></barline>` +
			`<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><tie type="stop"/><notations><slur type="stop" number="3"/></notations></note></measure>`
	}},
}

func TestHostileParts(t *testing.T) {
	s := collator(t, readScore(t, filepath.Join("testdata", "tide-tables.musicxml")))
	for _, h := range hostileParts {
		t.Run(h.name, func(t *testing.T) {
			data := `<score-partwise><part-list><score-part id="P1"><part-name>Violin</part-name></score-part></part-list><part id="P1">` + h.bars() + `</part></score-partwise>`
			source, err := musicxml.Read([]byte(data), musicxml.ReadOptions{Name: "hostile.musicxml"})
			require.NoError(t, err)
			results, err := s.Collate(read(t, "hostile.musicxml", source), collate.Options{}, nil)
			require.NoError(t, err)
			assert.NotEmpty(t, lines(results), h.why)
		})
	}
}
