package notate_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// schemaChildren lists the elements that a type of the standard's schema may hold.
func schemaChildren(t testing.TB, schema, name string) []string {
	t.Helper()
	_, rest, found := strings.Cut(schema, `complexType name="`+name+`"`)
	require.True(t, found, name)
	body, _, _ := strings.Cut(rest, "</xs:complexType>")
	var list []string
	for _, m := range regexp.MustCompile(`<xs:element name="([^"]+)"`).FindAllStringSubmatch(body, -1) {
		list = append(list, m[1])
	}
	return list
}

// bodies are the elements that say nothing without more: attributes and content.
var bodies = map[string]string{
	"fingering": "3", "pluck": "p", "fret": "2", "string": "2", "hammer-on": "", "tap": "T", "hole": "<hole-closed>half</hole-closed>",
	"arrow": "<arrow-direction>up</arrow-direction>", "handbell": "damp", "harmon-mute": "<harmon-closed>yes</harmon-closed>", "bend": "<bend-alter>2</bend-alter>",
	"other-articulation": "x", "other-technical": "x", "other-ornament": "x", "other-notation": "x", "other-direction": "x", "accidental-mark": "sharp",
	"tremolo": "2", "words": "dolce", "rehearsal": "A", "dynamics": "<f/>", "symbol": "stringsDownBow",
	"metronome":              "<beat-unit>quarter</beat-unit><per-minute>60</per-minute>",
	"harp-pedals":            "<pedal-tuning><pedal-step>D</pedal-step><pedal-alter>1</pedal-alter></pedal-tuning>",
	"scordatura":             `<accord string="1"><tuning-step>E</tuning-step><tuning-octave>4</tuning-octave></accord>`,
	"accordion-registration": "<accordion-high/>", "percussion": "<metal>triangle</metal>",
}

// kinds are the type attributes of elements that need one.
var elementTypes = map[string]string{"string-mute": "on", "staff-divide": "up"}

// spans begin and end.
var spanElements = map[string][2]string{
	"slur": {"start", "stop"}, "tied": {"start", "stop"}, "tuplet": {"start", "stop"}, "glissando": {"start", "stop"}, "slide": {"start", "stop"},
	"wavy-line": {"start", "stop"}, "hammer-on": {"start", "stop"}, "pull-off": {"start", "stop"}, "wedge": {"crescendo", "stop"},
	"dashes": {"start", "stop"}, "bracket": {"start", "stop"}, "pedal": {"start", "stop"}, "octave-shift": {"down", "stop"}, "principal-voice": {"start", "stop"},
}

func element(tag, kind string) string {
	if kind == "" {
		kind = elementTypes[tag]
	}
	attribute := ""
	if kind != "" {
		attribute = ` type="` + kind + `"`
	}
	if tag == "principal-voice" {
		attribute += ` symbol="Hauptstimme"`
	}
	if tag == "tuplet" {
		attribute += ` bracket="yes"`
	}
	if tag == "bracket" {
		attribute += ` line-end="down"`
	}
	return "<" + tag + attribute + ">" + bodies[tag] + "</" + tag + ">"
}

// twoNotes are a bar with something at the first note and something at the second.
func twoNotes(group, first, second, before string) string {
	note := func(inside string) string {
		if inside != "" && group != "notations" {
			inside = "<" + group + ">" + inside + "</" + group + ">"
		}
		if inside != "" {
			inside = "<notations>" + inside + "</notations>"
		}
		return `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>half</type>` + inside + `</note>`
	}
	return before + note(first) + note(second)
}

// Every element that the standard has at notes and beside them is drawn (something
// more is on the list) or listed as not drawn.
func TestEveryElementIsDrawnOrListed(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join(musicxmltest.SharedDir(t), "musicxml-4.0", "musicxml.xsd"))
	require.NoError(t, err)
	bare := figures(t, twoNotes("", "", "", ""))
	listed := map[string]bool{}
	for _, group := range []string{"notations", "articulations", "technical", "ornaments", "direction-type"} {
		children := schemaChildren(t, string(data), group)
		require.NotEmpty(t, children)
		for _, tag := range children {
			if tag == "articulations" || tag == "technical" || tag == "ornaments" {
				continue // groups of others
			}
			m := read(t, notate.Options{}, barWith(group, tag))
			drawn := figuresOf(t, m) != bare
			missing := false
			for _, n := range m.NotDrawn {
				missing = missing || strings.HasPrefix(n.Element, tag) && n.Count > 0 && len(n.Bars) > 0
			}
			assert.True(t, drawn != missing, "%s in %s: drawn %v, listed %v", tag, group, drawn, missing)
			if missing {
				listed[tag] = true
			}
		}
	}
	assert.Equal(t, map[string]bool{"image": true}, listed, "a picture is not music; all else is drawn")
}

// barWith is a bar with an element at its first note, or before it.
func barWith(group, tag string) string {
	ends := spanElements[tag]
	first, second := element(tag, ends[0]), ""
	if ends[1] != "" {
		second = element(tag, ends[1])
	}
	if group == "direction-type" {
		before, after := direction(first), ""
		if second != "" {
			after = direction(second)
		}
		return twoNotes("", "", "", before) + after
	}
	return twoNotes(group, first, second, "")
}

func figures(t testing.TB, bar string) string {
	return figuresOf(t, read(t, notate.Options{}, bar))
}

func figuresOf(t testing.TB, m *engraving.Music) string {
	t.Helper()
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	return d.Figures()
}

// What is not drawn is listed with its bars.
func TestNotDrawnSaysWhere(t *testing.T) {
	t.Parallel()
	image := direction(`<image source="x.png" type="image/png"/>`)
	m := read(t, notate.Options{}, image+shorthand.WholeC, shorthand.WholeC, image+image+shorthand.WholeC)
	assert.Equal(t, []engraving.NotDrawn{{Element: "image", Count: 3, Bars: []string{"1", "3"}}}, m.NotDrawn)
	for _, row := range []struct{ element, bar string }{
		{"character 楽 (U+697D)", direction(`<words>dolce 楽</words>`) + shorthand.WholeC},
		{"chord kind minor-major", `<harmony><root><root-step>C</root-step></root><kind>minor-major</kind></harmony>` + shorthand.WholeC},
		{"line after a figure", `<figured-bass><figure><figure-number>5</figure-number><extend type="start"/></figure></figured-bass>` + shorthand.WholeC},
		{"tuplet with one end", strings.Replace(shorthand.WholeC, "</note>", `<notations><tuplet type="start"/></notations></note>`, 1)},
		{"shape of a fermata: half-curve", strings.Replace(shorthand.WholeC, "</note>", `<notations><fermata>half-curve</fermata></notations></note>`, 1)},
		{"notehead-text", strings.Replace(shorthand.WholeC, "</note>", `<notehead-text><display-text>A</display-text></notehead-text></note>`, 1)},
		{"beam that opens or closes (accel)", strings.Replace(shorthand.WholeC, "</note>", `<beam number="1" fan="accel">begin</beam></note>`, 1)},
		{"beam over a barline", strings.Replace(shorthand.WholeC, "</note>", `<beam number="1">end</beam></note>`, 1)},
		{"metronome-arrows", direction(`<metronome><metronome-arrows/><metronome-note><metronome-type>half</metronome-type></metronome-note></metronome>`) + shorthand.WholeC},
		{"additional clef", `<attributes><clef additional="yes" size="cue"><sign>F</sign><line>4</line></clef></attributes>` + shorthand.WholeC},
		{"note value in the figure of a tuplet", strings.Replace(shorthand.WholeC, "</note>", `<notations><tuplet type="start" show-type="both"/><tuplet type="stop"/></notations></note>`, 1)},
	} {
		assert.Equal(t, []engraving.NotDrawn{{Element: row.element, Count: 1, Bars: []string{"1"}}}, read(t, notate.Options{}, row.bar).NotDrawn)
	}
	const tab = `<attributes><clef><sign>TAB</sign><line>5</line></clef></attributes>`
	place := func(inner string) string {
		return strings.Replace(shorthand.WholeC, "</note>", "<notations><technical>"+inner+"</technical></notations></note>", 1)
	}
	m = read(t, notate.Options{}, tab+shorthand.WholeC, place(`<string>2</string><fret>1</fret>`), place(`<fret>1</fret>`), `<attributes><clef><sign>G</sign><line>2</line></clef></attributes>`+shorthand.WholeC)
	assert.Equal(t, []engraving.NotDrawn{{Element: "note in tablature without string and fret", Count: 2, Bars: []string{"1", "3"}}}, m.NotDrawn)
}

// Letters of an analysis that stand as lyrics here and there are not sung; words
// are, and so is a vowel on every note.
func TestLettersOfAnAnalysisAreNotSung(t *testing.T) {
	t.Parallel()
	sung := func(text string) string {
		return strings.Replace(shorthand.WholeC, "</note>", "<lyric><text>"+text+"</text></lyric></note>", 1)
	}
	for _, row := range []struct {
		name  string
		bars  []string
		drawn string
	}{
		{"letters here and there", []string{sung("a"), shorthand.WholeC, shorthand.WholeC, shorthand.WholeC, sung("b"), shorthand.WholeC}, ""},
		{"a vowel on every note", []string{sung("a"), sung("a"), sung("a")}, "aaa"},
		{"a word among them", []string{sung("a"), shorthand.WholeC, shorthand.WholeC, shorthand.WholeC, sung("Lied"), shorthand.WholeC}, "aLied"},
	} {
		m := read(t, notate.Options{}, row.bars...)
		text := ""
		for b := range m.Bars {
			for _, lyric := range first(m, b).Lyrics {
				text += lyric.Text
			}
		}
		assert.Equal(t, row.drawn, text, row.name)
		assert.Equal(t, row.drawn == "", len(m.NotDrawn) > 0, row.name)
	}
}

// A note without head and stem is nothing on the page, and listed; what two players who
// share a staff have both stands once, what is on the other side of it twice; barlines
// stop at the words of a choir.
func TestWhatIsSaidOnce(t *testing.T) {
	t.Parallel()
	bare := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><type>half</type><stem>none</stem><notehead>none</notehead></note>`
	assert.Equal(t, []engraving.NotDrawn{{Element: "note without head and stem", Count: 1, Bars: []string{"1"}}}, read(t, notate.Options{}, bare).NotDrawn)

	loud := func(side, element string) string {
		return `<direction placement="` + side + `"><direction-type>` + element + `</direction-type></direction>`
	}
	ff, dolce := "<dynamics><ff/></dynamics>", "<words>dolce</words>"
	m := read(t, notate.Options{}, loud("below", ff)+loud("below", ff)+loud("above", ff)+loud("above", dolce)+loud("above", dolce)+bare)
	assert.Len(t, m.Staves[0].Measures[0].Marks, 3)

	choir := func(symbol, lyric string) *engraving.Music {
		note := func(staff int) string {
			return fmt.Sprintf(`<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><voice>%d</voice><type>half</type><staff>%d</staff>%s</note>`, staff, staff, lyric)
		}
		return read(t, notate.Options{}, "<attributes><staves>2</staves><part-symbol>"+symbol+"</part-symbol></attributes>"+note(1)+"<backup><duration>2</duration></backup>"+note(2))
	}
	sung := "<lyric><text>la</text></lyric>"
	for _, row := range []struct {
		symbol, lyric string
		through       bool
	}{{"bracket", sung, false}, {"bracket", "", true}, {"brace", sung, true}} {
		assert.Equal(t, row.through, choir(row.symbol, row.lyric).Groups[0].Barlines, "%s %q", row.symbol, row.lyric)
	}
}
