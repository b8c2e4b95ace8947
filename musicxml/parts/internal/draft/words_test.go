package draft

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

func element(t *testing.T, text string) *etree.Element {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text))
	return doc.Root()
}

func textOf(t *testing.T, e *etree.Element) string {
	t.Helper()
	doc := etree.NewDocument()
	doc.SetRoot(e)
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return text
}

// Words go with what holds nothing without them (MusicXML 4.0: a direction has one
// direction-type at least, a direction-type one element).
func TestDropWords(t *testing.T) {
	t.Parallel()
	const first = "<direction-type><words>a</words>"
	for _, row := range []struct{ from, want string }{
		{"<m><direction>" + first + "</direction-type></direction><note/></m>", "<m><note/></m>"},
		{"<m><direction>" + first + "</direction-type><offset>1</offset></direction></m>", "<m/>"},
		{"<m><direction>" + first + "<words>b</words></direction-type></direction></m>", "<m><direction><direction-type><words>b</words></direction-type></direction></m>"},
		{"<m><direction>" + first + "</direction-type><direction-type><segno/></direction-type></direction></m>", "<m><direction><direction-type><segno/></direction-type></direction></m>"},
	} {
		m := element(t, row.from)
		DropWords(m.FindElement(".//words"))
		assert.Equal(t, row.want, textOf(t, m), row.from)
	}
	assert.Len(t, WordsIn(element(t, "<direction>"+first+"<words>b</words></direction-type><direction-type><words>c</words><segno/></direction-type></direction>")), 3)
}

// What an element says, for comparing: names and texts in order, attributes aside.
func TestContent(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "time= beats=3 beat-type=4", Content(element(t, `<time id="x"><beats>3</beats> <beat-type>4</beat-type></time>`)))
	assert.Equal(t, "a c", JoinedText(element(t, "<d><words>a</words><symbol>b</symbol><words>c</words></d>"), "words"))
	assert.Equal(t, "a b c", JoinedText(element(t, "<d><words>a</words><symbol>b</symbol><words>c</words></d>"), "words", "symbol"))
	assert.True(t, HasOne(element(t, "<b><segno/></b>"), "coda", "segno"))
	assert.False(t, HasOne(element(t, "<b><segno/></b>"), "coda", "fine"))
	for text, want := range map[string]bool{"<sound/>": true, `<sound tempo="1"/>`: false, "<sound><swing/></sound>": false} {
		assert.Equal(t, want, SaysNothing(element(t, text)), text)
	}
}

// One count of divisions for a whole part: 24 for a quarter note; what is counted in 2 is
// multiplied by 12 from where that is said, in 8 by 3 (MusicXML 4.0, divisions).
func TestUnify(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, want string }{
		{"<part><measure><attributes><divisions>2</divisions></attributes><note><duration>4</duration></note></measure><measure><attributes><divisions>8</divisions></attributes><backup><duration>8</duration></backup></measure></part>",
			"<part><measure><attributes><divisions>24</divisions></attributes><note><duration>48</duration></note></measure><measure><attributes><divisions>24</divisions></attributes><backup><duration>24</duration></backup></measure></part>"},
		{"<part><measure><note><duration>1</duration></note></measure></part>", "<part><measure><attributes><divisions>24</divisions></attributes><note><duration>24</duration></note></measure></part>"},
		{"<part><measure><attributes><key/></attributes></measure></part>", "<part><measure><attributes><divisions>24</divisions><key/></attributes></measure></part>"},
		{"<part><measure><attributes><divisions>24</divisions></attributes><note><duration>5</duration></note></measure></part>", "<part><measure><attributes><divisions>24</divisions></attributes><note><duration>5</duration></note></measure></part>"},
		{"<part/>", "<part/>"},
	} {
		part := element(t, row.from)
		Unify(part, 24)
		assert.Equal(t, row.want, textOf(t, part), row.from)
	}
}

// Where the next element stands: behind a note, but not behind a chord's further notes or a
// grace note; forward, back; anything else takes no time (MusicXML 4.0, chord, grace, backup).
func TestTimeAfter(t *testing.T) {
	t.Parallel()
	f := musicxml.NewFraction
	for _, row := range []struct {
		ev   musicxml.Event
		want musicxml.Fraction
	}{
		{musicxml.Event{Kind: musicxml.Note, Onset: f(1, 1), Duration: f(2, 1)}, f(3, 1)}, {musicxml.Event{Kind: musicxml.Note, Onset: f(1, 1), Duration: f(1, 2), Chord: true}, f(7, 1)},
		{musicxml.Event{Kind: musicxml.Note, Onset: f(1, 1), Grace: true}, f(7, 1)}, {musicxml.Event{Kind: musicxml.Forward, Onset: f(1, 1), Duration: f(2, 1)}, f(3, 1)},
		{musicxml.Event{Kind: musicxml.Backup, Onset: f(3, 1), Duration: f(2, 1)}, f(1, 1)}, {musicxml.Event{Kind: musicxml.Direction, Onset: f(3, 1)}, f(7, 1)}, {musicxml.Event{Kind: musicxml.Attributes}, f(7, 1)},
	} {
		assert.Equal(t, row.want, TimeAfter(&row.ev, f(7, 1)), "%+v", row.ev)
	}
}
