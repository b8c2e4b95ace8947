package joining

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What has to be said anew where another staff begins: what holds there and did not before;
// where nothing was said a treble clef, five lines and no transposition hold (MusicXML 4.0,
// clef, staff-details, transpose).
func TestWhatIsMissing(t *testing.T) {
	t.Parallel()
	const treble, bass, lines, flat, none = "<clef><sign>G</sign><line>2</line></clef>", "<clef><sign>F</sign><line>4</line></clef>",
		"<staff-details><staff-lines>5</staff-lines></staff-details>", "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>", "<transpose><diatonic>0</diatonic><chromatic>0</chromatic></transpose>"
	const two, three = "<key><fifths>2</fifths></key>", "<time><beats>3</beats><beat-type>4</beat-type></time>"
	for _, row := range []struct{ holds, wanted, want string }{
		{"", "", ""}, {"", treble + lines + none, ""}, {treble + lines + none, "", ""}, {bass, bass, ""}, {two + three, two + three, ""},
		{"", bass, bass}, {bass, "", treble}, {bass, treble, treble}, {"", flat, flat}, {flat, "", none}, {"", two, two}, {two, "", ""},
		{"<staff-details><staff-lines>1</staff-lines></staff-details>", "", lines}, {"", three + flat + two + bass, two + three + bass + flat},
		{treble, `<clef number="2"><sign>F</sign><line>4</line></clef>`, bass},
	} {
		var texts []string
		for _, e := range holding(t, row.holds).missing(holding(t, row.wanted)) {
			text, err := etree.NewDocumentWithRoot(e).WriteToString()
			require.NoError(t, err)
			texts = append(texts, text)
		}
		assert.Equal(t, row.want, strings.Join(texts, ""), "%s after %s", row.wanted, row.holds)
	}
	of := inForce{}
	attributes := etree.NewDocument()
	require.NoError(t, attributes.ReadFromString(`<attributes><clef><sign>G</sign></clef><clef number="2"><sign>F</sign></clef><clef number="2" additional="yes"><sign>C</sign></clef><clef><sign>G</sign></clef><key><fifths>1</fifths></key></attributes>`))
	of.take(attributes.Root(), 1)
	assert.Equal(t, "G", of["clef"].SelectElement("sign").Text())
	of.take(attributes.Root(), 2)
	assert.Equal(t, "F", of["clef"].SelectElement("sign").Text())
	assert.NotNil(t, of["key"], "without a number it is every staff's")
}

func holding(t *testing.T, xml string) inForce {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString("<attributes>"+xml+"</attributes>"))
	f := inForce{}
	f.take(doc.Root(), 0)
	return f
}
