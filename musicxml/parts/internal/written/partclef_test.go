package written

import (
	"regexp"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose/pitch"
)

// A concert score shows a part in one clef and says in <part-clef> which its player reads
// (MusicXML 4.0, part-clef): the player's takes its place, remembers what was shown, and on
// the way back the score has what it had.
func TestPartClefs(t *testing.T) {
	t.Parallel()
	const treble, bass, alto = "<sign>G</sign><line>2</line>", "<sign>F</sign><line>4</line>", "<sign>C</sign><line>3</line>"
	forPart := func(number, clef string) string {
		if clef != "" {
			clef = "<part-clef>" + clef + "</part-clef>"
		}
		return `<for-part` + number + `>` + clef + `<part-transpose><chromatic>-2</chromatic></part-transpose></for-part>`
	}
	for _, row := range []struct{ why, score, part string }{
		{"what cannot be remembered", `<clef>` + bass + `<?other y?></clef>` + forPart("", treble), `<clef>` + treble + `</clef>` + forPart("", treble)},
		{"another clef", `<clef>` + bass + `</clef>` + forPart("", treble), `<clef>` + treble + `<?deskpart shown <clef>` + bass + `</clef>?></clef>` + forPart("", treble)},
		{"no clef is said", `<clef>` + bass + `</clef>` + forPart("", ""), `<clef>` + bass + `</clef>` + forPart("", "")},
		{"none is shown", forPart("", treble), `<clef>` + treble + `</clef>` + forPart("", treble)},
		{"of the first staff", `<clef number="1">` + treble + `</clef><clef number="2">` + bass + `</clef>` + forPart(` number="1"`, alto),
			`<clef number="2">` + bass + `</clef><clef number="1">` + alto + `<?deskpart shown <clef number="1">` + treble + `</clef>?></clef>` + forPart(` number="1"`, alto)},
		{"of the second staff", `<clef number="1">` + treble + `</clef><clef number="2">` + bass + `</clef>` + forPart(` number="2"`, alto),
			`<clef number="1">` + treble + `</clef><clef number="2">` + alto + `<?deskpart shown <clef number="2">` + bass + `</clef>?></clef>` + forPart(` number="2"`, alto)},
		{"a clef without a number is the first staff's", `<clef>` + treble + `</clef>` + forPart(` number="1"`, alto),
			`<clef number="1">` + alto + `<?deskpart shown <clef>` + treble + `</clef>?></clef>` + forPart(` number="1"`, alto)},
		{"and the other way round", `<clef number="1">` + treble + `</clef>` + forPart("", alto), `<clef>` + alto + `<?deskpart shown <clef number="1">` + treble + `</clef>?></clef>` + forPart("", alto)},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<part><measure><attributes>`+row.score+`</attributes></measure></part>`))
		s := &writer{Draft: &draft.Draft{Part: doc.Root()}}
		s.takePartClefs()
		assert.Equal(t, `<part><measure><attributes>`+row.part+`</attributes></measure></part>`, textOf(t, doc), row.why)
		clefs := s.returnDisplayClefs()
		for _, e := range doc.FindElements("//clef") {
			for _, token := range e.Child {
				_, remembered := token.(*etree.ProcInst)
				assert.False(t, remembered, "%s: it is forgotten", row.why)
			}
		}
		for _, c := range clefs {
			assert.Nil(t, c.clef.Parent(), row.why)
		}
		back := regexp.MustCompile(`<clef[^>]*><sign>.</sign><line>.</line><.deskpart shown (.*?)\?></clef>`).ReplaceAllString(row.part, "$1")
		assert.Equal(t, `<part><measure><attributes>`+back+`</attributes></measure></part>`, textOf(t, doc), "%s: what was shown is back", row.why)
		assert.Len(t, clefs, strings.Count(row.part, "shown "), row.why)
	}
	for text, want := range map[string]bool{`<clef><?deskpart shown <clef/>?></clef>`: true, `<clef><?other shown <clef/>?></clef>`: false, `<clef><?deskpart key?></clef>`: false, `<clef><?deskpart shown x?></clef>`: false, `<clef/>`: false} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(text))
		assert.Equal(t, want, takeShown(doc.Root()) != nil, text)
	}
}

func textOf(t *testing.T, doc *etree.Document) string {
	t.Helper()
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return text
}

// The octave of a part on several staves for another instrument: as few as bring it into
// the range, outside as little as can be (ranges.csv: a professional's violin goes from G3 to C8).
func TestBestOctave(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	violin := catalogue.ByID("violin")
	r, ok := violin.Range(instruments.Professional)
	require.True(t, ok)
	require.Equal(t, "G3", r.Sounding.Low.String())
	for _, row := range []struct {
		low, high string
		notes     int
		want      int
	}{{"G3", "C5", 9, 0}, {"F3", "C5", 9, 1}, {"G2", "C4", 9, 1}, {"F2", "C4", 9, 2}, {"C2", "C3", 9, 2}, {"G0", "C1", 9, 3}, {"C5", "C6", 9, 0}, {"C8", "C9", 9, -1}, {"D8", "D9", 9, -2}, {"F3", "C5", 0, 0}, {"G-1", "C0", 9, 4}, {"G-2", "C-1", 9, 5}, {"F#2", "C4", 9, 2}, {"C#8", "C#9", 9, -2}, {"G-3", "C-2", 9, 5}, {"C12", "C13", 9, -5}, {"C13", "C14", 9, -5}, {"F#3", "C5", 9, 1}, {"C5", "C#8", 9, -1}, {"G2", "C7", 9, 1}, {"F#2", "C8", 9, 0}, {"G2", "C9", 9, 0}} {
		low, err := pitch.Parse(row.low)
		require.NoError(t, err)
		high, err := pitch.Parse(row.high)
		require.NoError(t, err)
		p := &survey.Part{Notes: row.notes, LowestSounding: low, HighestSounding: high}
		assert.Equal(t, row.want, bestOctave(p, violin, instruments.Professional), "%s to %s", row.low, row.high)
	}
}

// The player's clef goes into the <for-part> of its bar that is for its staff, where that has none.
func TestSayPartClefs(t *testing.T) {
	t.Parallel()
	const treble = `<sign>G</sign><line>2</line>`
	const said = `<part-clef>` + treble + `</part-clef>`
	for _, row := range []struct{ clef, from, want string }{
		{`<clef>` + treble + `</clef>`, `<for-part><part-transpose/></for-part>`, `<for-part>` + said + `<part-transpose/></for-part>`},
		{`<clef number="1">` + treble + `</clef>`, `<for-part number="1"/><for-part number="2"/>`, `<for-part number="1">` + said + `</for-part><for-part number="2"/>`},
		{`<clef number="2">` + treble + `</clef>`, `<for-part number="1"/><for-part number="2"/>`, `<for-part number="1"/><for-part number="2">` + said + `</for-part>`},
		{`<clef number="2">` + treble + `</clef>`, `<for-part/>`, `<for-part>` + said + `</for-part>`}, {`<clef>` + treble + `</clef>`, `<for-part number="1"/>`, `<for-part number="1">` + said + `</for-part>`},
		{`<clef>` + treble + `</clef>`, `<for-part><part-clef><sign>F</sign></part-clef></for-part>`, `<for-part><part-clef><sign>F</sign></part-clef></for-part>`},
		{`<clef>` + treble + `</clef>`, `<key/>`, `<key/>`},
	} {
		doc, clef := etree.NewDocument(), etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<measure><attributes>`+row.from+`</attributes></measure>`))
		require.NoError(t, clef.ReadFromString(row.clef))
		(&writer{}).sayPartClefs([]playersClef{{doc.Root(), clef.Root()}})
		assert.Equal(t, `<measure><attributes>`+row.want+`</attributes></measure>`, textOf(t, doc))
	}
}
