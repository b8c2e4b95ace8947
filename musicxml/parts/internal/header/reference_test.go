package header

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
)

// What points to an instrument that is not there goes; where the id may be left out, the
// id alone (MusicXML 4.0, midi-device, play).
func TestDropReference(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, path, want string }{
		{`<m><note><instrument id="x"/><voice>1</voice></note></m>`, "//instrument", `<m><note><voice>1</voice></note></m>`},
		{`<m><sound><instrument-change id="x"/></sound></m>`, "//instrument-change", `<m/>`},
		{`<m><sound tempo="60"><instrument-change id="x"/></sound></m>`, "//instrument-change", `<m><sound tempo="60"/></m>`},
		{`<m><sound><midi-device id="x" port="1"/></sound></m>`, "//midi-device", `<m><sound><midi-device port="1"/></sound></m>`},
		{`<m><note><instrument id="x"/></note></m>`, "//instrument", `<m><note/></m>`},
		{`<m><sound id="s"><instrument-change id="x"/><swing><straight/></swing></sound></m>`, "//instrument-change", `<m><sound id="s"><swing><straight/></swing></sound></m>`},
		{`<m><note><play id="x"><ipa/></play></note></m>`, "//play", `<m><note><play><ipa/></play></note></m>`},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(row.from))
		dropReference(doc.FindElement(row.path))
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text)
	}
}

// The score's own names for itself, whatever stands round them; a title that holds such a
// word is none of them.
func TestScoreLabels(t *testing.T) {
	t.Parallel()
	for _, label := range []string{
		"Score", "FULL SCORE", "(Transposed Score)", "Score in C", "Concert Pitch", "Score at concert pitch", "Conductor's Score", "Partitur", "Klingende Partitur", "Direktion",
		"Full Score in C", "Full score (transposed)", "Transposed full score", "Score and parts", "Conductor", "Conductors Score", "Miniature Score", "Pocket score", "Condensed Score", "Short score", "Concert score", "C Score",
		"Score C", "Score in Concert Pitch", "Concert Pitch Score", "Score at sounding pitch", "Sounding pitch", "Transposing score", "Score (transposed)", "Orchestral score", "Orchestra Score", "Band Score", "Choral Score", "Vocal Score",
		"Partitur in C", "Studienpartitur", "Taschenpartitur", "Partitur, klingend", "Transponierende Partitur", "Transponierte Partitur", "Partitur (transponiert)", "Direktionsstimme", "Klangnotation",
		"Partition", "Conducteur en ut", "Partition en do", "Partition générale", "Grande partition", "Partitura in do", "Partitura en do", "Partitura general", "Partitura generale", "Partitura in suoni reali", "Partitura traspositrice",
		"Partitura transpuesta", "Partitura in ut", "Particella", "Partitura completa", "Director",
		"Partition d'orchestre", "Conducteur", "Partition en ut", "Partitura", "Suoni reali", "Guion", "Partition transposée", "study score", "Dirigierpartitur",
	} {
		assert.True(t, isScoreLabel(label), label)
	}
	for _, text := range []string{"", "  ", "Scored for two", "Score a goal", "The Conductor's Lament", "Partitur und Stimmen von Anna"} {
		assert.False(t, isScoreLabel(text), text)
	}
	for from, want := range map[string]string{
		"Dances - Score in C": "Dances", "Dances – Partitur": "Dances", "Dances — Guion": "Dances", "Dances, full score": "Dances", "Dances; score": "Dances", "Dances: Score": "Dances",
		"Dances (Conducteur)": "Dances", "Dances / Partitura": "Dances", "Dances - for band": "Dances - for band", "Score": "Score", "Dances - Suite - Score": "Dances - Suite",
	} {
		assert.Equal(t, want, withoutScoreLabel(from), from)
	}
}

// A name with signs is written a second time with its accidentals as such, any other once
// (MusicXML 4.0, part-name-display).
func TestNameDisplay(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"Oboe": "", "Clarinet in B♭": `<display-text>Clarinet in B</display-text><accidental-text>flat</accidental-text>`,
		"Horn in F♯ basso": `<display-text>Horn in F</display-text><accidental-text>sharp</accidental-text><display-text> basso</display-text>`,
		"♮A":               `<accidental-text>natural</accidental-text><display-text>A</display-text>`, "Clarinet in B♭/A": `<display-text>Clarinet in B</display-text><accidental-text>flat</accidental-text><display-text>/A</display-text>`,
	} {
		e := nameDisplay(name)
		if want == "" {
			assert.Nil(t, e, name)
			continue
		}
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, "<part-name-display>"+want+"</part-name-display>", text)
	}
}

// What a file claims of itself stays where the part bears it out: breaks of the score are
// gone, an element that is claimed not to be used must not be there (MusicXML 4.0, supports).
func TestClaims(t *testing.T) {
	t.Parallel()
	used := &references{tags: map[string]bool{"beam": true, "print": true}}
	for claim, want := range map[string]bool{
		`<supports element="print" attribute="new-system" type="yes"/>`: false, `<supports element="print" attribute="new-page" type="yes"/>`: false, `<supports element="print" attribute="blank-page" type="yes"/>`: true,
		`<supports element="print" type="yes"/>`: true, `<supports element="beam" type="yes"/>`: true, `<supports element="stem" attribute="new-page" type="yes"/>`: true,
		`<supports element="beam" type="no"/>`: false, `<supports element="stem" type="no"/>`: true, `<supports element="print" attribute="new-page" type="no"/>`: true,
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(claim))
		assert.Equal(t, want, used.stillTrue(doc.Root()), claim)
	}
}

// Lengths are written with two decimals at most; numbers that are none are 0.
func TestNumbers(t *testing.T) {
	t.Parallel()
	for n, want := range map[float64]string{0: "0", 80: "80", 53.3333: "53.33", 1.005: "1.01", 1.004: "1", -2.5: "-2.5", 1440.0: "1440", 0.126: "0.13"} {
		assert.Equal(t, want, formatNumber(n))
	}
	for text, want := range map[string]float64{"": 0, "x": 0, "NaN": 0, "Inf": 0, "-Inf": 0, "12.5": 12.5, "-3": -3, "1e3": 1000} {
		assert.Equal(t, want, number(text), text)
	}
}

// A converted score says that it is in concert pitch, once, or does not (MusicXML 4.0,
// concert-score); what then is empty goes.
func TestConcertScoreIsSaid(t *testing.T) {
	t.Parallel()
	for concert, texts := range map[bool]map[string]string{
		true: {`<part-list/>`: `<defaults><concert-score/></defaults><part-list/>`, `<defaults><concert-score/></defaults>`: `<defaults><concert-score/></defaults>`,
			`<defaults><scaling/><appearance/></defaults>`: `<defaults><scaling/><concert-score/><appearance/></defaults>`},
		false: {`<part-list/>`: `<part-list/>`, `<defaults><concert-score/></defaults><part-list/>`: `<part-list/>`,
			`<defaults><scaling/><concert-score/></defaults>`: `<defaults><scaling/></defaults>`},
	} {
		for from, want := range texts {
			doc := etree.NewDocument()
			require.NoError(t, doc.ReadFromString("<score-partwise>"+from+"</score-partwise>"))
			sayPitch(doc.Root(), concert)
			text, err := doc.WriteToString()
			require.NoError(t, err)
			assert.Equal(t, "<score-partwise>"+want+"</score-partwise>", text)
		}
	}
}

// What becomes of a part's entry, its instruments and links, each done by hand.
func TestEntries(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	bar, err := musicxml.NewTimeline(element(t, `<part><measure/></part>`))
	require.NoError(t, err)
	const three = `<score-instrument id="A"/><score-instrument id="B"/><midi-device id="A"/><midi-device/><midi-device id="B"/><midi-instrument id="A"/><midi-instrument id="B"/>`
	const sounding = `<miscellaneous><miscellaneous-field name="source pitch">sounding</miscellaneous-field></miscellaneous>`
	maker := func(change func(a *assign.Assignment)) *maker {
		m := &maker{Draft: &draft.Draft{Score: &survey.Score{Catalogue: catalogue, ScoreParts: make([]musicxml.ScorePart, 1)}, Survey: &survey.Part{}}, language: "en"}
		m.Assignment.Label, m.Assignment.ID = "Oboe", "P7"
		if change != nil {
			change(&m.Assignment)
		}
		return m
	}
	player := func(i int) func(a *assign.Assignment) {
		return func(a *assign.Assignment) { a.Player, a.PlayerCount, a.Sharers = i, 2, make([]assign.Sharer, 2) }
	}
	to := func(id string) func(a *assign.Assignment) {
		return func(a *assign.Assignment) { a.Instrument = catalogue.ByID(id) }
	}
	ownOf := func(notes string) func(e *etree.Element) { // of a player whose own is B
		return func(e *etree.Element) {
			m := maker(player(1))
			m.Assignment.Sharers[0].Instruments, m.Timeline = []string{"B"}, bar
			m.Part = element(t, "<part><measure>"+notes+"</measure></part>")
			used := &references{ids: map[string]bool{}}
			used.read(m.Part)
			m.keepOwnInstruments(e, used)
		}
	}
	for _, row := range []struct {
		why, from string
		do        func(e *etree.Element)
		want      string
	}{
		{"the first of several", three, keepFirstInstrument, `<score-instrument id="A"/><midi-device id="A"/><midi-device/><midi-instrument id="A"/>`},
		{"of one", `<score-instrument id="A"/><midi-device id="B"/>`, keepFirstInstrument, `<score-instrument id="A"/><midi-device id="B"/>`},
		{"what a percussionist takes", three, func(e *etree.Element) {
			keepInstruments(e, (&assign.Assignment{Takes: []assign.Take{{Instrument: "B"}}}).TakesInstrument)
		}, `<score-instrument id="B"/><midi-device/><midi-device id="B"/><midi-instrument id="B"/>`},
		{"who takes all", three, func(e *etree.Element) { keepInstruments(e, new(assign.Assignment).TakesInstrument) }, three},
		{"the second player's <player>", `<player id="1"/><player id="2"/>`, maker(player(2)).ownPlayer, `<player id="2"/>`},
		{"the first's", `<player id="1"/><player id="2"/>`, maker(player(1)).ownPlayer, `<player id="1"/>`},
		{"not as many as players", `<player id="1"/>`, maker(player(1)).ownPlayer, `<player id="1"/>`},
		{"the whole staff", `<player id="1"/><player id="2"/>`, maker(nil).ownPlayer, `<player id="1"/><player id="2"/>`},
		{"an instrument that was left out, once", `<score-instrument id="A"/><midi-device/><midi-device id="C"/><midi-instrument id="A"/><midi-instrument id="B"/><midi-instrument id="C"/>`, maker(nil).completeInstruments,
			`<score-instrument id="A"/><score-instrument id="B"><instrument-name>Oboe</instrument-name></score-instrument><score-instrument id="C"><instrument-name>Oboe</instrument-name></score-instrument><midi-device/><midi-device id="C"/><midi-instrument id="A"/><midi-instrument id="B"/><midi-instrument id="C"/>`},
		{"another instrument's name and sound", `<score-instrument id="A"><instrument-name>Fl.</instrument-name><instrument-abbreviation>F</instrument-abbreviation><instrument-sound>x</instrument-sound><virtual-instrument/></score-instrument><midi-instrument id="A"><midi-channel>1</midi-channel><midi-name>x</midi-name><midi-bank>1</midi-bank><midi-program>9</midi-program><midi-unpitched>3</midi-unpitched><volume>80</volume></midi-instrument>`,
			maker(to("oboe")).rename, `<score-instrument id="A"><instrument-name>Oboe</instrument-name><instrument-sound>wind.reed.oboe</instrument-sound></score-instrument><midi-instrument id="A"><midi-channel>1</midi-channel><midi-program>69</midi-program><volume>80</volume></midi-instrument>`},
		{"another instrument of which no sound is known", `<score-instrument id="A"><instrument-name>Fl.</instrument-name><instrument-sound>wind.flutes.flute</instrument-sound></score-instrument>`,
			maker(func(a *assign.Assignment) { a.Instrument = &instruments.Instrument{ID: "own"} }).rename, `<score-instrument id="A"><instrument-name>Oboe</instrument-name></score-instrument>`},
		{"what a part holds of the score's instruments", three, func(e *etree.Element) {
			m := maker(nil)
			m.instruments(e, &references{})
			assert.Equal(t, []string{"A", "B"}, m.Report.Instruments)
		}, three},
		{"what a percussionist's part holds of them: only what is taken", three, func(e *etree.Element) {
			m := maker(func(a *assign.Assignment) { a.Takes = []assign.Take{{Instrument: "B"}} })
			m.instruments(e, &references{})
			assert.Equal(t, []string{"B"}, m.Report.Instruments)
		}, `<score-instrument id="B"/><midi-device/><midi-device id="B"/><midi-instrument id="B"/>`},
		{"of several nothing is renamed", three, maker(to("oboe")).rename, three},
		{"of an instrument that nobody knows", `<score-instrument id="A"/>`, maker(nil).rename, `<score-instrument id="A"/>`},
		{"the names of another", `<part-name>Fl.</part-name><part-name-display/><part-abbreviation>F.</part-abbreviation><part-abbreviation-display/>`, maker(to("oboe")).name, `<part-name>Oboe</part-name><part-abbreviation>Ob.</part-abbreviation>`},
		{"the abbreviation of what nobody knows stays", `<part-abbreviation>F.</part-abbreviation>`, maker(nil).name, `<part-name>Oboe</part-name><part-abbreviation>F.</part-abbreviation>`},
		{"an edition has none", `<part-abbreviation>F.</part-abbreviation>`, maker(func(a *assign.Assignment) { to("oboe")(a); a.Edition = "Bb treble" }).name, `<part-name>Oboe</part-name>`},
		{"the instruments of all staves, each once", `<player id="x"/><score-instrument id="old"/><midi-device id="old"/><midi-instrument id="old"/>`, func(e *etree.Element) {
			m := maker(nil)
			for _, text := range []string{`<part-name/><score-instrument id="A"/><midi-device/><midi-device id="A"/><midi-instrument id="A"/><player id="1"/>`, `<score-instrument id="A"/><score-instrument id="B"/><midi-device/><midi-device id="A"/><midi-instrument id="B"/>`} {
				m.Entries = append(m.Entries, element(t, "<score-part>"+text+"</score-part>"))
			}
			bar := element(t, `<m><note><instrument id="B"/></note><note><instrument id="Z"/></note></m>`)
			m.joinEntries(e, &references{instruments: bar.FindElements("//instrument")})
			assert.Equal(t, []string{"A", "B"}, m.Report.Instruments)
			assert.Len(t, bar.FindElements("//instrument"), 1)
		}, `<score-instrument id="A"/><score-instrument id="B"/><midi-device/><midi-device id="A"/><midi-instrument id="A"/><midi-device/><midi-instrument id="B"/>`},
		{"a player's own instrument, without the numbers of a plan", three, ownOf(`<note><instrument id="B"/><pitch/></note>`), `<score-instrument id="B"/><midi-device/><midi-device id="B"/><midi-instrument id="B"/>`},
		{"the player's own, where all notes have another's", three, ownOf(`<note><instrument id="A"/><pitch/></note>`), `<score-instrument id="B"/><midi-device/><midi-device id="B"/><midi-instrument id="B"/>`},
		{"both, where the notes have both", three, ownOf(`<note><instrument id="B"/></note><sound><instrument-change id="A"/></sound>`), three},
		{"and where they are played by <play>", three, ownOf(`<note><instrument id="B"/><play id="A"/></note>`), three},
		{"the entry of one of several staves", ``, func(e *etree.Element) {
			m := maker(player(1))
			m.Assignment.Sharers[0].Instruments = []string{"B"}
			m.Score.ScoreParts[0].Element = element(t, `<score-part id="P7">`+three+`</score-part>`)
			m.Part = element(t, `<part><measure><note><instrument id="B"/></note></measure></part>`)
			m.Timeline = bar
			for _, c := range Entry(m.Draft, "en").ChildElements() {
				e.AddChild(c)
			}
		}, `<score-instrument id="B"/><midi-device/><midi-device id="B"/><midi-instrument id="B"/>`},
		{"of a part without instruments", ``, func(e *etree.Element) {
			m := maker(nil)
			m.Part = element(t, `<part/>`)
			e.AddChild(Entry(m.Draft, "en"))
		}, `<score-part id="P7"><score-instrument id="P7-I1"><instrument-name>Oboe</instrument-name></score-instrument></score-part>`},
		{"nothing tells", three, func(e *etree.Element) {
			m := maker(player(1))
			m.Part = element(t, `<part><measure><note/></measure></part>`)
			used := &references{ids: map[string]bool{}}
			used.read(m.Part)
			m.keepOwnInstruments(e, used)
		}, three},
		{"links to what came along, and out of the score, stay", `<credit id="c"><credit-words id="w"/><link xlink:href="#w"/><link xlink:href="#gone"/><link xlink:href="http://x#gone"/><link/></credit>`, func(e *etree.Element) {
			bar := element(t, `<m><link href="#n"/><link href="#gone"/><note id="n"/></m>`)
			dropDeadLinks(e, &references{links: bar.FindElements("//link"), ids: map[string]bool{"n": true}})
			assert.Len(t, bar.FindElements("//link"), 1)
		}, `<credit id="c"><credit-words id="w"/><link xlink:href="#w"/><link xlink:href="http://x#gone"/><link/></credit>`},
		{"pictures are files of their own", `<credit><credit-image source="a.png"/></credit>`, func(e *etree.Element) {
			m := maker(nil)
			m.reportPictures(e, &references{images: []*etree.Element{element(t, `<image source="b.png"/>`)}})
			var texts []string
			for _, w := range m.Report.Warnings {
				texts = append(texts, w.Text)
			}
			assert.Equal(t, []string{`the sheet shows the picture "b.png", which is a file of its own`, `the sheet shows the picture "a.png", which is a file of its own`}, texts)
		}, `<credit><credit-image source="a.png"/></credit>`},
		{"what the file of the score said of itself", `<identification><encoding><software>x</software><encoding-date>2020-01-01</encoding-date><encoder>Anna Test</encoder><supports element="beam" type="no"/><supports element="print" attribute="new-page" type="yes"/><supports element="stem" type="no"/></encoding></identification>`, func(e *etree.Element) {
			maker(nil).identification(e, &references{tags: map[string]bool{"beam": true}})
		}, `<identification><encoding><software>deskpart</software><encoder>Anna Test</encoder><supports element="stem" type="no"/></encoding></identification>`},
		{"a word for the way back of a whole score", `<part-list><score-part id="P7"><identification>` + sounding + `</identification><part-link/><group>score</group></score-part></part-list>`, func(e *etree.Element) {
			m := maker(nil)
			m.Score.ScoreParts[0].Element = element(t, `<score-part><identification>`+sounding+`</identification></score-part>`)
			m.partList(e, &references{})
		}, `<part-list><score-part id="P7"><part-name>Oboe</part-name><group>parts</group></score-part></part-list>`},
		{"of several groups the part is of one", `<part-list><score-part id="P7"><part-link/><group>score</group><group>sound</group></score-part></part-list>`, func(e *etree.Element) { maker(nil).partList(e, &references{}) },
			`<part-list><score-part id="P7"><part-name>Oboe</part-name><group>parts</group></score-part></part-list>`},
		{"other words stay", `<part-list><score-part id="P7"><identification><rights>x</rights></identification></score-part></part-list>`, func(e *etree.Element) { maker(nil).partList(e, &references{}) },
			`<part-list><score-part id="P7"><identification><rights>x</rights></identification><part-name>Oboe</part-name><group>parts</group></score-part></part-list>`},
		{"a score without a list of parts", ``, func(e *etree.Element) { maker(nil).partList(e, &references{}) }, `<part-list><score-part id="P7"><part-name>Oboe</part-name><group>parts</group></score-part></part-list>`},
	} {
		e := element(t, "<score-part>"+row.from+"</score-part>")
		row.do(e)
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, strings.TrimSuffix(strings.TrimSuffix(strings.TrimPrefix(text, "<score-part>"), "</score-part>"), "<score-part/>"), row.why)
	}
}

// Where credits stand, in tenths of a fifth of a millimetre from the left and from the foot: on
// A4 with margins of 15 and 10 mm, a line of a size of print 1.25 times as high, a point of
// 25.4/72 mm. Titles first in the middle, then both sides under them, rights at the foot.
func TestPlacesOfCredits(t *testing.T) {
	t.Parallel()
	c := &crediting{paper: paper{width: 210, height: 297, side: 15, topBottom: 10, staff: 8}, old: page{width: 1000, height: 1400}, left: 10, middle: 10}
	var credits []roled
	for _, row := range []struct{ role, text string }{
		{"rights", `<credit-words font-size="9">Free</credit-words>`}, {"rights", ``}, {"rights", `<credit-words font-size="9">to copy</credit-words>`}, {"title", `<credit-words default-x="3" relative-y="9" justify="left" valign="bottom" font-size="20">A&#10;B</credit-words><credit-words default-y="3">x</credit-words>`},
		{"composer", `<credit-words font-size="12">Anna</credit-words>`}, {"lyricist", `<credit-words>Ben</credit-words>`}, {"subtitle", `<credit-symbol>coda</credit-symbol>`}, {"arranger", `<credit-image source="a.png" height="100"/>`}, {"orchestrator", `<credit-words font-size="12">Cleo</credit-words>`},
		{"", `<credit-words default-x="299">left</credit-words>`}, {"", `<credit-words default-x="701">right</credit-words>`}, {"dedication", `<credit-words>middle</credit-words>`}, {"poet", `<credit-words>Dora</credit-words>`}, {"", ``},
		{"", `<credit-words default-x="300">three tenths</credit-words>`}, {"", `<credit-words default-x="700">seven tenths</credit-words>`},
		{"translator", `<credit-words>Ed</credit-words>`}, {"librettist", `<credit-words>Fay</credit-words>`}, {"transcriber", `<credit-words>Gus</credit-words>`},
	} {
		credits = append(credits, roled{row.role, element(t, "<credit>"+row.text+"</credit>")})
	}
	c.place(credits)
	var got []string
	for _, k := range credits {
		for _, e := range k.element.ChildElements() {
			text := musicxml.Text(e) + musicxml.Attr(e, "source")
			for _, key := range []string{"default-x", "default-y", "justify", "halign", "valign", "relative-y"} {
				text += " " + e.SelectAttrValue(key, "-")
			}
			got = append(got, text)
		}
	}
	assert.Equal(t, []string{
		"Free 525 50 center center bottom -", "to copy 525 69.84 center center bottom -",
		"A\nB 525 1435 center center top -", "x - - - - - -", // two lines of 20 points are 17.64 mm
		"Anna 975 1320.35 right right top -", "Ben 75 1320.35 left left top -", "coda 525 1346.81 center center top -", // 5.29 mm, of 12 points
		"a.png 975 1293.89 - right top -", "Cleo 975 1193.89 right right top -", // the picture is 20 mm high
		"left 75 1293.89 left left top -", "right 975 1167.43 right right top -", "middle 525 1320.35 center center top -", "Dora 75 1267.43 left left top -",
		"three tenths 525 1293.89 center center top -", "seven tenths 525 1267.43 center center top -",
		"Ed 75 1240.97 left left top -", "Fay 75 1214.51 left left top -", "Gus 975 1140.97 right right top -", // a line lower each
	}, got)
}

// What in a part points out of it, with whom it concerns (MusicXML 4.0: play, listening, sync,
// link, image).
func TestReferences(t *testing.T) {
	t.Parallel()
	r := &references{ids: map[string]bool{}, tags: map[string]bool{}}
	r.read(element(t, `<part id="P1"><measure id="m"><note id="n"><pitch><step>C</step></pitch><instrument id="I1"/><play id="I2"/><listen><assess player="1"/><wait player="2"/><other-listen player="3"/></listen></note>`+
		`<direction><direction-type><image source="a.png"/></direction-type><listening><sync player="4"/><other-listening player="5"/><sync/></listening><sound><instrument-change id="I3"/><midi-device id="I4"/><midi-instrument id="I5"/><play/></sound></direction><link href="#n"/></measure></part>`))
	var instruments, players []string
	for _, e := range r.instruments {
		instruments = append(instruments, musicxml.Attr(e, "id"))
	}
	for _, e := range r.players {
		players = append(players, musicxml.Attr(e, "player"))
	}
	assert.Equal(t, []string{"I1", "I2", "I3", "I4", "I5"}, instruments)
	assert.Equal(t, []string{"1", "2", "3", "4", "5"}, players)
	assert.Equal(t, map[string]bool{"P1": true, "m": true, "n": true}, r.ids)
	assert.Len(t, r.links, 1)
	assert.Len(t, r.images, 1)
	assert.True(t, r.tags["step"], "all names are known where somebody asks")
	quick := &references{ids: map[string]bool{}}
	quick.read(element(t, `<part><measure><note><instrument id="I1"/></note><link><x/></link></measure></part>`))
	assert.Len(t, quick.instruments, 1)
	assert.Len(t, quick.links, 1)
}

// element is a piece of MusicXML.
func element(t *testing.T, text string) *etree.Element {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text), text)
	return doc.Root()
}

// The size of the score's page, in millimetres: 7 mm a staff of 40 tenths make a page of 1200 by
// 1600 tenths 210 by 280 mm (MusicXML 4.0, scaling, page-layout); nothing where it is not said.
func TestScorePage(t *testing.T) {
	t.Parallel()
	const page, scaling = `<page-layout><page-height>1600</page-height><page-width>1200</page-width></page-layout>`, `<scaling><millimeters>7</millimeters><tenths>40</tenths></scaling>`
	for text, want := range map[string][]float64{
		scaling + page: {210, 280}, scaling: {0, 0}, page: {0, 0}, "": {0, 0}, `<scaling><millimeters>7</millimeters><tenths>0</tenths></scaling>` + page: {0, 0}, `<scaling><millimeters>7</millimeters></scaling>` + page: {0, 0},
	} {
		defaults := element(t, "<defaults>"+text+"</defaults>")
		old, mm := oldPage(defaults), perTenth(defaults)
		assert.InDeltaSlice(t, want, []float64{old.width * mm, old.height * mm}, 1e-9, text)
	}
}

// Of the score's credits a part has those of the first page, whatever stands before them; page
// numbers and names of parts are the score's own (MusicXML 4.0, credit-type).
func TestKeptCredits(t *testing.T) {
	t.Parallel()
	root := element(t, `<score-partwise><credit page="2"><credit-words>behind</credit-words></credit><credit page="1"><credit-type>page number</credit-type><credit-words>1</credit-words></credit>`+
		`<credit page="1"><credit-type>title</credit-type><credit-words>Suite</credit-words></credit><credit><credit-type>part name</credit-type><credit-words>Oboe</credit-words></credit><credit><credit-type>composer</credit-type><credit-words>Anna</credit-words></credit></score-partwise>`)
	c := &crediting{root: root, maker: &maker{Draft: &draft.Draft{Score: new(survey.Score), Survey: new(survey.Part)}}}
	var kept []string
	for _, k := range c.keep() {
		kept = append(kept, k.role+" "+creditText(k.element))
	}
	assert.Equal(t, []string{"title Suite", "composer Anna"}, kept)
	assert.Empty(t, root.ChildElements())
}
