package musicxml

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// writtenParts reads all parts and writes them.
func writtenParts(t testing.TB, s *Score) []string {
	t.Helper()
	var texts []string
	for i := range s.Parts {
		part, err := s.ReadPart(i, nil)
		require.NoError(t, err)
		texts = append(texts, shapeOf(part))
	}
	return texts
}

// TestTimewise compares testdata/timewise.musicxml with what it must become,
// worked by hand.
func TestTimewise(t *testing.T) {
	t.Parallel()
	s, err := ReadFile("testdata/timewise.musicxml", ReadOptions{})
	require.NoError(t, err)
	assert.True(t, s.Timewise)
	assert.Equal(t, "4.0", s.Version)
	assert.Empty(t, s.Warnings)
	assert.Equal(t, []string{
		`<part id="P1">` +
			`<measure number="1" id="m1"><!-- the flute begins --><attributes><divisions>1</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes><note><pitch><step>D</step><octave>5</octave></pitch><duration>2</duration></note></measure>` +
			`<measure number="2" width="100"><!-- the horn is silent --><note><pitch><step>E</step><octave>5</octave></pitch><duration>2</duration></note></measure>` +
			`<measure number="3"><?bar three?><note><rest/><duration>2</duration></note></measure></part>`,
		`<part id="P2">` +
			`<measure number="1"><!-- the horn answers --><attributes><divisions>1</divisions></attributes><note><rest/><duration>2</duration></note><!-- end of bar 1 --></measure>` +
			`<measure number="2" width="100"/><measure number="3"/></part>`,
		`<part id="P3"><measure number="1"/><measure number="2" width="100"/><measure number="3"><note><rest/><duration>2</duration></note></measure></part>`,
	}, writtenParts(t, s))
	written := string(Append(nil, s.Assemble(nil), WriteOptions{}))
	assert.Contains(t, written, `<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"><score-partwise version="4.0"><work>`)
	assert.True(t, strings.HasSuffix(written, `</part-list><!-- the end --></score-partwise>`))
}

func TestTimewiseOdd(t *testing.T) {
	t.Parallel()
	const head = `<score-timewise><part-list><score-part id="A"><part-name/></score-part><score-part id="B"><part-name/></score-part></part-list>` + "\n"
	for _, row := range []struct {
		name, why, measures, code string
		want                      []string
	}{
		{"empty parts", "tags that end themselves", `<measure number="1"><part id="A"/><part id="B" /></measure>`, "",
			[]string{`<part id="A"><measure number="1"/></part>`, `<part id="B"><measure number="1"/></part>`}},
		{"empty measure", "a bar in which nobody plays", `<measure number="1"><part id="A"/></measure><measure number="2"/>`, "",
			[]string{`<part id="A"><measure number="1"/><measure number="2"/></part>`}},
		{"other order", "parts change places from bar to bar", `<measure number="1"><part id="A"><x/></part><part id="B"><y/></part></measure><measure number="2"><part id="B"><y/></part><part id="A"><x/></part></measure>`, "",
			[]string{`<part id="A"><measure number="1"><x/></measure><measure number="2"><x/></measure></part>`, `<part id="B"><measure number="1"><y/></measure><measure number="2"><y/></measure></part>`}},
		{"value with signs", "what stands in a measure's attributes is written as it was", `<measure number="1" text="&lt;&amp;&quot;"><part id="A"/></measure>`, "",
			[]string{`<part id="A"><measure number="1" text="&lt;&amp;&quot;"/></part>`}},
		{"no measures", "no music", ``, "no-parts", nil},
		{"twice in a bar", "two bars in one", `<measure number="1"><part id="A"/><part id="A"/></measure>`, "duplicate-part", nil},
		{"broken inside", "the part's own tags do not nest", `<measure number="1"><part id="A"><note></part></measure>`, "mismatched-tags", nil},
		{"broken between", "the measure's own tags do not nest", `<measure number="1"><part id="A"/></part></measure>`, "mismatched-tags", nil},
		{"cut off", "inside a part", `<measure number="1"><part id="A"><note>`, "truncated", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read([]byte(head+row.measures+"</score-timewise>"), ReadOptions{Name: "x"})
			if row.code == "mismatched-tags" && err == nil {
				_, err = s.ReadPart(0, nil)
				assert.Contains(t, err.Error(), "line 2", "the line of the file, not of the part")
			}
			require.EqualValues(t, row.code, ErrorCode(err), "%s: %v", row.why, err)
			if err == nil {
				assert.Equal(t, row.want, writtenParts(t, s), row.why)
			}
		})
	}
}

// TestTimewiseEqualsPartwise turns every shared score timewise by the tree, and
// must get its own parts back. Measures keep their number alone, as only that
// and what is inside is in the tree that is built here.
func TestTimewiseEqualsPartwise(t *testing.T) {
	t.Parallel()
	for _, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml", "scores/quartets/*.mxl", "scores/songs/*.mxl") {
		s, err := ReadFile(path, ReadOptions{})
		require.NoError(t, err)
		if len(s.Warnings) > 0 {
			continue
		}
		want := writtenParts(t, s)
		timewise, ok := timewiseTwin(t, s)
		if !ok {
			continue // bars that differ from part to part
		}
		twin, err := Read(timewise, ReadOptions{})
		require.NoError(t, err, path)
		require.True(t, twin.Timewise)
		require.Equal(t, want, writtenParts(t, twin), path)
	}
}

// timewiseTwin writes a score timewise, if its parts have the same measures.
func timewiseTwin(t testing.TB, s *Score) ([]byte, bool) {
	t.Helper()
	doc := s.NewDocument()
	root := doc.Root()
	root.Tag = "score-timewise"
	var measures []*etree.Element
	for i := range s.Parts {
		part, err := s.ReadPart(i, nil)
		require.NoError(t, err)
		for n, m := range part.ChildElements() {
			if n == len(measures) && i == 0 {
				measures = append(measures, (*Slabs)(nil).copyShell(m))
				root.AddChild(measures[n])
			}
			if n >= len(measures) || shapeOf((*Slabs)(nil).copyShell(m)) != shapeOf((*Slabs)(nil).copyShell(measures[n])) {
				return nil, false
			}
			cell := measures[n].CreateElement("part")
			cell.CreateAttr("id", s.Parts[i].ID)
			for _, token := range append([]etree.Token(nil), m.Child...) {
				cell.AddChild(token)
			}
		}
		if len(part.ChildElements()) != len(measures) || len(part.Child) != len(measures) {
			return nil, false
		}
	}
	return Append(nil, doc, WriteOptions{Indent: 3}), true
}
