package musicxml

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/notice"
)

// TestPrefixes: what has a prefix that nothing declares goes, and is told of; what is
// declared stays, and a part's declarations go with what leaves it. A document type
// declares xlink.
func TestPrefixes(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name, root, header, part, wantHeader, wantPart string
		undeclared                                     []string
	}{
		{name: "declared at the root", root: ` xmlns:a="urn:a"`, part: `<a:x a:y="1"/>`, wantPart: `<part id="P1"><measure number="1"><a:x a:y="1"/></measure></part>`},
		{name: "an element undeclared", part: `<b:x><note/></b:x><note/>`, wantPart: `<part id="P1"><measure number="1"><note/></measure></part>`, undeclared: []string{"b"}},
		{name: "an attribute undeclared", part: `<note c:k="1" id="n"/>`, wantPart: `<part id="P1"><measure number="1"><note id="n"/></measure></part>`, undeclared: []string{"c"}},
		{name: "several", part: `<d:x/><note e:k="1" d:k="2"/>`, wantPart: `<part id="P1"><measure number="1"><note/></measure></part>`, undeclared: []string{"d", "e"}},
		{name: "declared where it stands", part: `<f:x xmlns:f="urn:f"><f:y/></f:x>`, wantPart: `<part id="P1"><measure number="1"><f:x xmlns:f="urn:f"><f:y/></f:x></measure></part>`},
		{name: "declared around", part: `<note xmlns:f="urn:f"><f:y/></note>`, wantPart: `<part id="P1"><measure number="1"><note xmlns:f="urn:f"><f:y/></note></measure></part>`},
		{name: "a declaration does not hold beside", part: `<note xmlns:f="urn:f"/><f:y/>`, wantPart: `<part id="P1"><measure number="1"><note xmlns:f="urn:f"/></measure></part>`, undeclared: []string{"f"}},
		{name: "xlink by the document type", part: `<link xlink:href="x"/>`, wantPart: `<part id="P1"><measure number="1"><link xlink:href="x" xmlns:xlink="http://www.w3.org/1999/xlink"/></measure></part>`},
		{name: "xml is always declared", part: `<words xml:lang="de"/>`, wantPart: `<part id="P1"><measure number="1"><words xml:lang="de"/></measure></part>`},
		{name: "the header", header: `<g:x/>`, part: `<note/>`, wantPart: `<part id="P1"><measure number="1"><note/></measure></part>`},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read([]byte(`<score-partwise`+test.root+`>`+test.header+`<part-list><score-part id="P1"/></part-list><part id="P1"><measure number="1">`+test.part+`</measure></part></score-partwise>`), ReadOptions{})
			require.NoError(t, err)
			for range 2 { // by its text, and by its tape
				part, err := s.SkimPart(0, nil, Skim{Remember: true})
				require.NoError(t, err)
				assert.Equal(t, test.wantPart, string(AppendPart(nil, part, WriteOptions{})))
				assert.Equal(t, test.undeclared, s.Undeclared(0))
			}
			assert.Equal(t, test.header != "", len(s.Warnings) == 1)
			if test.header != "" {
				assert.Equal(t, notice.UndeclaredPrefix, s.Warnings[0].Code)
				assert.NotContains(t, string(Append(nil, s.Header, WriteOptions{})), "g:x")
			}
		})
	}
}

// TestPrefixOfThePart: what a part declares stands at each element that needs it, so
// that a copy of it in another part is still declared.
func TestPrefixOfThePart(t *testing.T) {
	t.Parallel()
	s, err := Read([]byte(`<score-partwise><part-list><score-part id="P1"/></part-list><part id="P1" xmlns:a="urn:a"><measure number="1" a:m="1"><direction a:k="1"><a:x><a:y/></a:x></direction></measure></part></score-partwise>`), ReadOptions{})
	require.NoError(t, err)
	part, err := s.ReadPart(0, nil)
	require.NoError(t, err)
	assert.Equal(t, `<part id="P1" xmlns:a="urn:a"><measure number="1" a:m="1"><direction a:k="1" xmlns:a="urn:a"><a:x><a:y/></a:x></direction></measure></part>`,
		string(AppendPart(nil, part, WriteOptions{})))
}
