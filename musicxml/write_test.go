package musicxml

import (
	"errors"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteIndent(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, text, want string }{
		{"elements", "on lines of their own", `<?xml version="1.0"?><a><b><c/></b><!-- d --><e>f</e></a><!-- g -->`,
			"<?xml version=\"1.0\"?>\n<a>\n  <b>\n    <c/>\n  </b>\n  <!-- d -->\n  <e>f</e>\n</a>\n<!-- g -->\n"},
		{"mixed", "white space beside text would become text", `<a><b>x<c><d/></c></b></a>`, "<a>\n  <b>x<c><d/></c></b>\n</a>\n"},
		{"CDATA", "is text, blank or not", `<a><b><c/><![CDATA[ ]]></b></a>`, "<a>\n  <b><c/><![CDATA[ ]]></b>\n</a>\n"},
		{"comment alone", "a blank beside it would be a text when read again", `<a><b><!-- c --></b></a>`, "<a>\n  <b><!-- c --></b>\n</a>\n"},
		{"xml:space", "asks for no changes", `<a><b xml:space="preserve"><c><d/></c></b></a>`, "<a>\n  <b xml:space=\"preserve\"><c><d/></c></b>\n</a>\n"},
		{"blank leaf", "keeps its blanks", `<a><b> </b></a>`, "<a>\n  <b> </b>\n</a>\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			doc, err := ParseDocument([]byte(row.text), ReadOptions{})
			require.NoError(t, err)
			assert.Equal(t, row.want, string(Append(nil, doc, WriteOptions{Indent: 2})), row.why)
			again, err := ParseDocument([]byte(row.want), ReadOptions{})
			require.NoError(t, err)
			assert.Empty(t, differ(&doc.Element, &again.Element), "layout adds nothing to the tree")
		})
	}
}

// TestWriteEqualsEtree writes trees made by hand, such as no reading gives.
func TestWriteEqualsEtree(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why string
		fill      func(e *etree.Element)
	}{
		{"no characters", "become U+FFFD", func(e *etree.Element) { e.SetText("a\x01b\xFFc\uFFFEd") }},
		{"no characters in a value", "become U+FFFD", func(e *etree.Element) { e.CreateAttr("b", "\x02\xC3") }},
		{"]]> in CDATA", "is split", func(e *etree.Element) { e.CreateCData("a]]>b]]>") }},
		{"hyphens in a comment", "are parted", func(e *etree.Element) { e.CreateComment("--a---b-") }},
		{"?> in an instruction", "is parted", func(e *etree.Element) { e.CreateProcInst("a", "b?>c") }},
		{"unbalanced directive", "is escaped", func(e *etree.Element) { e.CreateDirective("DOCTYPE a>") }},
		{"texts side by side", "nothing comes between", func(e *etree.Element) { e.CreateText("a"); e.CreateText(" b"); e.CreateText("") }},
		{"prefix", "stands before the colon", func(e *etree.Element) { e.CreateElement("x:y").CreateAttr("z:w", "1") }},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			doc := etree.NewDocument()
			row.fill(doc.CreateElement("a"))
			want, err := doc.WriteToString()
			require.NoError(t, err)
			assert.Equal(t, want, string(Append(nil, doc, WriteOptions{})), row.why)
		})
	}
}

// fullDisk refuses every write.
type fullDisk struct{}

var errFull = errors.New("no space left")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestWriteFails(t *testing.T) {
	t.Parallel()
	assert.ErrorIs(t, Write(fullDisk{}, etree.NewDocumentWithRoot(etree.NewElement("a")), WriteOptions{}), errFull)
	assert.ErrorIs(t, WriteContainer(fullDisk{}, "a", File{Name: "a"}), errFull)
}
