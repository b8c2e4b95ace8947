package musicxml

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// skims are ways to read a part for the first time.
var skims = []Skim{
	{},
	{Element: func(_, tag string) bool { return tag == "measure" || tag == "note" || tag == "voice" }},
	{Attribute: func(tag, key string) bool {
		return (key != "number" || tag == "measure") && !strings.HasPrefix(key, "default-")
	}},
	{Element: func(parent, _ string) bool { return parent != "note" }, Attribute: func(string, string) bool { return false }},
}

// checkTapes reads each part of a score to be remembered, in one of the ways of
// skims, and then again in every way, which must give the trees that scanning does.
// It returns how many parts had a tape.
func checkTapes(t *testing.T, data []byte, limits Limits) (remembered int) {
	t.Helper()
	scanned, err := Read(data, ReadOptions{Limits: limits})
	if err != nil {
		return 0
	}
	var scores []*Score // one for each way to begin
	for range skims {
		s, err := Read(data, ReadOptions{Limits: limits})
		require.NoError(t, err)
		scores = append(scores, s)
	}
	var slabs Slabs
	for i := range scanned.Parts {
		var want []*etree.Element
		var wantErr error
		for _, skim := range skims {
			part, err := scanned.SkimPart(i, nil, skim)
			want, wantErr = append(want, part), err
		}
		for k, s := range scores {
			slabs.Reset()
			first := skims[k]
			first.Remember = true
			got, err := s.SkimPart(i, &slabs, first)
			require.Equal(t, wantErr == nil, err == nil)
			if err != nil {
				assert.Equal(t, wantErr.Error(), err.Error())
				require.Nil(t, s.tapes[i].Load(), "nothing is remembered of a faulty part")
				continue
			}
			require.Empty(t, differ(want[k], got))
			if s.tapes[i].Load() != nil {
				remembered++
			}
			for n, again := range skims {
				slabs.Reset()
				got, err := s.SkimPart(i, &slabs, again)
				require.NoError(t, err)
				require.Empty(t, differ(want[n], got))
			}
		}
	}
	return remembered
}

func TestTapeOfShared(t *testing.T) {
	t.Parallel()
	remembered, files := 0, 0
	for _, path := range musicxmltest.SharedSpread(t, "scores/*/*.mxl", "testsuite/xmlFiles/*.xml") {
		text := scoreText(t, path)
		remembered += checkTapes(t, []byte(text), Limits{})
		files++
	}
	assert.Greater(t, remembered, 4*files/2, "few parts have what a tape does not say")
}

// TestTape has parts that are out of the ordinary; lost are those that no tape
// is kept of.
func TestTape(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("n", 300)
	room := strings.Repeat(" ", 500) // as much as the tape may need
	for _, row := range []struct {
		name, inside string
		lost         bool
	}{
		{"plain", "<measure number='1'><note><voice>1</voice></note></measure>", false},
		{"empty elements", "<measure/><measure></measure><measure number='2' ></measure >", false},
		{"references", "<measure number='&#49;'><note><words a='&amp;'>a &lt; b</words>&amp;<x>&#9837;</x></note></measure>", false},
		{"spaces in text", "<measure><note><words>poco  rit. </words></note></measure>", false},
		{"mixed", "<measure>a<note>b<x/>c</note>d</measure>", false},
		{"blanks in mixed", "<measure>a <note/> <note/></measure>", true},
		{"blank leaf", "<measure><words> </words></measure>", true},
		{"blank leaf left out", "<measure><note><lyric><text> </text></lyric></note></measure>", true},
		{"preserve", "<measure xml:space='preserve'> <note/> </measure>", true},
		{"prefixes", "<measure xmlns:x='urn:x' x:number='7' number='1'><x:note x:a='1' b='2'>t</x:note><x:y/></measure>", false},
		{"comment", "<measure><!-- c --></measure>", true},
		{"comment left out", "<measure><note><a><!-- c --></a></note></measure>", true},
		{"CDATA", "<measure><words><![CDATA[x]]></words></measure>", true},
		{"instruction", "<measure><?x y?></measure>", true},
		{"line ends", "<measure>\r\n<words>a\r\nb</words>\r\n</measure>", false},
		{"blanks about =", "<measure number  =  '1'" + strings.Repeat(" ", 20) + "width\n=\n'2'/>", false},
		{"far value", "<measure number=" + strings.Repeat(" ", 300) + "'1'/>", true},
		{"long name", "<measure><" + long + ">x</" + long + "></measure>", true},
		{"long attribute", "<measure " + long + "='x'/>", true},
		{"long value", "<measure number='" + strings.Repeat("1", 70000) + "'/>", true},
		{"long text", "<measure><words>" + strings.Repeat("x", 70000) + "</words></measure>", false},
		{"letters of the world", "<measure><é ñ='ü'>ł</é></measure>", false},
		{"deep", "<measure>" + strings.Repeat("<a>", 50) + "x" + strings.Repeat("</a>", 50) + "</measure>", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			data := []byte(strings.Replace(tinyScore("x"), `<measure number="1"/>`, row.inside+room, 1))
			want := len(skims)
			if row.lost {
				want = 0
			}
			assert.Equal(t, want, checkTapes(t, data, Limits{}))
		})
	}
}

// TestTapeReleased checks that a tape of a score that was released serves the
// next one.
func TestTapeReleased(t *testing.T) {
	t.Parallel()
	var buffers Buffers
	for _, inside := range []string{`<measure number="22"><c d="&lt;">2&amp;</c></measure>`, `<measure number="1"><a b="&amp;">1</a></measure>`} {
		s, err := Read([]byte(strings.Replace(tinyScore("x"), `<measure number="1"/>`, inside+strings.Repeat(" ", 500), 1)), ReadOptions{Buffers: &buffers})
		require.NoError(t, err)
		for range 2 {
			part, err := s.SkimPart(0, nil, Skim{Remember: true})
			require.NoError(t, err)
			doc := etree.NewDocument()
			doc.AddChild(part.Child[0])
			assert.Equal(t, inside, string(Append(nil, doc, WriteOptions{})))
		}
		require.NotNil(t, s.tapes[0].Load())
		s.Release()
		_, err = s.ReadPart(0, nil)
		require.Error(t, err)
	}
	assert.Len(t, buffers.tapes, 1)
}

// TestTapesKept: of tapes that come back the largest stay, within a bound.
func TestTapesKept(t *testing.T) {
	t.Parallel()
	buffers := Buffers{Keep: 1}
	room := TapeBytes / wordSize
	for _, words := range []int{room / 8, room / 2, room / 4, room / 16, room / 2} {
		buffers.giveTape(&tape{words: make([]uint32, 0, words)})
	}
	require.Len(t, buffers.tapes, 2)
	assert.Equal(t, room/2*2, buffers.idle)
	assert.Equal(t, room/2, cap(buffers.takeTape(room/8).words), "the smallest that is large enough")
	assert.Equal(t, room, cap(buffers.takeTape(room).words), "a new one")
	buffers.giveTape(&tape{words: make([]uint32, 0, 2*room)})
	assert.Empty(t, buffers.tapes, "one that is larger than all that may be kept")
	assert.Zero(t, buffers.idle)
}

// TestTapeRoom: a text so dense that its tape has no room is read without, and
// its memory is not counted; the bound of one score's tapes holds.
func TestTapeRoom(t *testing.T) {
	t.Parallel()
	score := func(inside string) *Score {
		s, err := Read([]byte(strings.Replace(tinyScore("x"), `<measure number="1"/>`, inside, 1)), ReadOptions{Buffers: new(Buffers)})
		require.NoError(t, err)
		return s
	}
	dense := score("<measure>" + strings.Repeat("<a/>", 1000) + "</measure>")
	for range 2 {
		part, err := dense.SkimPart(0, nil, Skim{Remember: true})
		require.NoError(t, err)
		assert.Len(t, part.ChildElements()[0].Child, 1000)
		assert.Nil(t, dense.tapes[0].Load())
		assert.Zero(t, dense.taped.Load())
	}
	plain := score("<measure><note><voice>1</voice></note></measure>" + strings.Repeat(" ", 200))
	_, err := plain.SkimPart(0, nil, Skim{Remember: true})
	require.NoError(t, err)
	words := len(plain.tapes[0].Load().words)
	assert.Equal(t, int64(words*wordSize), plain.taped.Load())
	full := score("<measure><note><voice>1</voice></note></measure>" + strings.Repeat(" ", 200))
	full.taped.Store(TapeBytes)
	_, err = full.SkimPart(0, nil, Skim{Remember: true})
	require.NoError(t, err)
	assert.Nil(t, full.tapes[0].Load())
	assert.Equal(t, int64(TapeBytes), full.taped.Load())
}
