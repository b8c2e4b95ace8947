package technique_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/technique"
)

// Exact words, one warning a bar for what goes and one for chords.
func TestRemove(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	const note = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration>`
	const third = `<note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration></note>`
	score, err := musicxml.Read([]byte(`<score-partwise><part-list><score-part id="P1"><part-name>Violin</part-name></score-part></part-list><part id="P1">`+
		`<measure number="1"><attributes><divisions>1</divisions></attributes>`+note+`</note>`+
		note+`<notations><technical><up-bow/><string>2</string></technical></notations></note>`+
		note+`<notations><technical><up-bow/></technical></notations></note></measure>`+
		`<measure number="2">`+note+`</note>`+note+`</note>`+third+note+`</note>`+third+`</measure></part></score-partwise>`), musicxml.ReadOptions{})
	require.NoError(t, err)
	part, err := score.ReadPart(0, nil)
	require.NoError(t, err)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	warnings := technique.Remove(timeline, catalogue.ByID("violin"), catalogue.ByID("flute"))
	assert.Equal(t, []musicxml.Warning{
		{Code: "foreign-technique", Measure: "1", Beat: "2", Text: "left out what Flute does not have: string, up bow"},
		{Code: "unplayable", Measure: "2", Beat: "2", Text: "a chord, which Flute cannot play"},
	}, warnings, "chords once a bar")
	assert.Nil(t, part.FindElement(".//notations"))
}

// TestWhoHasWhat: which instruments keep which mark of an instrument that is not known
// (trade/musicxml-coverage.md, section 5, column I: what names strings, bows, fingers,
// mutes, holes, pedals or sticks goes where there are none; fingerings of an unknown
// instrument are left). b bowed, g fretted, h harp, w woodwind, t brass, k piano, o organ,
// a accordion, m mallets, d timpani.
func TestWhoHasWhat(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	ids := map[rune]string{'b': "violin", 'g': "guitar", 'h': "harp", 'w': "flute", 't': "trumpet-c", 'k': "piano", 'o': "organ", 'a': "accordion", 'm': "vibraphone", 'd': "timpani"}
	for marks, have := range map[string]string{
		"up-bow down-bow snap-pizzicato thumb-position string-mute": "b",
		"open-string string harmonic scordatura":                    "bgh",
		"fret hammer-on pull-off tap bend golpe frame":              "g",
		"pluck fingernails":                      "gh",
		"heel toe":                               "koa",
		"pedal":                                  "koam",
		"fingering other-technical arrow accent": "bghwtkoamd",
		"hole":                                   "w",
		"double-tongue triple-tongue flip smear breath-mark": "wt",
		"brass-bend harmon-mute half-muted":                  "t",
		"stopped open":                                       "bghtmd",
		"handbell percussion":                                "md",
		"harp-pedals":                                        "h",
		"damp damp-all":                                      "ghmd",
		"accordion-registration":                             "a",
		"arpeggiate non-arpeggiate":                          "bghkoamd",
	} {
		for _, mark := range strings.Fields(marks) {
			for letter, id := range ids {
				to := catalogue.ByID(id)
				part := barOf(t, `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><notations><technical><`+mark+`/></technical></notations></note>`)
				timeline, err := musicxml.NewTimeline(part)
				require.NoError(t, err)
				said := technique.Remove(timeline, nil, to)
				stays := part.FindElement(".//"+mark) != nil
				assert.Equal(t, strings.ContainsRune(have, letter), stays, "%s on the %s", mark, id)
				assert.Equal(t, stays, len(said) == 0, "%s on the %s", mark, id)
			}
		}
	}
	for _, row := range []struct{ mark, from, to string }{{"fingering", "oboe", "flute"}, {"hole", "oboe", "flute"}, {"frame", "ukulele", "guitar"}, {"scordatura", "violin", "guitar"}} {
		part := barOf(t, `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><notations><technical><`+row.mark+`/></technical></notations></note>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		require.NotNil(t, catalogue.ByID(row.from), row.from)
		technique.Remove(timeline, catalogue.ByID(row.from), catalogue.ByID(row.to))
		assert.Nil(t, part.FindElement(".//"+row.mark), "%s of the %s on the %s", row.mark, row.from, row.to)
	}
}

// barOf is a part of one bar.
func barOf(t *testing.T, music string) *etree.Element {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>`+music+`</measure></part>`))
	return doc.Root()
}

// Quick repetition of one note by a bow is said where breath has to do it, once a bar: not
// where it is measured, between two notes, or was written for breath.
func TestBowTremolo(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	for _, row := range []struct {
		tremolo, from, to string
		want              int
	}{
		{`<tremolo>3</tremolo>`, "violin", "flute", 1}, {`<tremolo type="single">4</tremolo>`, "violin", "flute", 1}, {`<tremolo type="unmeasured">3</tremolo>`, "violin", "flute", 1},
		{`<tremolo type="single">2</tremolo>`, "violin", "flute", 0}, {`<tremolo type="start">3</tremolo>`, "violin", "flute", 0}, {`<tremolo>3</tremolo>`, "oboe", "flute", 0},
		{`<tremolo>3</tremolo>`, "violin", "viola", 0}, {`<tremolo>3</tremolo>`, "", "flute", 0},
	} {
		note := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><notations><ornaments>` + row.tremolo + `</ornaments></notations></note>`
		part := barOf(t, note+note)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		assert.Len(t, technique.Remove(timeline, catalogue.ByID(row.from), catalogue.ByID(row.to)), row.want, "%s from %s to %s", row.tremolo, row.from, row.to)
		assert.Len(t, part.FindElements(".//tremolo"), 2)
	}
}

// What a playback says of another instrument's sound goes, and with it what then says
// nothing; what stands beside it stays (MusicXML 4.0, sound, play).
func TestPlaybackOfAnotherInstrument(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	for _, row := range []struct{ music, to, want string }{
		{`<sound pizzicato="yes"/>`, "flute", ``},
		{`<sound pizzicato="yes" tempo="60"/>`, "flute", `<sound tempo="60"/>`},
		{`<sound pizzicato="yes"/>`, "guitar", `<sound pizzicato="yes"/>`},
		{`<sound><play><ipa>x</ipa></play></sound>`, "flute", ``},
		{`<sound><play><ipa>x</ipa></play></sound>`, "viola", `<sound><play><ipa>x</ipa></play></sound>`},
		{`<direction><direction-type><words>pizz.</words></direction-type><sound pizzicato="yes"/></direction>`, "flute", ``},
		{`<direction><direction-type><words>dolce</words></direction-type><sound pizzicato="yes"/></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type></direction>`},
		{`<direction><direction-type><words>dolce</words></direction-type><sound pizzicato="yes" dynamics="50"/></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type><sound dynamics="50"/></direction>`},
		{`<harmony><root><root-step>C</root-step></root><kind>major</kind><frame/></harmony>`, "flute", `<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>`},
	} {
		part := barOf(t, row.music+`<note pizzicato="yes"><rest/><duration>1</duration></note>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		technique.Remove(timeline, catalogue.ByID("violin"), catalogue.ByID(row.to))
		text, err := etree.NewDocumentWithRoot(part).WriteToString()
		require.NoError(t, err)
		text = strings.TrimPrefix(text, `<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>`)
		note := map[bool]string{true: `<note pizzicato="yes">`, false: `<note>`}[row.to != "flute"]
		assert.Equal(t, row.want+note+`<rest/><duration>1</duration></note></measure></part>`, text, row.to)
	}
}
