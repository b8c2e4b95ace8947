package joining

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// Attributes at one time are one element, in which what is said last holds: of each staff its
// own; styles of bars stand beside each other (MusicXML 4.0, attributes). What stands earlier
// or later is reached by steps back and forward.
func TestBarsArePutTogether(t *testing.T) {
	t.Parallel()
	e := func(xml string) *etree.Element {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(xml))
		return doc.Root()
	}
	f := musicxml.NewFraction
	frame := &musicxml.Measure{Index: 3, Length: f(4, 1), Element: e(`<measure number="7" width="90"/>`)}
	b := newBar(frame, f(2, 1), inForce{})
	b.attributes(e(`<attributes><key><fifths>1</fifths></key><clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef><measure-style><slash type="start"/></measure-style></attributes>`), f(0, 1))
	b.attributes(e(`<attributes><key><fifths>2</fifths></key><clef number="2"><sign>C</sign></clef><measure-style><beat-repeat type="start"/></measure-style></attributes>`), f(0, 1))
	b.put(e(`<note/>`), f(0, 1), f(2, 1))
	b.attributes(e(`<attributes><key><fifths>3</fifths></key></attributes>`), f(2, 1))
	b.put(e(`<direction/>`), f(1, 1), f(0, 1))
	b.put(e(`<harmony/>`), f(5, 2), f(0, 1))
	text, err := etree.NewDocumentWithRoot(b.bar).WriteToString()
	require.NoError(t, err)
	assert.Equal(t, `<measure number="7" width="90"><attributes><key><fifths>2</fifths></key><clef number="1"><sign>G</sign></clef><clef number="2"><sign>C</sign></clef>`+
		`<measure-style><slash type="start"/></measure-style><measure-style><beat-repeat type="start"/></measure-style></attributes><note/>`+
		`<attributes><key><fifths>3</fifths></key></attributes><backup><duration>2</duration></backup><direction/><forward><duration>3</duration></forward><harmony/></measure>`, text)
	assert.Equal(t, "3", b.force["key"].SelectElement("fifths").Text())
}

// A rest is written in the voice and on the staff of the one that it is a piece of; a whole
// bar's says so; one that no value has is written as it is long (MusicXML 4.0, rest, type).
func TestRestsOfABar(t *testing.T) {
	t.Parallel()
	f := musicxml.NewFraction
	like := musicxmltest.Element(t, `<note><rest/><duration>8</duration><voice>2</voice><staff>2</staff></note>`)
	for _, row := range []struct {
		from, to musicxml.Fraction
		like     *etree.Element
		want     string
	}{
		{f(0, 1), f(4, 1), nil, `<note><rest measure="yes"/><duration>8</duration><voice>1</voice></note>`},
		{f(0, 1), f(4, 1), like, `<note><rest measure="yes"/><duration>8</duration><voice>2</voice><staff>2</staff></note>`},
		{f(0, 1), f(1, 1), like, `<note><rest/><duration>2</duration><voice>2</voice><type>quarter</type><staff>2</staff></note>`},
		{f(0, 1), f(2, 1), nil, `<note><rest/><duration>4</duration><voice>1</voice><type>half</type></note>`},
		{f(2, 1), f(4, 1), nil, `<forward><duration>4</duration></forward><note><rest/><duration>4</duration><voice>1</voice><type>half</type></note>`},
		{f(1, 4), f(1, 1), nil, `<forward><duration>0.5</duration></forward><note><rest/><duration>1.5</duration><voice>1</voice></note>`},
		{f(0, 1), f(1, 2), musicxmltest.Element(t, `<note><rest/></note>`), `<note><rest/><duration>1</duration><voice>1</voice><type>eighth</type></note>`},
	} {
		b := newBar(&musicxml.Measure{Length: f(4, 1), Beats: "4", BeatType: "4", Element: etree.NewElement("measure")}, f(2, 1), inForce{})
		b.rest(row.from, row.to, row.like)
		assert.Equal(t, "<measure>"+row.want+"</measure>", text(t, b.bar))
	}
	b := newBar(&musicxml.Measure{Length: f(3, 1), Beats: "6", BeatType: "8", Element: etree.NewElement("measure")}, f(2, 1), inForce{})
	b.rest(f(0, 1), f(3, 2), nil)
	assert.Equal(t, "<measure><note><rest/><duration>3</duration><voice>1</voice><type>quarter</type><dot/></note></measure>", text(t, b.bar), "a beat of three")
}
