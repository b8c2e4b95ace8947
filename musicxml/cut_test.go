package musicxml

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestElementEnd finds the end of <part>, whose inside the text is.
func TestElementEnd(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, inside, rest string }{
		{"empty", "nothing inside", ``, `</part>`},
		{"blank in the end tag", "allowed (XML 1.0, 3.1)", `<measure/>`, "</part\n >"},
		{"names alike", "part-name is not part", `<part-name/></part-name><partial/></partial>`, `</part>`},
		{"comment", "holds no tags", `<!-- </part> -->`, `</part>`},
		{"CDATA", "holds no tags", `<![CDATA[</part>]]>`, `</part>`},
		{"instruction", "holds no tags", `<?x </part>?>`, `</part>`},
		{"CDATA in a comment", "a comment ends where it ends", `<!-- <![CDATA[ -->`, `</part>`},
		{"comment in CDATA", "a CDATA section ends where it ends", `<![CDATA[ <!-- ]]>`, `</part>`},
		{"end in a value", "> may stand in a value", `<part a=">"/><words b="/>"/>`, `</part>`},
		{"part in part", "against the schema, but XML", `<part><part a='"'></part></part><part />`, `</part>`},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			start, end, _ := elementEnd(row.inside+row.rest+"<part></part>", 0, "part")
			assert.Equal(t, len(row.inside), start, row.why)
			assert.Equal(t, len(row.inside+row.rest), end, row.why)
		})
	}
}

func TestElementEndMissing(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "x", "<", "</", "</part", "<part></part>", "<!-- </part>", "<![CDATA[</part>", "<?x </part>", `</part a="`, `<part "></part>`} {
		start, end, _ := elementEnd(text, 0, "part")
		assert.Equal(t, [2]int{-1, -1}, [2]int{start, end}, text)
	}
}

// TestHostileSizes reads inputs that are long and make careless readers take the
// square of their length or far more memory than they have. It would take hours,
// not be timed, if one of them did so here.
func TestHostileSizes(t *testing.T) {
	t.Parallel()
	const n = 200_000
	many := func(text string) string { return strings.Repeat(text, n) }
	const list = `<score-partwise><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">`
	const end = `</part></score-partwise>`
	for _, row := range []struct{ name, why, text, code string }{
		{"open tags of parts", "each may seem to end at the end of the file", list + many(`<part "`) + ">", "truncated"},
		{"comments between parts", "each is moved", "<score-partwise>" + many("<!-- -->") + "<part id='P1'/>" + many("<!-- -->") + "</score-partwise>", ""},
		{"nested groups", "each part is in all of them", "<score-partwise><part-list>" + strings.Repeat("<part-group type='start' number='x'/>", n) + "</part-list><part/></score-partwise>", "too-large"},
		{"listed parts", "more than there can be players", "<score-partwise><part-list>" + many("<score-part/>") + "</part-list><part/></score-partwise>", "too-large"},
		{"open elements", "deeper than any music", list + many("<a>") + end, "too-deep"},
		{"ampersands", "each begins nothing", list + "<a>" + many("& ") + "</a>" + end, "undefined-entity"},
		{"brackets", "each may begin ]]>", list + "<a>" + many("]]") + "</a>" + end, ""},
		{"hyphens", "each may end a comment", list + "<!-- " + many("- ") + "-->" + end, ""},
		{"line ends", "each is changed", list + "<a>" + many("\r\n\r") + "</a>" + end, ""},
		{"attributes", "each is compared with all", list + "<a" + many(" a='' b='' c=''") + "/>" + end, "duplicate-attribute"},
		{"entities in a chain", "each leads to the next", "<!DOCTYPE a [" + many("<!ENTITY a '&b;'>") + "]>" + list + end, ""},
		{"a long text", "no reader sees so much", list + "<words>" + many("x y z ") + "</words>" + end, "text-too-long"},
		{"a long text with references", "none", list + "<words>" + many("&amp;     ") + "</words>" + end, "text-too-long"},
		{"a long value", "nor that", list + "<words color='" + many("x y z ") + "'/>" + end, "text-too-long"},
		{"a long value with references", "nor that", list + "<words color='" + many("&amp;     ") + "'/>" + end, "text-too-long"},
		{"a long comment", "nor that", list + "<!--" + many("x y z ") + "-->" + end, "text-too-long"},
		{"a long instruction", "nor that", list + "<?x " + many("x y z ") + "?>" + end, "text-too-long"},
		{"a long section", "nor that", list + "<![CDATA[" + many("x y z ") + "]]>" + end, "text-too-long"},
		{"a long name", "nor that", list + "<" + many("xyzxyz") + "/>" + end, "text-too-long"},
		{"a long title", "it would stand in every part", "<score-partwise><movement-title>" + many("x y z ") + "</movement-title><part-list/></score-partwise>", "text-too-long"},
		{"credits", "each would stand in every part", "<score-partwise>" + many("<credit/>") + "<part-list/></score-partwise>", "too-large"},
		{"measures without parts", "each part must have them all", "<score-timewise><part-list/>" + many("<measure/>") + "<measure>" + strings.Repeat("<part id='PN'/>", 1) + manyParts(900) + "</measure></score-timewise>", "too-large"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read([]byte(row.text), ReadOptions{Name: "x"})
			for i := 0; err == nil && i < len(s.Parts); i++ {
				_, err = s.ReadPart(i, nil)
			}
			require.EqualValues(t, row.code, ErrorCode(err), "%s: %v", row.why, err)
			if err != nil {
				assert.Less(t, len(err.Error()), 300, "a message is one short line")
			}
		})
	}
}

func manyParts(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("<part id='P" + strings.Repeat("I", i+1) + "'/>")
	}
	return b.String()
}
