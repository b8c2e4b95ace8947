package transpose

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

// What a page remembers is read again as it was, and nothing else is.
func TestRemarks(t *testing.T) {
	t.Parallel()
	e := musicxmltest.Element(t, "<accidental>natural</accidental>")
	assert.False(t, hasRemark(e))
	assert.True(t, hasRemark(musicxmltest.Element(t, "<kind><?deskpart was 1,2 <a/>?></kind>")), "in front of everything")
	remember(e, printedAccidental{"natural-flat", shorthand.Pitch(t, "Db4")})
	assert.True(t, hasRemark(e))
	same := func(s printedAccidental, _ pitch.Pitch) (string, bool) { return "natural", true }
	sign, remembered := takeAccidental(e, shorthand.Pitch(t, "C4"), same)
	assert.True(t, remembered)
	assert.Equal(t, printedAccidental{"natural-flat", shorthand.Pitch(t, "Db4")}, sign)
	assert.False(t, hasRemark(e), "it is forgotten then")

	remember(e, printedAccidental{"natural-flat", shorthand.Pitch(t, "Db4")})
	sign, remembered = takeAccidental(e, shorthand.Pitch(t, "C4"), func(printedAccidental, pitch.Pitch) (string, bool) { return "sharp", true })
	assert.False(t, remembered, "someone has changed the sign since")
	assert.Equal(t, printedAccidental{"natural", shorthand.Pitch(t, "C4")}, sign)

	e = musicxmltest.Element(t, "<accidental><?deskpart sign natural-flat at Db4?>natural</accidental>")
	sign, remembered = takeAccidental(e, shorthand.Pitch(t, "C4"), same)
	assert.True(t, remembered, "wherever it stands")
	assert.Equal(t, printedAccidental{"natural-flat", shorthand.Pitch(t, "Db4")}, sign)
	sign, remembered = takeAccidental(musicxmltest.Element(t, "<accidental>natural<?deskpart other?></accidental>"), shorthand.Pitch(t, "C4"), same)
	assert.False(t, remembered, "not a sign")
	assert.Equal(t, printedAccidental{"natural", shorthand.Pitch(t, "C4")}, sign)
	sign, remembered = takeAccidental(musicxmltest.Element(t, "<accidental>natural</accidental>"), shorthand.Pitch(t, "C4"), same)
	assert.False(t, remembered, "nothing")
	assert.Equal(t, printedAccidental{"natural", shorthand.Pitch(t, "C4")}, sign)
	m := Memory{bars: make([]bar, 1, 2), notes: []note{{tieStart: true}, {tieStop: true}}[:1]}
	m.bars[0].reading = []int{1}
	m.Forget()
	assert.Equal(t, []note{{}, {}}, m.notes[:2], "nothing of a part that was moved is kept for the next score")
	assert.Equal(t, []bar{{}, {}}, m.bars[:2])

	for _, text := range []string{"sign sharp", "sign sharp at", "sign sharp at H4", "signs sharp at C4", "", "sharp at C4"} {
		_, ok := parseRemark(text)
		assert.False(t, ok, text)
	}
	for _, row := range []struct {
		xml  string
		want bool
		why  string
	}{
		{"<note/>", false, "nothing"}, {"<note><?deskpart no-sign?></note>", true, "ours"}, {"<note><?other no-sign?></note>", false, "another program's"},
		{"<note><?deskpart no-sign-for-this?></note>", false, "another remark that begins alike"}, {"<note><!--no-sign--></note>", false, "a comment"},
		{"<note><pitch/><?deskpart no-sign?></note>", true, "behind other things"},
	} {
		e := musicxmltest.Element(t, row.xml)
		assert.Equal(t, row.want, takeRemark(e, remarkOmission), row.why)
		assert.False(t, takeRemark(e, remarkOmission), "once")
	}
}

// An element that another key cannot hold is remembered with the way it has come.
func TestWas(t *testing.T) {
	t.Parallel()
	e := musicxmltest.Element(t, "<harmony><kind>major</kind></harmony>")
	_, _, ok := takeWas(e)
	assert.False(t, ok)
	addWas(e, musicxmltest.Element(t, "<frame><frame-frets>4</frame-frets></frame>"), pitch.Interval{Diatonic: -1, Chromatic: -2})
	text, err := etree.NewDocumentWithRoot(e.Copy()).WriteToString()
	assert.NoError(t, err)
	assert.Equal(t, "<harmony><kind>major</kind><?deskpart was -1,-2 780fd53a <frame><frame-frets>4</frame-frets></frame>?></harmony>", text)
	changed := e.Copy()
	changed.CreateElement("bass").CreateElement("bass-step").SetText("G")
	_, since, ok := takeWas(changed)
	assert.False(t, ok, "someone has changed the chord since")
	assert.Zero(t, since)
	was, since, ok := takeWas(e)
	assert.True(t, ok)
	assert.Equal(t, pitch.Interval{Diatonic: -1, Chromatic: -2}, since)
	assert.Equal(t, "frame", was.Tag)
	assert.Nil(t, was.Parent())
	assert.Len(t, e.Child, 1, "it is forgotten then")

	for _, bad := range []string{"<?deskpart was x,2 <a/>?>", "<?deskpart was 1,2 <a>?>", "<?deskpart was 1,2?>", "<?deskpart was 1?>", "<?deskpart was 1,2 text?>"} {
		was, _, ok := takeWas(musicxmltest.Element(t, "<harmony>"+bad+"</harmony>"))
		assert.False(t, ok, bad)
		assert.Nil(t, was, bad)
	}
	was, _, ok = takeWas(musicxmltest.Element(t, "<harmony><kind>major</kind><?deskpart was 1,2 <frame/>?></harmony>"))
	assert.True(t, ok, "as it was written at first")
	assert.Equal(t, "frame", was.Tag)
	addWas(e, musicxmltest.Element(t, "<frame><?other one?></frame>"), pitch.Interval{})
	assert.False(t, hasRemark(e), "it cannot be put into a processing instruction")
}
