package notate_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

func read(t testing.TB, o notate.Options, measures ...string) *engraving.Music {
	t.Helper()
	m, err := notate.Part(shorthand.Measures(t, measures...), o)
	require.NoError(t, err)
	return m
}

func direction(kind string) string {
	return `<direction><direction-type>` + kind + `</direction-type></direction>`
}

func first(m *engraving.Music, bar int) engraving.Event {
	return m.Staves[0].Measures[bar].Voices[0].Events[0]
}

// Under 8va the pitch stays and the note is printed an octave lower (MusicXML
// 4.0, octave-shift; notation-rules.md §17).
func TestPartOctaveLine(t *testing.T) {
	t.Parallel()
	shift := func(kind string) string {
		return `<direction><direction-type><octave-shift type="` + kind + `" size="8"/></direction-type></direction>`
	}
	m := read(t, notate.Options{}, shift("down")+shorthand.WholeC+shift("stop"), shorthand.WholeC)
	assert.Equal(t, 4, first(m, 0).Notes[0].Octave)
	assert.Equal(t, 5, first(m, 1).Notes[0].Octave)
	require.Len(t, m.Staves[0].Spanners, 1)
	assert.Equal(t, engraving.OctaveUp, m.Staves[0].Spanners[0].Kind)
	assert.Contains(t, engraving.Describe(m, 0, 1, 1), "C 5 whole", "the text says the sound")

	m = read(t, notate.Options{}, shift("down")+`<note><grace/><pitch><step>D</step><octave>6</octave></pitch><type>eighth</type></note>`+shift("stop")+shorthand.WholeC)
	assert.Equal(t, 6, first(m, 0).Notes[0].Octave, "a grace note has no time of its own")
	assert.Empty(t, m.Staves[0].Spanners)
	require.Len(t, m.NotDrawn, 1)
	assert.Equal(t, "octave line over no note but grace notes", m.NotDrawn[0].Element)
}

// Signs of repetition stand for notes that were there just before. Where a score, for want
// of an end to them, has others under the signs, those are drawn; a bar that shows no notes
// keeps its sign (MusicXML 4.0, measure-repeat, beat-repeat: common practice, no source).
func TestPartRepeatsWhatIsTheSame(t *testing.T) {
	t.Parallel()
	style := func(kind, count string) string {
		return `<attributes><measure-style><` + kind + ` type="start">` + count + `</` + kind + `></measure-style></attributes>`
	}
	quarterE := strings.Replace(shorthand.QuarterC, "C", "E", 1)
	wholeE := strings.Replace(shorthand.WholeC, "C", "E", 1)
	for _, c := range []struct {
		name     string
		measures []string
		want     string // % for a bar of signs, the bars' repetitions, n for drawn notes
	}{
		{"a bar again and again", []string{shorthand.WholeC, style("measure-repeat", "1") + shorthand.WholeC, shorthand.WholeC}, "n % %"},
		{"other notes under the signs", []string{shorthand.WholeC, style("measure-repeat", "1") + shorthand.WholeC, wholeE, wholeE}, "n % n %"},
		{"other words to the same notes", []string{shorthand.WholeC, style("measure-repeat", "1") + strings.Replace(shorthand.WholeC, "</note>", "<lyric><text>la</text></lyric></note>", 1)}, "n n"},
		{"bars that show nothing", []string{shorthand.WholeC, style("measure-repeat", "1") + shorthand.WholeRest, shorthand.WholeRest}, "n % %"},
		{"nothing before it", []string{style("measure-repeat", "1") + shorthand.WholeC, shorthand.WholeC}, "n %"},
		{"two bars", []string{shorthand.WholeC, wholeE, style("measure-repeat", "2") + shorthand.WholeC, wholeE, shorthand.WholeC}, "n n . % n"},
		{"beats", []string{shorthand.QuarterC + style("beat-repeat", "") + strings.Repeat(shorthand.QuarterC, 3)}, "%"},
		{"other beats", []string{shorthand.QuarterC + style("beat-repeat", "") + shorthand.QuarterC + quarterE + quarterE}, "n"},
	} {
		m := read(t, notate.Options{}, c.measures...)
		var got []string
		for _, measure := range m.Staves[0].Measures {
			sign := "n"
			for _, v := range measure.Voices {
				if e := v.Events[len(v.Events)-1]; e.Hidden {
					sign = "."
				} else if len(e.Notes) > 0 && e.Notes[0].Head == engraving.HeadBeatRepeat {
					sign = "%"
				}
			}
			if measure.Repeat > 0 {
				sign = "%"
			}
			got = append(got, sign)
		}
		assert.Equal(t, c.want, strings.Join(got, " "), c.name)
	}
}

func TestPartGathersRests(t *testing.T) {
	t.Parallel()
	announced := `<attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>` + shorthand.WholeRest
	mark := `<direction><direction-type><rehearsal>B</rehearsal></direction-type></direction>`
	for _, row := range []struct {
		name, why string
		least     int
		measures  []string
		want      []int
	}{
		{"as announced", "the part says three", 0, []string{shorthand.WholeC, announced, shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeRest}, []int{0, 3, 0}},
		{"never", "empty bars stay bars where nothing is announced", 0, []string{shorthand.WholeRest, shorthand.WholeRest}, []int{0, 0}},
		{"from two on", "asked for by the page", 2, []string{shorthand.WholeC, shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeC}, []int{0, 2, 0}},
		{"broken", "a rehearsal mark breaks the rest (notation-rules.md §10)", 2, []string{shorthand.WholeRest, shorthand.WholeRest, mark + shorthand.WholeRest, shorthand.WholeRest}, []int{2, 2}},
		{"one alone", "a single empty bar is no multi-bar rest", 2, []string{shorthand.WholeC, shorthand.WholeRest, shorthand.WholeC}, []int{0, 0, 0}},
	} {
		m := read(t, notate.Options{RestBars: row.least}, row.measures...)
		var got []int
		for _, b := range m.Bars {
			got = append(got, b.RestBars)
		}
		assert.Equal(t, row.want, got, "%s: %s", row.name, row.why)
	}
}

func TestBarOfFindsTheBarThatShowsAMeasure(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{RestBars: 2}, shorthand.WholeC, shorthand.WholeRest, shorthand.WholeRest, shorthand.WholeC)
	assert.Equal(t, 1, m.BarOf(1))
	assert.Equal(t, 2, m.BarOf(3), "inside the rest")
	assert.Equal(t, 3, m.BarOf(4))
	assert.Equal(t, 0, m.BarOf(9))
}

func TestPartAccidentalStatus(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, attributes string
		round, square         bool
	}{
		{"plain", "an ordinary sign", ``, false, false},
		{"courtesy", "a courtesy sign goes in brackets (notation-rules.md §3)", `cautionary="yes"`, true, false},
		{"courtesy without", "unless the file says no", `cautionary="yes" parentheses="no"`, false, false},
		{"editor's", "an editor's sign in square brackets", `editorial="yes"`, false, true},
		{"bracket", "as the file says", `bracket="yes"`, false, true},
	} {
		note := strings.Replace(shorthand.WholeC, "</note>", `<accidental `+row.attributes+`>natural</accidental></note>`, 1)
		a := first(read(t, notate.Options{}, note), 0).Notes[0].Accidental
		require.NotNil(t, a)
		assert.Equal(t, []bool{row.round, row.square}, []bool{a.Parentheses, a.Brackets}, "%s: %s", row.name, row.why)
	}
}

// Without printed values the durations decide; without beams the time signature.
func TestPartWithoutTypesAndBeams(t *testing.T) {
	t.Parallel()
	eighth := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration></note>`
	dotted := `<note><pitch><step>C</step><octave>5</octave></pitch><duration>3</duration></note>`
	m := read(t, notate.Options{}, eighth+eighth+dotted+dotted)
	events := m.Staves[0].Measures[0].Voices[0].Events
	require.Len(t, events, 4)
	assert.Equal(t, [][]engraving.Beam{{engraving.BeamBegin}, {engraving.BeamEnd}, nil, nil},
		[][]engraving.Beam{events[0].Beams, events[1].Beams, events[2].Beams, events[3].Beams})
	assert.Equal(t, engraving.Eighth, events[0].Value)
	assert.Equal(t, []int{int(engraving.Quarter), 1}, []int{int(events[2].Value), events[2].Dots})
}

// A hidden signature is in force on paper only as what is not there.
func TestPartHiddenKey(t *testing.T) {
	t.Parallel()
	m := read(t, notate.Options{}, `<attributes><key print-object="no"><fifths>3</fifths></key></attributes>`+shorthand.WholeC)
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err)
	assert.NotContains(t, d.Figures(), "dp-sharp")
}

// Errors say the bar, as the time line found it.
func TestPartError(t *testing.T) {
	t.Parallel()
	_, err := notate.Part(shorthand.Measures(t, `<note><pitch><step>C</step><octave>5</octave></pitch></note>`), notate.Options{})
	var at *musicxml.Error
	require.ErrorAs(t, err, &at)
	assert.Equal(t, "1", at.Measure)
}

// A chord symbol of no chord stands alone, whatever root the file gives it (MusicXML 4.0,
// kind-value: "the root … must be ignored"). A degree is shown as its text says (numeral-root).
func TestHarmonyTexts(t *testing.T) {
	t.Parallel()
	for harmony, want := range map[string]string{
		`<root><root-step>C</root-step></root><kind>none</kind>`:                                                                                            "N.C.",
		`<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind>`:                                                                            "V7",
		`<numeral><numeral-root text="5">5</numeral-root></numeral><kind>major</kind>`:                                                                      "5",
		`<numeral><numeral-root text="ii">2</numeral-root></numeral><kind text="7">minor-seventh</kind>`:                                                    "ii7",
		`<numeral><numeral-root>6</numeral-root><numeral-alter>-1</numeral-alter></numeral><kind>major</kind>`:                                              "♭VI",
		`<numeral><numeral-root>7</numeral-root><numeral-alter location="right">1</numeral-alter></numeral><kind text="">diminished</kind>`:                 "VII♯",
		`<numeral><numeral-root text="VI">6</numeral-root><numeral-alter print-object="no">1</numeral-alter></numeral><kind text="">half-diminished</kind>`: "VI",
		`<function>V</function><kind>dominant</kind>`:                                                                                                       "V7",
	} {
		m := read(t, notate.Options{}, `<harmony>`+harmony+`</harmony>`+shorthand.WholeC)
		require.Len(t, m.Staves[0].Measures[0].Marks, 1)
		assert.Equal(t, want, m.Staves[0].Measures[0].Marks[0].Text)
	}
}

// FuzzPart draws whatever a part may hold: no panic, and always SVG that can
// be parsed.
func FuzzPart(f *testing.F) {
	for _, seed := range []string{shorthand.WholeC, shorthand.WholeRest,
		`<note><grace slash="yes"/><pitch><step>B</step><alter>-1</alter><octave>9</octave></pitch><type>16th</type></note>` + shorthand.WholeC,
		`<attributes><staves>2</staves><clef number="2"><sign>TAB</sign></clef><staff-details><staff-lines>1</staff-lines></staff-details></attributes>` + shorthand.WholeC,
		`<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/><ending number="1" type="start"/></barline>` + shorthand.WholeC,
		`<direction><direction-type><words>dolce</words><wedge type="crescendo"/><metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type><offset>3</offset></direction>` + shorthand.WholeC,
		`<harmony><root><root-step>F</root-step><root-alter>1</root-alter></root><kind>minor-seventh</kind></harmony>` + shorthand.WholeC,
		`<note><rest/><duration>3</duration><notations><tuplet type="start"/><tuplet type="stop"/><slur type="start"/><fermata/></notations><lyric><syllabic>begin</syllabic><text>la</text><extend/></lyric></note>`,
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, measure string) {
		doc := etree.NewDocument()
		if doc.ReadFromString(`<part><measure number="1"><attributes><divisions>2</divisions></attributes>`+measure+`</measure><measure number="2">`+measure+`</measure></part>`) != nil || doc.Root() == nil {
			return
		}
		m, err := notate.Part(doc.Root(), notate.Options{RestBars: 2})
		if err != nil {
			return
		}
		d, err := engraving.Draw(m, engraving.Options{Width: 50})
		require.NoError(t, err)
		require.NoError(t, etree.NewDocument().ReadFromString(d.SVG()))
	})
}

// Figures in a row before a note follow one another while it sounds, each for its
// duration (MusicXML 4.0, figured-bass); suffixes are those of the standard's own list.
func TestFiguresFollowOneAnother(t *testing.T) {
	t.Parallel()
	figure := func(number, suffix, duration string) string {
		return "<figured-bass><figure><figure-number>" + number + "</figure-number><suffix>" + suffix + "</suffix></figure><duration>" + duration + "</duration></figured-bass>"
	}
	note := `<note><pitch><step>C</step><octave>3</octave></pitch><duration>4</duration><type>half</type></note>`
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part><measure number="1"><attributes><divisions>2</divisions></attributes>`+
		figure("7", "backslash", "1")+figure("6", "natural", "3")+note+figure("5", "plus", "4")+note+"</measure></part>"))
	m, err := notate.Part(doc.Root(), notate.Options{})
	require.NoError(t, err)
	var got []string
	for _, mark := range m.Staves[0].Measures[0].Marks {
		got = append(got, mark.Text+" at "+mark.Onset.String())
	}
	assert.Equal(t, []string{"7\u20E5 at 0", "6♮ at 1/2", "5+ at 2"}, got, "a stroke goes through its figure (Unicode, combining marks for symbols)")
}
