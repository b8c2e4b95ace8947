package technique_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/internal/technique"
	"deskpart/musicxml/parts/plan"
)

// Harmonics stand as they sound where no string is, with ordinary heads: the sounding pitch,
// or what the stopped and the touched one come to (a fourth above: two octaves; the physics
// of the string). What cannot be told is said, once a chord.
func TestSoundHarmonics(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	note := func(pitch, role, more string) string {
		if role != "" {
			role = `<notations><technical><harmonic>` + strings.TrimSpace(role) + `</harmonic></technical></notations>`
		}
		return `<note>` + more + `<pitch><step>` + pitch[:1] + `</step><octave>` + pitch[1:] + `</octave></pitch><duration>1</duration><accidental>natural</accidental><notehead>diamond</notehead>` + role + `</note>`
	}
	const base, touched, sounding, chord = `<base-pitch/>`, `<touching-pitch/>`, `<sounding-pitch/>`, `<chord/>`
	unknown := func(beat string) string {
		return "unplayable 1 " + beat + " a harmonic of which the score does not say what it sounds; the notes were left as they are written"
	}
	for _, row := range []struct{ why, to, music, want, said string }{
		{"stopped and touched", "flute", note("A3", base, "") + note("D4", touched, chord), "A5", ""}, {"the touched one first", "flute", note("D4", touched, "") + note("A3", base, chord), "A5", ""},
		{"all three", "flute", note("A3", base, "") + note("D4", touched, chord) + note("A5", sounding, chord), "A5", ""}, {"what sounds alone", "flute", note("E6", sounding, ""), "E6", ""},
		{"two behind each other", "flute", note("A3", base, "") + note("D4", touched, chord) + note("G3", base, "") + note("C4", touched, chord), "A5 G5", ""}, {"behind an ordinary one", "flute", note("C4", "", "") + note("E6", sounding, ""), "C4* E6", ""},
		{"over an ordinary one", "flute", note("C4", "", "") + note("E6", sounding, chord), "C4* +E6", ""}, {"under an ordinary one", "flute", note("E6", sounding, "") + note("C4", "", chord), "E6 +C4*", ""}, {"a second above", "flute", note("A3", base, "") + note("B3", touched, chord), "A3* +B3*", unknown("1")},
		{"touched alone", "flute", note("C4", "", "") + note("D4", touched, ""), "C4* D4*", unknown("2")}, {"nothing but a diamond", "flute", note("D4", " ", ""), "D4*", unknown("1")}, {"two diamonds", "flute", note("C4", "", "") + note("D4", " ", "") + note("E4", " ", chord), "C4* D4* +E4*", unknown("2")},
		{"a diamond that is no harmonic", "flute", note("D4", "", ""), "D4*", ""}, {"a circle", "flute", strings.ReplaceAll(note("D4", " ", ""), "diamond", "normal"), "D4*", ""}, {"a rest between", "flute", `<note><rest/><duration>1</duration></note>` + note("E6", sounding, ""), " E6", ""},
		{"at the head of the next bar", "flute", note("C4", "", "") + `</measure><measure number="2">` + note("E6", sounding, ""), "C4* E6", ""},
		{"words between", "flute", note("E6", sounding, "") + `<direction><direction-type><words>x</words></direction-type></direction>` + note("D6", sounding, ""), "E6 D6", ""},
		{"bowed", "viola", note("E6", sounding, ""), "E6*", ""}, {"plucked", "guitar", note("E6", sounding, ""), "E6*", ""}, {"for the same", "violin", note("E6", sounding, ""), "E6*", ""},
		{"of no height, under one that sounds", "flute", strings.ReplaceAll(note("D4", touched, ""), "pitch>", "unpitched>") + note("E6", sounding, chord), "* +E6", ""}, {"of no height", "flute", strings.ReplaceAll(note("D4", touched, ""), "pitch>", "unpitched>"), "*", ""},
	} {
		part := barOf(t, row.music)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		d := &draft.Draft{Part: part, Timeline: timeline, Survey: &survey.Part{}}
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: assign.ByPlan, Instrument: catalogue.ByID(row.to), Written: catalogue.ByID("violin")}
		require.NoError(t, technique.SoundHarmonics(d))
		var got, said []string
		for _, e := range part.FindElements(".//note") {
			text := ""
			if musicxml.Child(e, "chord") != nil {
				text = "+"
			}
			text += musicxml.Text(musicxml.Descend(e, "pitch", "step")) + musicxml.Text(musicxml.Descend(e, "pitch", "octave"))
			if musicxml.Child(e, "notehead") != nil || musicxml.Child(e, "accidental") != nil {
				text += "*"
			}
			got = append(got, text)
		}
		for _, w := range d.Report.Warnings {
			said = append(said, string(w.Code)+" "+w.Measure+" "+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
		assert.Equal(t, row.said, strings.Join(said, "; "), row.why)
		require.NoError(t, d.Settle())
		assert.Len(t, d.Timeline.Measures[0].Events, len(part.FindElements("measure[1]/*")), "%s: it is laid out", row.why)
	}
}

// What the new instrument does not have goes where the plan gives the part to another family.
func TestRemoveForeign(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	for _, row := range []struct {
		from, to string
		by       string
		goes     bool
	}{{"violin", "flute", assign.ByPlan, true}, {"", "flute", assign.ByPlan, true}, {"violin", "flute", "name", false}, {"violin", "violin", assign.ByPlan, false}, {"flute", "piccolo", assign.ByPlan, false}} {
		part := barOf(t, `<note><rest/><duration>1</duration><notations><technical><up-bow/></technical></notations></note>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		d := &draft.Draft{Part: part, Timeline: timeline, Survey: &survey.Part{Match: instruments.Match{Instrument: catalogue.ByID(row.from)}}}
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: row.by, Instrument: catalogue.ByID(row.to), Written: catalogue.ByID(row.from)}
		require.NoError(t, technique.RemoveForeign(d))
		assert.Equal(t, row.goes, part.FindElement(".//up-bow") == nil, "%v", row)
		assert.Equal(t, row.goes, len(d.Report.Warnings) == 1, "%v", row)
	}
}

// Words that ask for a technique go where they say nothing else; where they say more they stay
// and are told of (words of trade/proof-notes and common practice, no source).
func TestWordsOfATechnique(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const stays, goes, told = "stays", "goes", "told"
	for _, row := range []struct{ from, to, words, want string }{
		{"violin", "flute", "pizz.", goes}, {"violin", "flute", "sempre pizz. e", goes}, {"violin", "flute", "arco, dolce", told}, {"violin", "flute", "dolce", stays}, {"violin", "guitar", "pizz.", stays}, {"violin", "guitar", "arco", goes}, {"violin", "viola", "arco", stays},
		{"horn-f", "flute", "gestopft", goes}, {"horn-f", "trumpet-c", "gestopft", stays}, {"horn-f", "flute", "con sord.", goes}, {"horn-f", "violin", "con sord.", stays}, {"violin", "trumpet-c", "con sord.", stays}, {"violin", "piano", "senza sordino", goes},
		{"flute", "violin", "flutter-tongue", goes}, {"flute", "trumpet-c", "flutter-tongue", stays}, {"guitar", "harp", "let ring", stays}, {"guitar", "flute", "let ring", goes}, {"guitar", "viola", "let ring", goes}, {"guitar", "soprano-voice", "let ring", goes}, {"guitar", "ukulele", "let ring", stays},
		{"violin", "flute", "div.", goes}, {"", "flute", "unis.", goes}, {"soprano-voice", "flute", "div.", goes}, {"flute", "oboe", "div.", stays}, {"violin", "soprano-voice", "div.", stays}, {"soprano-voice", "violin", "div.", stays}, {"violin", "flute", "div. a 3 pizz.", goes}, {"violin", "guitar", "sul G", stays}, {"violin", "flute", "sul G", goes}, {"violin", "flute", "marco", stays},
		{"violin", "flute", "pizz. " + strings.Repeat("x", 394), told}, {"violin", "flute", "pizz. " + strings.Repeat("x", 395), stays},
	} {
		part := barOf(t, `<direction><direction-type><words>`+row.words+`</words></direction-type></direction>`)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		to := catalogue.ByID(row.to)
		require.NotNil(t, to, row.to)
		require.Equal(t, row.from == "", catalogue.ByID(row.from) == nil, row.from)
		said := technique.Remove(timeline, catalogue.ByID(row.from), to)
		want := map[string]string{
			goes: "foreign-technique: left out what " + to.Label("en", "") + " does not have: " + row.words,
			told: "unplayable: \"" + row.words + "\" asks for a technique that " + to.Label("en", "") + " does not have; the words were left",
		}[row.want]
		got := ""
		for _, w := range said {
			got += string(w.Code) + ": " + w.Text
		}
		assert.Equal(t, want, got, "%q from %s to %s", row.words, row.from, row.to)
		assert.Equal(t, row.want == goes, part.FindElement(".//words") == nil, "%q from %s to %s", row.words, row.from, row.to)
	}
}

// Syllables are told of once a part, tuning and frets go where there are none.
func TestSyllablesAndTuning(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const note, sung = `<note><rest/><duration>1</duration></note>`, `<note><rest/><duration>1</duration><lyric><text>la</text></lyric></note>`
	for _, row := range []struct{ from, to, music, want, said string }{
		{"soprano-voice", "flute", note + sung + sung, note + sung + sung, "syllables-left 2 syllables stand under the notes, which Flute does not sing; they were left"}, {"soprano-voice", "alto-voice", sung, sung, ""},
		{"guitar", "flute", `<attributes><staff-details><staff-tuning/></staff-details><staff-details><capo>1</capo></staff-details><staff-details show-frets="letters"/><staff-details><staff-lines>5</staff-lines></staff-details></attributes>`,
			`<attributes><staff-details><staff-lines>5</staff-lines></staff-details></attributes>`, ""},
		{"violin", "ukulele", `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, "", ""}, {"electric-guitar", "guitar", `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, ""},
		{"flute", "flute", `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, ""}, {"", "flute", `<attributes><staff-details><capo>1</capo></staff-details></attributes>`, "", ""},
		{"violin", "flute", `<note><rest/><duration>1</duration><notations><technical><up-bow/><!-- x --></technical></notations></note>`, `<note><rest/><duration>1</duration></note>`, "foreign-technique 1 left out what Flute does not have: up bow"},
		{"violin", "flute", `<note><rest/><duration>1</duration><notations><technical><up-bow/></technical><articulations><accent/><breath-mark/></articulations><arpeggiate/></notations></note>`, `<note><rest/><duration>1</duration><notations><articulations><accent/><breath-mark/></articulations></notations></note>`, "foreign-technique 1 left out what Flute does not have: arpeggiate, up bow"},
		{"violin", "flute", `<note><rest/><duration>1</duration><notations><technical><up-bow/></technical></notations><listen/></note>`, `<note><rest/><duration>1</duration><listen/></note>`, "foreign-technique 1 left out what Flute does not have: up bow"},
		{"violin", "flute", `<note><rest/><duration>1</duration><play><mute>on</mute></play></note>`, `<note><rest/><duration>1</duration></note>`, "foreign-technique 1 left out what Flute does not have: techniques of playback"}, {"violin", "cello", `<note><rest/><duration>1</duration><play/></note>`, `<note><rest/><duration>1</duration><play/></note>`, ""}, {"", "flute", `<note><rest/><duration>1</duration><play/></note>`, `<note><rest/><duration>1</duration></note>`, "foreign-technique 1 left out what Flute does not have: techniques of playback"},
		{"flute", "violin", `<note><rest/><duration>1</duration><notations><articulations><breath-mark/></articulations></notations><notations><fermata/></notations></note>`, `<note><rest/><duration>1</duration><notations><fermata/></notations></note>`, "foreign-technique 1 left out what Violin does not have: breath mark"},
	} {
		part := barOf(t, row.music)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		to := catalogue.ByID(row.to)
		require.NotNil(t, to, row.to)
		said := ""
		for _, w := range technique.Remove(timeline, catalogue.ByID(row.from), to) {
			said += string(w.Code) + " " + w.Beat + " " + w.Text
		}
		text, err := etree.NewDocumentWithRoot(part).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, `<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>`+row.want+`</measure></part>`, text)
		assert.Equal(t, row.said, said, "%s", row.music)
	}
}

// Exact words, one warning a bar for what goes and one for chords.
func TestRemove(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
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
	catalogue := instrumentstest.Load(t)
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
	catalogue := instrumentstest.Load(t)
	for _, row := range []struct {
		tremolo, from, to string
		want              int
	}{
		{`<tremolo>3</tremolo>`, "violin", "flute", 1}, {`<tremolo type="single">4</tremolo>`, "violin", "flute", 1}, {`<tremolo type="unmeasured">3</tremolo>`, "violin", "flute", 1},
		{`<tremolo type="single">2</tremolo>`, "violin", "flute", 0}, {`<tremolo type="start">3</tremolo>`, "violin", "flute", 0}, {`<tremolo>3</tremolo>`, "oboe", "flute", 0},
		{`<tremolo>3</tremolo>`, "violin", "viola", 0}, {`<tremolo>3</tremolo>`, "", "flute", 0}, {`<tremolo type="stop">3</tremolo>`, "violin", "flute", 0}, {`<tremolo/>`, "violin", "flute", 0},
	} {
		note := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><notations><ornaments>` + row.tremolo + `</ornaments></notations></note>`
		part := barOf(t, note+note)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		said := technique.Remove(timeline, catalogue.ByID(row.from), catalogue.ByID(row.to))
		assert.Len(t, said, row.want, "%s from %s to %s", row.tremolo, row.from, row.to)
		for _, w := range said {
			assert.Equal(t, musicxml.Warning{Code: "unplayable", Measure: "1", Beat: "1", Text: "a tremolo on one note, which Flute can only tongue; the marks were left"}, w)
		}
		assert.Len(t, part.FindElements(".//tremolo"), 2)
	}
}

// What a playback says of another instrument's sound goes, and with it what then says
// nothing; what stands beside it stays (MusicXML 4.0, sound, play).
func TestPlaybackOfAnotherInstrument(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	for _, row := range []struct{ music, to, want string }{
		{`<sound pizzicato="yes"/>`, "flute", ``},
		{`<sound pizzicato="yes" tempo="60"/>`, "flute", `<sound tempo="60"/>`},
		{`<sound pizzicato="yes"/>`, "guitar", `<sound pizzicato="yes"/>`},
		{`<sound><play><ipa>x</ipa></play></sound>`, "flute", ``},
		{`<sound><play><ipa>x</ipa></play></sound>`, "viola", `<sound><play><ipa>x</ipa></play></sound>`},
		{`<direction><direction-type><words>pizz.</words></direction-type><sound pizzicato="yes"/></direction>`, "flute", ``},
		{`<direction><direction-type><words>dolce</words></direction-type><sound pizzicato="yes"/></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type></direction>`},
		{`<direction><direction-type><words>dolce</words></direction-type><sound pizzicato="yes" dynamics="50"/></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type><sound dynamics="50"/></direction>`},
		{`<direction><direction-type><words>arco</words></direction-type><direction-type><words>dolce</words><words>pizz.</words></direction-type></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type></direction>`},
		{`<direction><direction-type><harp-pedals/></direction-type><direction-type><rehearsal>A</rehearsal></direction-type></direction>`, "flute", `<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>`},
		{`<direction><!-- first --><direction-type><damp/></direction-type><direction-type><string-mute type="on"/></direction-type><!-- last --></direction>`, "flute", ``},
		{`<direction><direction-type><dynamics><other-dynamics>arco</other-dynamics></dynamics></direction-type></direction>`, "flute", ``},
		{`<direction><direction-type><dynamics><other-dynamics>arco</other-dynamics><p/></dynamics><other-direction>spiccato</other-direction></direction-type></direction>`, "flute", `<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>`},
		{`<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>`, "flute", `<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>`},
		{`<sound pizzicato="yes" tempo="60"/>`, "flute", `<sound tempo="60"/>`}, {`<sound pizzicato="yes"/>`, "flute", ``}, {`<sound tempo="60"/>`, "flute", `<sound tempo="60"/>`}, {`<sound pizzicato="yes"/>`, "viola", `<sound pizzicato="yes"/>`},
		{`<direction><direction-type><words>dolce</words></direction-type><sound pizzicato="no" tempo="60"/></direction>`, "flute", `<direction><direction-type><words>dolce</words></direction-type><sound tempo="60"/></direction>`},
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
