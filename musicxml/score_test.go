package musicxml

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// TestPartwise compares testdata/partwise.musicxml with what it says, worked by hand.
func TestPartwise(t *testing.T) {
	t.Parallel()
	s, err := ReadFile("testdata/partwise.musicxml", ReadOptions{})
	require.NoError(t, err)
	assert.Equal(t, "3.1", s.Version)
	assert.False(t, s.Timewise || s.Compressed)
	assert.Empty(t, s.Warnings)
	assert.Equal(t, []string{
		`<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes><direction><direction-type><words><![CDATA[con <brio>]]></words></direction-type></direction><lib:shelf lib:mark="A 12"/><note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><?x y?></note><!-- </part> in a comment --><?z </part>?><direction><direction-type><words><![CDATA[</part>]]></words></direction-type></direction></measure></part>`,
		`<part id="P2"><measure number="1"><note><rest/><duration>4</duration></note></measure></part>`,
		`<part id="P3"/>`,
	}, writtenParts(t, s))

	list := s.ScoreParts()
	for i := range list {
		assert.Equal(t, list[i].ID, idOf(list[i].Element))
		list[i].Element = nil
	}
	assert.Equal(t, []ScorePart{
		{ID: "P1", Name: "Clarinet in Bb 1", NameDisplay: "Clarinet in B♭ 1", Abbreviation: "Cl. 1", Groups: []string{"Woodwind", "Clarinets"},
			Instruments: []ScoreInstrument{{ID: "P1-I1", Name: "Clarinet", Sound: "wind.reed.clarinet.bflat"}}},
		{ID: "P2", Name: "Café Accordion", Groups: []string{"Woodwind"}},
		{ID: "P3"},
	}, list)
}

// TestPartListNames: a group is called by its name, by that as displayed, or by its
// abbreviation, and a score-instrument has the program of its own midi-instrument.
func TestPartListNames(t *testing.T) {
	t.Parallel()
	s, err := Read([]byte(`<score-partwise version="4.0"><part-list>
<part-group type="start" number="1"><group-name-display><display-text>Clarinets in B</display-text><accidental-text>flat</accidental-text></group-name-display></part-group>
<part-group type="start" number="2"><group-abbreviation>Cl.</group-abbreviation></part-group>
<score-part id="P1"><part-name>1</part-name><part-abbreviation-display><display-text>B</display-text><accidental-text>flat</accidental-text><display-text> Cl.</display-text></part-abbreviation-display>
<score-instrument id="I1"><instrument-name>a</instrument-name></score-instrument><score-instrument id="I2"><instrument-name>b</instrument-name></score-instrument><score-instrument id="I3"><instrument-name>c</instrument-name></score-instrument>
<midi-instrument id="I2"><midi-program>72</midi-program></midi-instrument><midi-instrument id="I3"><midi-program>129</midi-program></midi-instrument></score-part>
</part-list><part id="P1"><measure number="1"/></part></score-partwise>`), ReadOptions{})
	require.NoError(t, err)
	p := s.ScoreParts()[0]
	assert.Equal(t, []string{"Clarinets in B♭", "Cl."}, p.Groups)
	assert.Equal(t, "B♭ Cl.", p.Abbreviation)
	assert.Equal(t, []int{0, 72, 0}, []int{p.Instruments[0].Program, p.Instruments[1].Program, p.Instruments[2].Program})
}

// TestPartwiseDocuments looks at what documents are made of the score.
func TestPartwiseDocuments(t *testing.T) {
	t.Parallel()
	const path = "testdata/partwise.musicxml"
	s, err := ReadFile(path, ReadOptions{})
	require.NoError(t, err)
	before := string(Append(nil, s.Header, WriteOptions{}))
	part, err := s.ReadPart(1, nil)
	require.NoError(t, err)
	doc := s.NewPartDocument(1, nil)
	doc.Root().AddChild(part)
	text := string(Append(nil, doc, WriteOptions{}))
	assert.Contains(t, text, `<?xml version="1.0" encoding="UTF-8" standalone="no"?><?print twice?><!--`)
	assert.Contains(t, text, `"http://www.musicxml.org/dtds/partwise.dtd"><score-partwise version="3.1" xmlns:lib="urn:example:library"><identification><rights>Town Hall &amp; Garden</rights></identification><part-list><!-- woodwind --><score-part id=" P2 "><part-name>Café Accordion</part-name></score-part></part-list><part id="P2">`, "the internal subset has been expanded and is gone; the list names one part")
	assert.Equal(t, before, string(Append(nil, s.Header, WriteOptions{})), "a copy leaves the header alone")

	var parts []*etree.Element
	for i := range s.Parts {
		part, err := s.ReadPart(i, nil)
		require.NoError(t, err)
		parts = append(parts, part)
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	whole, err := ParseDocument(data, ReadOptions{})
	require.NoError(t, err)
	dropSubset(whole)
	declareUTF8(whole)
	assert.Equal(t, string(Append(nil, whole, WriteOptions{Indent: 1})), string(Append(nil, s.Assemble(parts), WriteOptions{Indent: 1})))
	assert.NotContains(t, string(Append(nil, s.Assemble([]*etree.Element{nil, parts[1].Copy()}), WriteOptions{})), `<part id="P1"`)
}

// TestDeclaration checks that every document says that it is UTF-8.
func TestDeclaration(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, declaration, want string }{
		{"none", "one is added", ``, `<?xml version="1.0" encoding="UTF-8"?>`},
		{"without encoding", "the encoding is added", `<?xml version="1.0"?>`, `<?xml version="1.0" encoding="UTF-8"?>`},
		{"standalone", "stays", `<?xml version='1.0' standalone='yes'?>`, `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>`},
		{"another encoding", "the text is UTF-8 now", `<?xml version="1.0" encoding="ISO-8859-1"?>`, `<?xml version="1.0" encoding="UTF-8"?>`},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read([]byte(row.declaration+tinyScore("x")), ReadOptions{})
			require.NoError(t, err)
			assert.True(t, strings.HasPrefix(string(Append(nil, s.NewDocument(), WriteOptions{})), row.want+"<score-partwise>"), row.why)
		})
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	const list = `<part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>` + "\n"
	for _, row := range []struct {
		name, why, text, code string
		line                  int
	}{
		{"web page", "another root", "<html><head/></html>", "wrong-root", 1},
		{"container's list", "another root", "<container/>", "wrong-root", 1},
		{"opus", "a list of scores", "\n<opus/>", "opus", 2},
		{"drawing", "another root", "<svg/>", "wrong-root", 1},
		{"prefixed root", "told by its name", "<x:svg/>", "wrong-root", 1},
		{"no parts", "a score without music", "<score-partwise>" + list + "</score-partwise>", "no-parts", 0},
		{"two parts of one id", "which is which?", "<score-partwise>" + list + "<part id='P1'/>\n<part id='P1'/></score-partwise>", "duplicate-part", 3},
		{"one id listed twice", "which is which?", "<score-partwise>" + strings.Repeat(list, 1)[:len(list)-len("</part-list>\n")] + `<score-part id="P1"/></part-list><part id="P1"/></score-partwise>`, "duplicate-part", 0},
		{"no id and no telling", "two parts, one entry", "<score-partwise>" + list + "<part/>\n<part id='P1'/></score-partwise>", "part-without-id", 2},
		{"cut off in a part", "the end is missing", "<score-partwise>" + list + "<part id='P1'><measure>\n", "truncated", 3},
		{"cut off after a part", "the end is missing", "<score-partwise>" + list + "<part id='P1'/>\n", "truncated", 3},
		{"broken in the header", "tags must nest", "<score-partwise>" + list + "<work></score-partwise>", "mismatched-tags", 2},
		{"duplicate attribute of a part", "a name once", "<score-partwise>" + list + "<part id='P1' id='P1'/></score-partwise>", "duplicate-attribute", 2},
		{"second score", "one root", tinyScore("x") + "\n" + tinyScore("y"), "two-roots", 2},
		{"text after the score", "nothing may follow", tinyScore("x") + "\nthe end", "text-outside-root", 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := Read([]byte(row.text), ReadOptions{Name: "x.musicxml"})
			checkRefusal(t, err, row.code, row.line, row.why)
		})
	}
}

// TestReadPartRefuses checks that what is wrong inside a part is said with part,
// measure and line, and that the other parts can still be read.
func TestReadPartRefuses(t *testing.T) {
	t.Parallel()
	text := `<score-partwise><part-list><score-part id="P1"><part-name>Flute</part-name></score-part><score-part id="P2"><part-name>Tuba</part-name></score-part></part-list>
<part id="P1"><measure number="1"/>
<measure number="2"><note>
</measure></part>
<part id="P2"/></score-partwise>`
	s, err := Read([]byte(text), ReadOptions{Name: "x.musicxml"})
	require.NoError(t, err)
	_, err = s.ReadPart(0, nil)
	assert.EqualError(t, err, `x.musicxml: part "Flute" (P1), measure 2, line 4: </measure> stands where </note> should be (<note> begins on line 3); export the file again, or correct it there`)
	_, err = s.ReadPart(1, nil)
	require.NoError(t, err)
	for _, i := range []int{-1, 2} {
		_, err = s.ReadPart(i, nil)
		assert.Error(t, err)
	}
}

// TestReadOddIDs reads what is odd about ids, but clear.
func TestReadOddIDs(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, text string
		ids             []string
		listed          string
		codes           []string
	}{
		{"no id", "one entry, one part: test suite 41g", `<part-list><score-part id="P1"><part-name/></score-part></part-list><part/>`, []string{"P1"}, "P1", []string{"part-id-assumed"}},
		{"not listed", "the part is there, the entry is made: test suite 41h", `<part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1"/><part id="P3"/>`, []string{"P1", "P3"}, "P1 P3", []string{"part-not-listed"}},
		{"not there", "an entry without a part", `<part-list><score-part id="P1"><part-name/></score-part><score-part id="P2"><part-name/></score-part></part-list><part id="P2"/>`, []string{"P2"}, "P1 P2", []string{"part-missing"}},
		{"no list", "the list is made", `<part id="P1"/>`, []string{"P1"}, "P1", []string{"part-not-listed"}},
		{"blanks in ids", "an id has none (XML schema, ID)", `<part-list><score-part id=" P1"><part-name/></score-part></part-list><part id="P1 "/>`, []string{"P1"}, "P1", nil},
		{"list after the parts", "out of order, but all there", `<part id="P1"/><part-list><score-part id="P1"><part-name/></score-part></part-list>`, []string{"P1"}, "P1", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := Read([]byte("<score-partwise>"+row.text+"</score-partwise>"), ReadOptions{})
			require.NoError(t, err)
			var ids, codes []string
			for i, p := range s.Parts {
				ids = append(ids, p.ID)
				part, err := s.ReadPart(i, nil)
				require.NoError(t, err)
				assert.Equal(t, p.ID, idOf(part), "the tree has the id too")
			}
			for _, warning := range s.Warnings {
				codes = append(codes, string(warning.Code))
			}
			var listed []string
			for _, p := range s.ScoreParts() {
				listed = append(listed, p.ID)
			}
			assert.Equal(t, row.ids, ids, row.why)
			assert.Equal(t, row.listed, strings.Join(listed, " "), row.why)
			assert.Equal(t, row.codes, codes, row.why)
		})
	}
}

// TestReadTestSuiteOddities reads the test suite's files with odd ids.
func TestReadTestSuiteOddities(t *testing.T) {
	t.Parallel()
	read := func(file string) (read []string) {
		s, err := ReadFile(musicxmltest.SharedFiles(t, "testsuite/xmlFiles/"+file)[0], ReadOptions{})
		require.NoError(t, err)
		for _, p := range s.Parts {
			read = append(read, p.ID)
		}
		for _, warning := range s.Warnings {
			read = append(read, string(warning.Code))
		}
		return read
	}
	assert.Equal(t, []string{"P0", "P1", "P2", "P3"}, read("41a-MultiParts-Partorder.xml"))
	assert.Equal(t, []string{"P1", "part-id-assumed"}, read("41g-PartNoId.xml"))
	assert.Equal(t, []string{"P1", "P3", "P4", "part-not-listed", "part-not-listed"}, read("41h-TooManyParts.xml"))
}

// TestSkimPart compares skimming with reading and cutting down afterwards.
func TestSkimPart(t *testing.T) {
	t.Parallel()
	keep := func(parent, tag string) bool {
		return tag == "measure" || tag == "attributes" || tag == "note" || parent == "attributes" || parent == "note" && tag != "pitch"
	}
	keepAttribute := func(tag, key string) bool { return key != "default-x" && (key != "number" || tag == "measure") }
	for _, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml", "scores/songs/*.mxl") {
		s, err := ReadFile(path, ReadOptions{})
		require.NoError(t, err)
		for i := range s.Parts {
			want, err := s.ReadPart(i, nil)
			require.NoError(t, err)
			cutDown(want, keep, keepAttribute)
			got, err := s.SkimPart(i, nil, Skim{Element: keep, Attribute: keepAttribute})
			require.NoError(t, err)
			require.Empty(t, differ(want, got), path)
		}
	}
}

func cutDown(e *etree.Element, keep func(parent, tag string) bool, keepAttribute func(tag, key string) bool) {
	e.Attr = slices.DeleteFunc(e.Attr, func(a etree.Attr) bool { return a.Space == "" && !keepAttribute(e.Tag, a.Key) })
	for _, child := range e.ChildElements() {
		if keep(e.Tag, child.Tag) {
			cutDown(child, keep, keepAttribute)
		} else {
			e.RemoveChild(child)
		}
	}
}

// TestSkimPartChecks checks that what is skimmed over must still be XML.
func TestSkimPartChecks(t *testing.T) {
	t.Parallel()
	for _, inside := range []string{"<x><y></x>", "<x>&nbsp;</x>", "<x y='1' y='2'/>", "<x><!-- -- --></x>", "<x>\x01</x>", "<x>]]></x>"} {
		s, err := Read([]byte(strings.Replace(tinyScore("x"), "<measure number=\"1\"/>", "<measure>"+inside+"</measure>", 1)), ReadOptions{})
		require.NoError(t, err)
		_, err = s.SkimPart(0, nil, Skim{Element: func(_, tag string) bool { return tag == "measure" }})
		assert.Error(t, err, inside)
	}
}

// TestReadPartsAtOnce reads the parts of one score from many goroutines, each
// with its own slabs, twice over.
func TestReadPartsAtOnce(t *testing.T) {
	t.Parallel()
	s, err := ReadFile(musicxmltest.SharedFiles(t, "scores/quartets/sq7093885.mxl")[0], ReadOptions{})
	require.NoError(t, err)
	want := writtenParts(t, s)
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			var slabs Slabs
			for range 2 {
				for i := range s.Parts {
					slabs.Reset()
					part, err := s.ReadPart(i, &slabs)
					if assert.NoError(t, err) {
						assert.Equal(t, want[i], shapeOf(part))
					}
				}
			}
		})
	}
	group.Wait()
}

// TestRelease reads file after file into the same memory; headers and ids of
// the earlier ones must stay.
func TestRelease(t *testing.T) {
	t.Parallel()
	var buffers Buffers
	var slabs Slabs
	paths := append(musicxmltest.SharedFiles(t, "testsuite/xmlFiles/4*", "scores/songs/*.mxl"), "testdata/partwise.musicxml", "testdata/timewise.musicxml")
	headers, ids := map[string]string{}, map[string][]string{}
	scores := map[string]*Score{}
	for _, path := range paths {
		own, err := ReadFile(path, ReadOptions{})
		require.NoError(t, err)
		s, err := ReadFile(path, ReadOptions{Buffers: &buffers})
		require.NoError(t, err)
		for i := range s.Parts {
			slabs.Reset()
			want, err := own.ReadPart(i, nil)
			require.NoError(t, err)
			got, err := s.ReadPart(i, &slabs)
			require.NoError(t, err)
			require.Empty(t, differ(want, got), path)
			ids[path] = append(ids[path], strings.Clone(s.Parts[i].ID))
		}
		headers[path] = string(Append(nil, s.Assemble(nil), WriteOptions{}))
		scores[path] = s
		s.Release()
		_, err = s.ReadPart(0, nil)
		assert.Error(t, err, "released")
	}
	for _, path := range paths {
		assert.Equal(t, headers[path], string(Append(nil, scores[path].Assemble(nil), WriteOptions{})), path)
		for i, p := range scores[path].Parts {
			assert.Equal(t, ids[path][i], p.ID, path)
		}
	}
}

// TestReadFileRefuses checks what is no plain file or too large.
func TestReadFileRefuses(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	large := filepath.Join(dir, "large.xml")
	require.NoError(t, os.WriteFile(large, []byte(tinyScore("x")), 0o600))
	for _, row := range []struct{ name, why, path, code string }{
		{"missing", "there is none", filepath.Join(dir, "none.xml"), "unreadable"},
		{"folder", "is no file", dir, "not-a-file"},
		{"device", "may never end", os.DevNull, "not-a-file"},
		{"too large", "more than allowed", large, "too-large"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := ReadFile(row.path, ReadOptions{Limits: Limits{InputBytes: 50}})
			require.Error(t, err)
			assert.EqualValues(t, row.code, ErrorCode(err), row.why)
			assert.True(t, strings.HasPrefix(err.Error(), row.path+": "), err.Error())
			assert.Equal(t, 1, strings.Count(err.Error(), row.path), "the path is said once")
		})
	}
	_, err := Read([]byte(tinyScore("x")), ReadOptions{Limits: Limits{InputBytes: 50}})
	assert.EqualValues(t, "too-large", ErrorCode(err))
	_, err = Read([]byte("<score-partwise>"+strings.Repeat("<part/>", 3)+"</score-partwise>"), ReadOptions{Limits: Limits{Parts: 2}})
	assert.EqualValues(t, "too-many-parts", ErrorCode(err))
}
