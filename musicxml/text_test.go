package musicxml

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTextInPieces: comments and processing instructions cut a text into pieces, which
// are one text to read and to write (XML 1.0, 2.5 and 2.6: they are no part of it).
func TestTextInPieces(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ source, text, want string }{
		{"<octave>4</octave>", "4", "<octave>5</octave>"}, {"<octave><!-- x -->4</octave>", "4", "<octave><!-- x -->5</octave>"},
		{"<octave>4<!-- x --></octave>", "4", "<octave>5<!-- x --></octave>"}, {"<octave><?a b?>4</octave>", "4", "<octave><?a b?>5</octave>"},
		{"<fifths>-<!-- x -->1</fifths>", "-1", "<fifths>5<!-- x --></fifths>"},
		{"<fifths><!-- x --> <?a b?>-<!-- y -->1 </fifths>", "-1", "<fifths><!-- x -->5<?a b?><!-- y --></fifths>"},
		{"<octave><!-- x --></octave>", "", "<octave>5<!-- x --></octave>"}, {"<octave/>", "", "<octave>5</octave>"},
		{"<octave><![CDATA[4]]></octave>", "4", "<octave>5</octave>"}, {"<octave> 5 </octave>", "5", "<octave> 5 </octave>"},
	} {
		doc, err := ParseDocument([]byte(test.source), ReadOptions{})
		require.NoError(t, err)
		e := doc.Root()
		assert.Equal(t, test.text, Text(e), test.source)
		SetText(e, "5")
		assert.Equal(t, "5", Text(e), test.source)
		assert.Equal(t, test.want, string(Append(nil, doc, WriteOptions{})), test.source)
	}
	assert.Empty(t, Text(nil))
}
